// What is said between rallies: from what, for how long, in which words.

import assert from "node:assert/strict";
import { test } from "node:test";
import { betweenWords } from "../../shared/between.js";
import { Source } from "../../shared/source.js";
import { initialState, reduce } from "../../shared/state.js";
import { HandClock } from "../support/hand-clock.js";
import { HEADER, held, rally, shot, snapshot, update } from "../support/states.js";

/** On a chart without shots a time-out goes after a minute, the rest after 15 s (overlay/README.md). */
const TIME_OUT_MS = 60_000;
const NOTICE_MS = 15_000;

const fold = (...messages) => messages.reduce(reduce, initialState());
const timeOut = { id: "t1", kind: "time_out", team: "b" };
const end = { entry: "r12e", won_by: "a", how: "out", by: "b" };
const said = (...messages) => betweenWords(fold(...messages).between, HEADER);

for (const [entry, words] of [
  [timeOut, "Time-out, Fenn / Tarrow"],
  [{ ...timeOut, team: "a", medical: true }, "Medical time-out, Quill / Abara"],
  [{ id: "p", kind: "penalty", team: "a" }, "Technical foul, Quill / Abara"],
  [{ id: "p", kind: "replay" }, "Replay"],
  [{ id: "p", kind: "score_fix", points: { a: 1, b: 2 }, serving: "a" }, "Score corrected"],
]) {
  test(`${entry.kind}_${entry.medical ? "medical_" : ""}reads_${words}`, () => {
    assert.equal(said(held("a"), update(42, { entry })), words);
    assert.equal(said(snapshot({ between: entry })), words);
  });
}

for (const entry of [
  { id: "n", kind: "note", text: "wind" },
  { id: "l", kind: "lineup", team: "a" },
  { id: "d", kind: "depth", team: "a", depth: "line" },
]) {
  test(`a_${entry.kind}_says_nothing_and_ends_nothing`, () => {
    assert.equal(said(snapshot(), update(42, { entry })), "");
    assert.equal(said(snapshot(), update(42, { entry: timeOut }), update(43, { entry })), "Time-out, Fenn / Tarrow");
  });
}

test("the_next_shot_and_the_next_end_of_a_rally_end_it", () => {
  const serve = update(43, { entry: { id: "s", kind: "shot" }, rally: { number: 13, shots: [shot(1, "b", "serve")] } });
  assert.equal(said(snapshot(), update(42, { entry: timeOut }), serve), "");
  const over = update(43, { entry: { id: "e", kind: "rally_end" }, rally: { number: 13, shots: [], end } });
  assert.equal(said(snapshot(), update(42, { entry: timeOut }), over), "");
});

test("a_time_out_that_a_correction_takes_back_is_gone", () => {
  assert.equal(
    said(snapshot(), update(42, { entry: timeOut }), snapshot({ seq: 43, revision: 1, reason: "corrected" })),
    "",
  );
});

for (const entry of [
  null,
  7,
  "x",
  {},
  { kind: "time_out" },
  { id: "t", kind: "time_out", team: "c" },
  { id: "w", kind: "weather" },
]) {
  test(`a_host_that_says_${JSON.stringify(entry)}_between_rallies_breaks_nothing`, () => {
    assert.ok(!/undefined|null/.test(said(snapshot({ between: entry }))));
  });
}

/** What is said, `ms` after a time-out on a court where `messages` came before. */
function saidLater(ms, entry, ...messages) {
  const clock = new HandClock();
  let dispatch = (_message) => {};
  const source = new Source((take) => {
    dispatch = take;
    return { start() {}, stop() {}, resync() {} };
  }, clock);
  let shown = null;
  source.subscribe((view) => (shown = view.between));
  for (const message of [...messages, update(42, { entry })]) dispatch(message);
  clock.pass(ms);
  return shown === null ? "" : shown.kind;
}

const scoresAlone = snapshot({ rally: { number: 12, shots: [], end, earlier: [] } });

test("where_no_shots_are_charted_it_lapses_by_itself_else_it_waits_for_play", () => {
  assert.equal(saidLater(TIME_OUT_MS - 1, timeOut, scoresAlone), "time_out");
  assert.equal(saidLater(TIME_OUT_MS, timeOut, scoresAlone), "");
  assert.equal(saidLater(NOTICE_MS, { id: "f", kind: "score_fix" }, scoresAlone), "");
  assert.equal(saidLater(20 * TIME_OUT_MS, timeOut, snapshot({ rally: rally() })), "time_out");
  assert.equal(saidLater(5 * TIME_OUT_MS, { ...timeOut, medical: true }, scoresAlone), "time_out");
});
