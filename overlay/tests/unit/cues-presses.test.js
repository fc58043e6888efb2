// What becomes of a key that was pressed, entry by entry.

import assert from "node:assert/strict";
import { test } from "node:test";
import { advance, lastPress, noted, saidLate, undone } from "../../cues/presses.js";
import { timelineOf } from "../../cues/timeline.js";

const AT = Date.UTC(2026, 4, 2, 10);
const at = (second) => new Date(AT + second * 1_000).toISOString();
const shot = (id, team, second) => ({ id, at: at(second), kind: "shot", team, stroke: "dink" });
const end = (id, second) => ({ id, at: at(second), kind: "rally_end", won_by: "a" });
const press = (more) => ({
  match: "m",
  place: 0,
  kind: "cue",
  what: "awkward",
  team: "a",
  at: AT + 10_000,
  state: "waiting",
  lost: false,
  entry: null,
  anchor: null,
  unsent: [],
  ...more,
});

function context(entries, more = {}) {
  let id = 0;
  return {
    timeline: timelineOf(entries.map((entry, place) => ({ ...entry, seq: place + 1 }))),
    shift: 0,
    now: AT + 12_000,
    over: false,
    nextId: () => `n${(id += 1)}`,
    ...more,
  };
}

/** What is said to the host, without times. */
const said = (step) => step?.entries.map(({ at: _, ...entry }) => entry) ?? null;
const CUE = { kind: "cue", cue: "awkward", shot: "a1" };

test("a_cue_is_marked_on_its_shot_while_that_is_the_latest_and_put_in_behind_it_later", () => {
  assert.equal(advance(press(), context([])), null, "it waits");
  assert.deepEqual(said(advance(press(), context([shot("a1", "a", 10)]))), [{ id: "n1", ...CUE }]);
  const later = [shot("a1", "a", 10), shot("b1", "b", 11)];
  const put = [{ id: "n1", kind: "insert", after: "a1", entry: CUE }];
  assert.deepEqual(said(advance(press(), context(later))), put);
  assert.deepEqual(said(advance(press(), context([shot("a1", "a", 10), end("e1", 11)]))), put);
  assert.deepEqual(said(advance(press(), context([shot("a1", "a", 10)], { over: true }))), put);
  assert.equal(advance(press(), context([shot("a1", "a", 10)])).entries[0].at, at(10), "the time it was seen");
});

test("a_cue_that_another_stroke_overtook_on_the_way_is_put_in_its_place", () => {
  const sent = press({ state: "sent", entry: "c1", anchor: "a1" });
  const cue = { id: "c1", at: at(10), ...CUE };
  const right = [shot("a1", "a", 10), cue, shot("b1", "b", 11)];
  assert.equal(advance(sent, context(right)), null);
  const overtaken = [shot("a1", "a", 10), shot("b1", "b", 11), cue];
  assert.equal(advance({ ...sent, unsent: [cue] }, context(overtaken)), null, "not before the host has it");
  const moved = advance(sent, context(overtaken));
  assert.deepEqual(said(moved), [
    { id: "n2", kind: "retract", target: "c1" },
    { id: "n1", kind: "insert", after: "a1", entry: CUE },
  ]);
  assert.deepEqual([moved.press.entry, moved.press.anchor], ["n1", "a1"]);
});

test("a_cue_goes_with_its_side_where_the_shot_was_taken_back_or_turned", () => {
  const sent = press({ state: "sent", entry: "c1", anchor: "a1" });
  const cue = { id: "c1", at: at(10), ...CUE };
  const redone = [
    shot("a1", "a", 10),
    cue,
    { id: "r1", at: at(11), kind: "retract", target: "a1" },
    shot("a2", "a", 11),
  ];
  assert.deepEqual(said(advance(sent, context(redone))).at(-1), {
    id: "n1",
    kind: "insert",
    after: "a2",
    entry: { ...CUE, shot: "a2" },
  });
  const gone = [...redone.slice(0, 3), shot("b1", "b", 30)];
  const lost = advance(sent, context(gone));
  assert.deepEqual([lost.press.lost, lost.entries], [true, []]);
});

test("a_cue_whose_shot_never_came_is_lost_until_somebody_charts_it", () => {
  const lost = advance(press(), context([shot("b1", "b", 20)]));
  assert.deepEqual([lost.press.state, lost.press.lost, lost.entries], ["waiting", true, []]);
  assert.equal(advance(lost.press, context([shot("b1", "b", 20)])), null, "said once");
  const inserted = {
    id: "i1",
    at: at(40),
    kind: "insert",
    after: null,
    entry: { kind: "shot", team: "a", stroke: "dink" },
  };
  assert.equal(advance(lost.press, context([shot("b1", "b", 11), inserted])).press.anchor, "i1");
  const { press: kept, entries } = noted(lost.press, "seen", context([]));
  assert.deepEqual([kept.state, entries[0].kind, entries[0].text], ["noted", "note", "seen"]);
  const sent = noted({ ...lost.press, entry: "c1" }, "seen", context([])).entries[0];
  assert.deepEqual([sent.kind, sent.target, sent.with], ["amend", "c1", { kind: "note", text: "seen" }]);
});

test("a_depth_stands_behind_the_stroke_it_was_seen_after", () => {
  const depth = press({ kind: "depth", what: "line" });
  const content = { kind: "depth", team: "a", depth: "line" };
  assert.deepEqual(said(advance(depth, context([shot("a1", "a", 9)]))), [{ id: "n1", ...content }]);
  const later = [shot("a1", "a", 9), shot("b1", "b", 11)];
  assert.deepEqual(said(advance(depth, context(later))), [{ id: "n1", kind: "insert", after: "a1", entry: content }]);
  assert.equal(advance(depth, context([shot("a1", "a", 9)], { now: AT + 10_100 })), null);
});

test("undo_takes_back_the_last_press_that_stands", () => {
  const presses = [press(), press({ place: 1, state: "sent", entry: "c1" }), press({ place: 2, state: "undone" })];
  assert.equal(lastPress(presses).place, 1);
  assert.deepEqual(said(undone(presses[1], context([]))), [{ id: "n1", kind: "retract", target: "c1" }]);
  assert.deepEqual(said(undone(presses[0], context([]))), [], "nothing was said yet");
});

test("what_the_end_of_the_match_overtook_is_put_in_instead", () => {
  const sent = press({ state: "sent", entry: "c1", anchor: "a1" });
  const late = saidLate(sent, context([shot("a1", "a", 10), end("e1", 11)]));
  assert.deepEqual(said(late), [{ id: "n1", kind: "insert", after: "a1", entry: CUE }]);
  assert.equal(saidLate(sent, context([])), null);
});
