// A cue finds the shot it was seen at, although the two people are differently late.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { ClockOffset, matchOf, placeOf, shiftOf } from "../../cues/matching.js";
import { twoPeople } from "../support/two-people.js";

const shot = (id, team, at) => ({ id, kind: "shot", team, stroke: "dink", player: null, at, rally: 1, n: 1 });
const end = (id, at) => ({ id, kind: "end", team: null, stroke: "", player: null, at, rally: 1, n: 0 });

/**
 * Each cue is matched with what had been recorded by then, as on the page.
 * @returns {{ right: number, all: number }}
 */
function played({ moments, presses }) {
  let right = 0;
  for (const [at, press] of presses.entries()) {
    const marked = presses.slice(0, at + 1);
    for (let now = press.at; now < press.at + 15_000; now += 100) {
      const recorded = moments.filter((one) => one.at <= now && one.at > now - 120_000);
      const { shot: found, final } = matchOf(press, recorded, shiftOf(marked, recorded));
      if (!final) continue;
      if (found?.id === press.about) right += 1;
      break;
    }
  }
  return { right, all: presses.length };
}

describe("at least 95 of 100 cues find their shot", () => {
  for (const [what, habits] of [
    ["strokes_as_late_as_cues", { strokes: 500, strokesSpread: 120, cues: 550, cuesSpread: 120 }],
    ["strokes_a_second_late", { strokes: 1000, strokesSpread: 250, cues: 500, cuesSpread: 150 }],
    ["strokes_a_second_and_a_half_late", { strokes: 1500, strokesSpread: 250, cues: 500, cuesSpread: 150 }],
    ["cues_later_than_strokes", { strokes: 300, strokesSpread: 100, cues: 900, cuesSpread: 200 }],
  ])
    test(what, () => {
      for (const seed of [1, 2, 3]) {
        const { right, all } = played(twoPeople(seed, habits));
        assert.ok(all > 80, `only ${all} cues`);
        assert.ok(right / all >= 0.95, `seed ${seed}: ${right} of ${all}`);
      }
    });
});

test("the_shift_is_learned_from_the_cues_themselves", () => {
  const { moments, presses } = twoPeople(5, { strokes: 1400, strokesSpread: 200, cues: 500, cuesSpread: 100 });
  assert.ok(Math.abs(shiftOf(presses, moments) - 900) <= 150);
  assert.equal(shiftOf([], moments), 400, "the usual one, as long as nothing is known");
});

describe("a cue waits until no shot to come can be nearer", () => {
  const press = { team: "a", at: 10_000 };
  for (const [what, moments, expected] of [
    ["no_shot_yet", [], [null, false]],
    ["a_shot_of_the_other_side", [shot("b1", "b", 10_100)], [null, false]],
    ["a_shot_well_before_it", [shot("a1", "a", 8_500)], ["a1", false]],
    ["a_shot_just_before_it", [shot("a1", "a", 9_800)], ["a1", true]],
    ["a_shot_after_it", [shot("a1", "a", 10_900)], ["a1", true]],
    ["one_before_and_a_nearer_one_after_it", [shot("a1", "a", 8_500), shot("a2", "a", 10_400)], ["a2", true]],
    ["one_before_and_one_farther_after_it", [shot("a1", "a", 9_300), shot("a2", "a", 11_500)], ["a1", true]],
    ["one_before_and_the_rally_over", [shot("a1", "a", 8_500), end("e1", 9_000)], ["a1", true]],
    ["strokes_gone_past_it", [shot("a1", "a", 8_000), shot("b1", "b", 12_200)], ["a1", true]],
    ["all_too_far_away", [shot("a1", "a", 7_000), shot("b1", "b", 12_501)], [null, true]],
  ])
    test(what, () => {
      const { shot: found, final } = matchOf(press, moments, 0);
      assert.deepEqual([found?.id ?? null, final], expected);
    });
});

test("a_depth_stands_behind_the_last_stroke_made_before_it", () => {
  const moments = [shot("a1", "a", 9_000), shot("b1", "b", 10_400)];
  const where = (at, shift, now) => {
    const { after, final } = placeOf({ at }, moments, shift, now);
    return [after?.id ?? null, final];
  };
  assert.deepEqual(where(10_000, 0, 10_000), ["a1", true], "a later stroke is there");
  assert.deepEqual(where(10_500, 0, 10_500), ["b1", false], "one made before it may still come");
  assert.deepEqual(where(10_500, 0, 11_300), ["b1", true]);
  assert.deepEqual(where(9_500, 1_000, 9_500), ["b1", false], "strokes come a second late");
  assert.deepEqual(where(8_000, 0, 8_000), [null, true]);
});

test("clocks_apart_are_told_by_what_came_quickest", () => {
  const offset = new ClockOffset();
  assert.equal(offset.ms, 0);
  for (const delay of [90, 12, 4_000]) offset.note(1_000, 31_000 + delay);
  assert.equal(offset.ms, 30_012);
});
