// The load model against the published operators and examples worked by hand.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import {
  OPERATORS,
  SECONDS_A_BIT,
  SIMULATED,
  bitsOf,
  cueWork,
  depthWork,
  loadOf,
  secondsOf,
  strokeWork,
  together,
  ways,
} from "../../practice/load.js";
import { README, withTable } from "../support/load-table.js";

/** @param {number} value @param {number} expected */
const near = (value, expected) => assert.ok(Math.abs(value - expected) < 1e-9, `${value}, not ${expected}`);

test("operators are those of Card, Moran & Newell 1980, as a table of 1983 that others reprint has them", () => {
  assert.deepEqual(Object.values(OPERATORS.K), [0.08, 0.12, 0.2, 0.28, 1.2]);
  assert.deepEqual([OPERATORS.P, OPERATORS.H, OPERATORS.M], [1.1, 0.4, 1.35]);
});

test("pointing, preparing and a click are 2.73 s, as a paper that applied the model has it (CiteSeer, contexts of Card et al. 1980)", () => {
  near(OPERATORS.P + OPERATORS.M + OPERATORS.K.usual, 2.73);
});

test("so many equally likely things are so many bits (Hyman 1953: 1 to 8 alternatives, 0 to 3 bits)", () => {
  for (const [things, bits] of [
    [1, 0],
    [2, 1],
    [4, 2],
    [8, 3],
  ])
    near(bitsOf(Array.from({ length: things }, () => 5)), bits);
});

test("unequal ones are fewer: a half, a quarter and two eighths are 1.75 bits, by hand", () => {
  near(bitsOf([4, 2, 1, 1]), 0.5 * 1 + 0.25 * 2 + 2 * 0.125 * 3);
});

test("a shot worked by hand: one key of four equally likely ones takes 0.28 + 2 × 0.15 s", () => {
  const work = { keys: 1, bits: bitsOf([1, 1, 1, 1]) };
  near(secondsOf(work), 0.58);
  near(secondsOf(work, OPERATORS.K.skilled), 0.5);
  near(loadOf(work), 0.58 * 1.018);
  assert.equal(SECONDS_A_BIT, 0.15);
});

test("with few strokes the decision is between five keys, by hand from the simulated counts", () => {
  const auto = 729 + 1219;
  const dink = 1468 + 328 + 110;
  const drop = 562 + 22 + 10;
  const reset = 334 + 116 + 59 + 5;
  const other = 460 + 373 + 205 + 123 + 150 + 115 + 35 + 3 + 2;
  const decided = auto + dink + drop + reset + other;
  assert.equal(decided, 7130 - 702, "every shot but the returns, which come along");
  const { keys, bits } = strokeWork("few");
  near(keys, decided / 7130);
  near(bits, (bitsOf([auto, dink, drop, reset, other]) * decided) / 7130);
});

test("few strokes are less than every stroke, a second person less than either, and sums are sums", () => {
  const [all, few, cues] = [strokeWork("all"), strokeWork("few"), cueWork()];
  assert.ok(few.bits < all.bits && few.keys <= all.keys);
  const seat = together([cues, depthWork()]);
  assert.ok(loadOf(seat) < loadOf(few));
  near(loadOf(together([all, cues])), loadOf(all) + loadOf(cues));
  near(cues.keys, (723 + 592 + 451 + 77) / 7130);
  assert.equal(
    SIMULATED.shots.reduce((sum, [, , count]) => sum + count, 0),
    7130,
  );
  assert.deepEqual(new Set(ways().map(({ who }) => who)).size, ways().length);
});

test("the table of the README is the one that is reckoned", () => {
  const text = readFileSync(README, "utf8");
  assert.equal(withTable(text), text, "npm run load-table writes it anew");
});
