/**
 * The effective chart: every kind of correction, and corrections of corrections.
 *
 * These rules are this program's own; there is no published standard for them. The results were
 * worked out by hand.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { ChartError, parseChart } from "./chart.mjs";
import { chartText, effectiveOf, headerFor } from "./chart-words.mjs";

const note = (text, more = {}) => ({ kind: "note", text, ...more });
const retract = (target) => ({ kind: "retract", target });
const amend = (target, text) => ({ kind: "amend", target, with: note(text) });
const insert = (after, text) => ({ kind: "insert", after, entry: note(text) });

/** Entries get the ids `e1`, `e2`, … in file order; compares the texts that remain. */
function leaves(contents, expected) {
  assert.equal(
    effectiveOf(contents)
      .map(({ entry }) => entry.text)
      .join(" "),
    expected,
  );
}

test("a_retracted_entry_is_gone", () => leaves([note("A"), note("B"), retract("e1")], "B"));

test("retracting_a_retract_brings_the_entry_back", () => leaves([note("A"), retract("e1"), retract("e2")], "A"));

test("retracting_the_retract_of_a_retract_takes_it_away_again", () =>
  leaves([note("A"), retract("e1"), retract("e2"), retract("e3")], ""));

test("of_two_retracts_of_one_entry_undoing_one_leaves_the_other", () =>
  leaves([note("A"), retract("e1"), retract("e1"), retract("e3")], ""));

test("the_latest_amend_in_force_decides", () => leaves([note("A"), amend("e1", "B"), amend("e1", "C")], "C"));

test("retracting_the_latest_amend_lets_the_one_before_decide", () =>
  leaves([note("A"), amend("e1", "B"), amend("e1", "C"), retract("e3")], "B"));

test("an_amend_after_a_retract_brings_the_entry_back_as_amended", () =>
  leaves([note("A"), retract("e1"), amend("e1", "B")], "B"));

test("retracting_that_amend_lets_the_retract_decide_again", () =>
  leaves([note("A"), retract("e1"), amend("e1", "B"), retract("e3")], ""));

test("an_insert_stands_immediately_after_what_it_names", () =>
  leaves([note("A"), note("B"), insert("e1", "C")], "A C B"));

test("of_several_inserts_with_the_same_after_the_later_stands_nearer", () =>
  leaves([note("A"), note("B"), insert("e1", "C"), insert("e1", "D")], "A D C B"));

test("inserts_after_nothing_stand_before_the_first_entry_the_later_first", () =>
  leaves([note("A"), insert(null, "B"), insert(null, "C")], "C B A"));

test("an_insert_after_an_insert_keeps_to_it", () =>
  leaves([note("A"), insert("e1", "B"), insert("e2", "C"), insert("e1", "D")], "A D B C"));

test("an_insert_after_a_retracted_entry_stands_where_that_stood", () =>
  leaves([note("A"), note("B"), note("C"), retract("e2"), insert("e2", "D")], "A D C"));

test("retracting_an_insert_removes_what_it_inserted_but_not_what_stands_after_it", () =>
  leaves([note("A"), insert("e1", "B"), insert("e2", "C"), retract("e2")], "A C"));

test("an_inserted_entry_can_be_amended_retracted_and_brought_back", () => {
  const inserted = [note("A"), insert("e1", "B"), amend("e2", "C")];
  leaves(inserted, "A C");
  leaves([...inserted, retract("e2")], "A");
  leaves([...inserted, retract("e2"), amend("e2", "D")], "A D");
  leaves([...inserted, retract("e3")], "A B");
});

test("an_amended_entry_keeps_id_time_and_seq_and_an_inserted_one_takes_those_of_its_insert", () => {
  const [first, second] = effectiveOf([note("A"), amend("e1", "B"), insert("e1", "C")]);
  assert.deepEqual([first.id, first.seq, first.at.slice(17, 19), first.inserted], ["e1", 1, "00", false]);
  assert.deepEqual([second.id, second.seq, second.at.slice(17, 19), second.inserted], ["e3", 3, "02", true]);
});

test("where_every_entry_has_seq_that_order_counts", () => {
  leaves([note("A", { seq: 2 }), note("B", { seq: 1 })], "B A");
});

test("a_mixture_of_entries_with_and_without_seq_is_refused", () => {
  const text = chartText(headerFor(), [note("A", { seq: 1 }), note("B")]);
  assert.throws(() => parseChart(text), ChartError);
});

test("the_same_entry_again_counts_once_and_another_one_with_its_id_is_refused", () => {
  const at = "2025-01-01T00:00:00.000Z";
  const once = note("A", { id: "x", at });
  leaves([once, once], "A");
  assert.throws(() => effectiveOf([once, note("B", { id: "x", at })]), ChartError);
});

test("a_correction_that_names_nothing_or_the_wrong_thing_is_refused", () => {
  for (const contents of [
    [note("A"), retract("e9")],
    [note("A"), retract("e3"), note("B")],
    [note("A"), retract("e1"), amend("e2", "B")],
    [note("A"), retract("e1"), insert("e2", "B")],
  ])
    assert.throws(() => effectiveOf(contents), ChartError);
});
