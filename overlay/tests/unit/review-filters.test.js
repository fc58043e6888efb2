// The review's figures: what they count, and that each opens exactly its rallies.

import assert from "node:assert/strict";
import { test } from "node:test";
import { depthOfReview, isWished, readWish, totalsOf } from "../../review/filters.js";

/** A counted rally with one shot, won by `won`, with pressed spells of these teams. */
const rally = (number, won, spells, more = {}) => ({
  number,
  counted: true,
  before: { game: 1, serving: "a" },
  end: { won_by: won, how: "winner", by: won },
  shots: [{ stroke: "serve" }],
  spells: spells.map(([team, outcome]) => ({ team, outcome, pressed: true })),
  ...more,
});

const RALLIES = [
  rally(1, "a", [["a", "won"]]),
  rally(2, "b", [["a", "lost"]]),
  rally(3, "a", []),
  rally(4, "b", [["b", "recovered"]], { counted: false }),
  rally(5, "a", [], { shots: [] }),
  rally(6, "b", [
    ["a", "recovered"],
    ["a", "lost"],
  ]),
];

const figure = (key) => totalsOf(RALLIES).find((total) => total.key === key);
const shown = (asked) => {
  const wish = readWish(new URLSearchParams({ figure: asked }));
  return RALLIES.filter((one) => isWished(one, wish)).map(({ number }) => number);
};

test("rallies_under_pressure_and_otherwise_lead_and_count_only_rallies_with_a_shot", () => {
  const [first, second] = totalsOf(RALLIES);
  assert.deepEqual([first.label, second.label], ["Rallies won under pressure", "… otherwise"]);
  assert.deepEqual(
    [first.a, second.a],
    [
      { part: 1, whole: 3 },
      { part: 1, whole: 1 },
    ],
  );
  assert.deepEqual(
    [first.b, second.b],
    [
      { part: 0, whole: 0 },
      { part: 2, whole: 4 },
    ],
  );
});

test("each_figure_opens_exactly_its_rallies", () => {
  assert.deepEqual(shown("pressed-a-whole"), [1, 2, 6]);
  assert.deepEqual(shown("pressed-a-part"), [1]);
  assert.deepEqual(shown("otherwise-b-part"), [2, 6]);
  assert.deepEqual(shown("all-a-part"), [1, 3, 5]);
  for (const { key, a, b } of totalsOf(RALLIES)) {
    if (key === "escape") continue;
    for (const [team, share] of Object.entries({ a, b })) {
      assert.equal(shown(`${key}-${team}-part`).length, share.part, `${key} ${team}`);
      assert.equal(shown(`${key}-${team}-whole`).length, share.whole, `${key} ${team}`);
    }
  }
});

test("spells_out_of_pressure_open_the_rallies_that_hold_them", () => {
  assert.deepEqual(figure("escape").a, { part: 2, whole: 4 });
  assert.deepEqual(shown("escape-a-whole"), [1, 2, 6]);
  assert.deepEqual(shown("escape-a-part"), [1, 6]);
});

test("what_is_no_figure_asks_for_nothing", () => {
  assert.equal(shown("luck-a-part").length, RALLIES.length);
});

test("the_depth_of_charting_is_told_from_shots_serves_and_ends", () => {
  const bare = (how) => rally(1, "a", [], { shots: [], end: { won_by: "a", how, by: null } });
  assert.equal(depthOfReview({ rallies: [] }), null);
  assert.equal(depthOfReview({ rallies: [bare(null), bare("unknown")] }), "score");
  assert.equal(depthOfReview({ rallies: [bare(null), bare("out")] }), "ends");
  const last = rally(2, "b", [], { shots: [{ stroke: "volley" }] });
  assert.equal(depthOfReview({ rallies: [last, last] }), "ends");
  assert.equal(depthOfReview({ rallies: RALLIES }), "shots");
});
