// Sets of practice: marks of the second seat judged by the cues page's own matching, and when
// few strokes are recommended. Expectations by hand.
import assert from "node:assert/strict";
import test from "node:test";
import { TOO_LATE_S, TOO_MANY_WRONG, fewWords, keepSet, lastSetsWords } from "../../practice/last-sets.js";
import { judge, momentsOf, sumOf } from "../../practice/marks.js";
import { fixingAdvice, seatAdvice, verdictWords } from "../../practice/words.js";

const SHOTS = [
  { team: "a", stroke: "serve", contact: null, cues: [], at: 0, player: null },
  { team: "b", stroke: "return", contact: "bounce", cues: ["off_balance"], at: 1500, player: null },
  { team: "a", stroke: "drop", contact: "bounce", cues: ["attackable"], at: 3000, player: null },
  { team: "b", stroke: "volley", contact: "air", cues: [], at: 4500, player: null },
];
const timeOf = (ms) => 60_000 + ms;
const MOMENTS = momentsOf(SHOTS, timeOf, 1, 5400);
const SEEN = { 1: 1500, 2: 3500 };
const seenAt = (place) => timeOf(SEEN[place]);
/** The strokes come 0.6 s late, these marks 0.5 s after what they mark. */
const SHIFT = 100;
const judged = (...marks) =>
  judge(
    SHOTS,
    seenAt,
    marks.map(([team, cue, ms]) => ({ team, cue, at: timeOf(ms) })),
    MOMENTS,
    SHIFT,
  );

test("a mark belongs to the nearest shot of its side, and is right where that one has the cue", () => {
  const { due, extra } = judged(["b", "off_balance", 2000], ["a", "attackable", 4000]);
  assert.deepEqual(
    due.map(({ place, mark }) => [place, mark?.cue]),
    [
      [1, "off_balance"],
      [2, "attackable"],
    ],
  );
  assert.deepEqual(extra, []);
  assert.deepEqual(sumOf([{ due, extra }]), {
    due: 2,
    right: 2,
    missed: 0,
    extra: 0,
    lag: { median: 0.5, worst: 0.5 },
  });
});

test("another cue, the other side, the same one twice and one too late are marks of nothing", () => {
  const { due, extra } = judged(
    ["b", "awkward", 2000],
    ["a", "off_balance", 2000],
    ["a", "attackable", 4000],
    ["a", "attackable", 4100],
    ["b", "off_balance", 30_000],
  );
  assert.deepEqual(
    due.map(({ mark }) => mark !== null),
    [false, true],
  );
  assert.deepEqual(
    extra.map(({ mark, place }) => [mark.cue, place]),
    [
      ["awkward", 1],
      // Looked for at 2.1 s: a's serve was recorded at 0.7 s, its drop at 3.7 s.
      ["off_balance", 0],
      ["attackable", 2],
      ["off_balance", null],
    ],
  );
  const { right, missed, extra: count } = sumOf([{ due, extra }]);
  assert.deepEqual([right, missed, count], [1, 1, 4]);
});

test("without a mark there is no lag", () => {
  assert.deepEqual(sumOf([judged()]), { due: 2, right: 0, missed: 2, extra: 0, lag: null });
});

test("the verdict of a set of cues sends on, back, or says what to mind", () => {
  const sum = (right, extra, median) => ({ due: 10, right, missed: 10 - right, extra, lag: { median, worst: 2 } });
  assert.match(seatAdvice(sum(10, 0, 0.7), 0.6), /^You keep up: try 0.75/);
  assert.match(seatAdvice(sum(5, 0, 0.7), 0.6), /^Try 0.5/);
  assert.match(seatAdvice(sum(8, 1, 0.7), 0.6), /^Mark only what you are sure of/);
});

test("the verdict of a mistake says how many keys it took and how many are enough", () => {
  const one = { kind: "stroke", fixed: true, keys: 3, fewest: 3, seconds: 2.04, shown: false };
  assert.equal(verdictWords(one), "3 keys, as few as can be, 2.0 s");
  assert.equal(verdictWords({ ...one, keys: 7 }), "7 keys, 3 are enough, 2.0 s");
  assert.equal(
    verdictWords({ ...one, kind: "server", fewest: 0, shown: true }),
    "in the score dialog, 2.0 s, the keys looked up",
  );
  assert.equal(verdictWords({ ...one, fixed: false }), "skipped");
  assert.equal(fixingAdvice([one, { ...one, keys: 5 }]), "You know how to fix all of these.");
  assert.equal(fixingAdvice([one, { ...one, kind: "side", keys: 6 }]), "Practice next: wrong side");
});

/** Storage as a browser has it, in memory. */
function storage() {
  const kept = new Map();
  return { getItem: (name) => kept.get(name) ?? null, setItem: (name, text) => void kept.set(name, text) };
}
const set = (shots, wrong, median) => ({
  shots,
  right: shots - wrong,
  found: { missed: wrong, extra: 0, stroke: 0 },
  lag: { median, worst: 4, of: shots },
});

test("few strokes are recommended after two sets in a row that were too much, by mistakes or by lag", () => {
  for (const [sets, recommended] of [
    [[], false],
    [[set(50, 10, 0.5)], false],
    [[set(50, 10, 0.5), set(50, 10, 0.5)], true],
    [[set(50, 10, 0.5), set(50, 9, 0.5)], false],
    [[set(50, 0, TOO_LATE_S), set(50, 50 * TOO_MANY_WRONG, 0.5)], true],
    [[set(50, 10, 0.5), set(50, 10, 0.5), set(50, 0, 0.5)], false],
    [[set(19, 19, 5), set(19, 19, 5)], false],
  ]) {
    const kept = storage();
    for (const one of sets) keepSet(kept, one, true);
    assert.equal(fewWords(kept, "all") !== "", recommended, JSON.stringify(sets));
    assert.equal(fewWords(kept, "few"), "", "not where they are in use");
  }
});

test("sets with few strokes, results or scores alone speak for nothing, but are remembered", () => {
  const kept = storage();
  for (const _ of [1, 2, 3]) keepSet(kept, set(50, 25, 3), false);
  assert.equal(fewWords(kept, "all"), "");
  assert.equal(lastSetsWords(kept), "Your last sets, shots right: 25 of 50 · 25 of 50 · 25 of 50");
});
