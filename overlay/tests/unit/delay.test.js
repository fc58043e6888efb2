// What is held back for a delayed video: everything, in order, to the millisecond.

import assert from "node:assert/strict";
import { test } from "node:test";
import { DelayLine, parseDelay } from "../../shared/delay.js";
import { Source } from "../../shared/source.js";
import { HandClock } from "../support/hand-clock.js";
import { SCORE, snapshot, update } from "../support/states.js";

const LIVE = { type: "connection", connection: { phase: "live", attempt: 0, message: "" } };
const called = (call) => ({ score: { ...SCORE, call } });

/** A delayed source, its hand-moved clock, and what its line was asked. */
function delayed(delayMs) {
  const clock = new HandClock();
  const line = { resyncs: 0, position: () => null, say: () => {} };
  const source = new Source(
    (dispatch, position) => {
      Object.assign(line, { say: dispatch, position });
      return { start() {}, stop() {}, resync: () => (line.resyncs += 1) };
    },
    clock,
    delayMs,
  );
  const shown = [];
  const leave = source.subscribe((view) => shown.push({ at: clock.time, call: view.score?.call ?? null }));
  const calls = () => shown.filter(({ call }, at) => call !== (shown[at - 1]?.call ?? null));
  return { clock, line, source, calls, leave };
}

test("snapshots_updates_and_corrections_are_shown_exactly_the_delay_later", () => {
  const { clock, line, calls } = delayed(2500);
  line.say(LIVE);
  line.say(snapshot(called("1-0-1")));
  clock.pass(1000);
  line.say(update(42, called("2-0-1")));
  clock.pass(700);
  line.say(snapshot({ seq: 43, revision: 1, reason: "corrected", ...called("1-1-1") }));
  clock.pass(10_000);
  assert.deepEqual(calls(), [
    { at: 2500, call: "1-0-1" },
    { at: 3500, call: "2-0-1" },
    { at: 4200, call: "1-1-1" },
  ]);
});

test("nothing_is_shown_a_millisecond_early", () => {
  const { clock, line, source } = delayed(2500);
  line.say(snapshot());
  clock.pass(2499);
  assert.equal(source.view.score, null);
  clock.pass(1);
  assert.equal(source.view.score.call, "5-3-1");
});

test("a_lost_connection_is_shown_with_the_pictures_it_belongs_to", () => {
  const { clock, line, source } = delayed(2000);
  line.say(LIVE);
  clock.pass(2000);
  line.say({ type: "connection", connection: { phase: "lost", attempt: 1, message: "" } });
  clock.pass(1999);
  assert.equal(source.view.connection.phase, "live");
  clock.pass(1);
  assert.equal(source.view.connection.phase, "lost");
});

test("resuming_goes_by_what_came_and_not_by_what_is_shown", () => {
  const { line } = delayed(2500);
  line.say(snapshot());
  line.say(update(42, {}));
  assert.deepEqual(line.position(), { seq: 42, match: "invented" });
});

test("an_update_that_does_not_follow_is_asked_about_at_once", () => {
  const { line } = delayed(2500);
  line.say(snapshot());
  line.say(update(42, { revision: 3 }));
  assert.equal(line.resyncs, 1);
});

test("what_was_never_shown_is_asked_for_again_after_a_rest", () => {
  const { clock, line, leave } = delayed(2500);
  line.say(snapshot());
  clock.pass(2500);
  line.say(update(42, {}));
  leave();
  assert.deepEqual(line.position(), { seq: 41, match: "invented" });
  assert.equal(clock.waiting, 0);
});

test("without_a_delay_no_timer_is_set", () => {
  const clock = new HandClock();
  const passed = [];
  new DelayLine(0, clock, (action) => passed.push(action)).put(LIVE);
  assert.deepEqual(passed, [LIVE]);
  assert.equal(clock.waiting, 0);
});

test("a_timer_that_comes_early_lets_nothing_out", () => {
  let now = 0;
  let ring = () => {};
  const passed = [];
  const line = new DelayLine(100, { now: () => now, after: (_ms, run) => ((ring = run), () => {}) }, (action) =>
    passed.push(action),
  );
  line.put(LIVE);
  now = 99.6;
  ring();
  assert.equal(passed.length, 0);
  now = 100;
  ring();
  assert.equal(passed.length, 1);
});

for (const [text, expected] of [
  ["2.5s", 2500],
  ["0s", 0],
  [" 40ms ", 40],
  ["300s", 300_000],
  ["300.1s", null],
  ["2,5s", null],
  ["2.5", null],
  ["-1s", null],
  ["1e3ms", null],
  ["", null],
]) {
  test(`delay_\`${text}\`_is_${expected}`, () => assert.equal(parseDelay(text), expected));
}
