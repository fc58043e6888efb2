// A fix left alone is over after two seconds, and every key begins them anew.
import assert from "node:assert/strict";
import test from "node:test";
import { Lapse } from "../../shared/charting/lapse.js";
import { freshState } from "../../shared/charting/recorder.js";
import { modeWord } from "../../shared/charting/words.js";
import { HandClock } from "../support/hand-clock.js";

const fixing = { ...freshState(), selected: "s1" };

test("a fix left alone ends after two seconds, not before", () => {
  const clock = new HandClock();
  let ended = 0;
  const lapse = new Lapse(() => (ended += 1), clock);
  lapse.watch(fixing);
  clock.pass(1_500);
  lapse.watch(fixing);
  clock.pass(1_900);
  assert.equal(ended, 0, "another key began the two seconds anew");
  clock.pass(100);
  assert.equal(ended, 1);
});

test("nothing ends where nothing is being fixed, or not any more", () => {
  const clock = new HandClock();
  let ended = 0;
  const lapse = new Lapse(() => (ended += 1), clock);
  lapse.watch({ ...freshState(), armed: "out" });
  clock.pass(10_000);
  lapse.watch(fixing);
  lapse.watch(freshState());
  clock.pass(10_000);
  assert.equal(ended, 0);
});

test("every state in which a key means something else has a word of its own", () => {
  const of = (/** @type {Partial<ReturnType<typeof freshState>>} */ more) => modeWord({ ...freshState(), ...more });
  assert.equal(of({}), "");
  const words = [
    of({ selected: "s1" }),
    of({ selected: "s1", inserting: true }),
    of({ armed: "out" }),
    of({ armed: "time_out" }),
    of({ armed: "replay" }),
    of({ before: true }),
    of({ sameSide: true }),
    of({ sameSide: true, away: true }),
  ];
  assert.equal(new Set(words).size, 8);
  assert.ok(!words.includes(""));
});
