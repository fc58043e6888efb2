// Playing a recording: order, pace, and what is said of a broken file.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { Recording, parseRecording } from "../../shared/recorded.js";
import { initialState, reduce } from "../../shared/state.js";
import { HandClock } from "../support/hand-clock.js";

const THREE = [0, 1000, 2500].map((at_ms, n) => JSON.stringify({ at_ms, message: { type: "beat", n } })).join("\n");

/** @import { Action } from "../../types/view.js" */

/** @param {string} text @param {number} pace */
async function played(text, pace) {
  const clock = new HandClock();
  /** @type {Action[]} */
  const actions = [];
  const recording = new Recording(
    "r.jsonl",
    pace,
    (action) => actions.push(action),
    clock,
    async () => text,
  );
  await recording.start();
  return {
    clock,
    recording,
    beats: () => actions.filter((one) => one.type === "beat").length,
    connection: () => actions.flatMap((one) => (one.type === "connection" ? [one.connection] : [])).at(-1),
  };
}

test("at_pace_one_messages_come_at_their_times", async () => {
  const { clock, beats } = await played(THREE, 1);
  assert.equal(beats(), 1);
  clock.pass(999);
  assert.equal(beats(), 1);
  clock.pass(1);
  assert.equal(beats(), 2);
  clock.pass(1500);
  assert.equal(beats(), 3);
});

test("at_pace_two_they_come_twice_as_fast", async () => {
  const { clock, beats } = await played(THREE, 2);
  clock.pass(500);
  assert.equal(beats(), 2);
});

test("at_pace_zero_they_come_at_once", async () => {
  const { clock, beats } = await played(THREE, 0);
  assert.equal(beats(), 3);
  assert.equal(clock.waiting, 0);
});

test("stopping_stops", async () => {
  const { clock, recording, beats } = await played(THREE, 1);
  recording.stop();
  clock.pass(10_000);
  assert.equal(beats(), 1);
});

for (const [what, text, said] of /** @type {[string, string, RegExp][]} */ ([
  ["an_empty_file", "\n", /empty/],
  ["no_json", `${THREE}\n{`, /line 4 is not JSON/],
  ["no_message", '{"at_ms":0}', /line 1 has no `message`/],
  [
    "time_going_back",
    `${THREE}\n{"at_ms":5,"message":{"type":"beat"}}`,
    /line 4: `at_ms` is `5`, allowed is a number from 2500 on/,
  ],
])) {
  test(`${what}_is_refused_with_its_line`, async () => {
    const { connection } = await played(text, 1);
    assert.equal(connection()?.phase, "failed");
    assert.match(connection()?.message ?? "", said);
  });
}

test("the_sample_plays_to_its_end_with_nothing_ignored", () => {
  const text = readFileSync(new URL("../../samples/invented-match.jsonl", import.meta.url), "utf8");
  const end = parseRecording(text).reduce((state, line) => reduce(state, line.message), initialState());
  assert.equal(end.ignored, 0);
  assert.equal(end.outOfStep, false);
  assert.equal(end.score?.winner, "a");
  assert.equal(end.revision, 1);
});
