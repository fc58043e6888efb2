// From a reason to the shot it speaks of, also where it names a cue's entry.

import assert from "node:assert/strict";
import { test } from "node:test";
import { ralliesBehind, shotBehind } from "../../shared/evidence.js";
import { initialState, reduce } from "../../shared/state.js";
import { rally, reason, shot, snapshot } from "../support/states.js";

/** @import { EarlierRally, Reason, ShotView } from "../../types/messages.js" */

/** @param {ShotView[]} shots @param {Reason} why @param {EarlierRally[]} [earlier] */
function found(shots, why, earlier = []) {
  const state = reduce(initialState(), snapshot({ rally: rally(null, { shots, earlier }) }));
  return shotBehind(state, why);
}

test("a_reason_that_names_a_shot_leads_to_it", () => {
  assert.equal(found([shot(1, "a", "serve"), shot(2, "b", "return")], reason("air", "a", "r12s2"))?.shot.n, 2);
});

test("a_cue_about_the_shot_itself_leads_to_it", () => {
  const why = reason("body", "b", "cue-7");
  assert.equal(found([shot(1, "a", "serve"), shot(2, "b", "return", { why: [why] })], why)?.shot.n, 2);
});

test("a_ball_that_sat_up_is_the_one_before_the_answer", () => {
  const why = reason("attackable", "a", "cue-7");
  assert.equal(found([shot(1, "a", "drop"), shot(2, "b", "drive", { why: [why] })], why)?.shot.n, 1);
});

test("a_reason_of_an_earlier_rally_is_found_there", () => {
  const earlier = [{ number: 11, shots: [shot(4, "a", "lob", { entry: "r11s4" })], end: null }];
  const behind = found([shot(1, "a", "serve")], reason("depth", "a", "r11s4"), earlier);
  assert.deepEqual([behind?.rally.number, behind?.shot.n], [11, 4]);
});

test("a_reason_from_long_ago_leads_nowhere", () => {
  assert.equal(found([shot(1, "a", "serve")], reason("air", "a", "r2s9")), null);
});

test("reasons_lead_to_their_rallies_newest_first_with_the_shots_meant_and_to_an_end", () => {
  /** @type {EarlierRally["end"]} */
  const end = { entry: "r10e", won_by: "a", how: "out", by: "b", player: null };
  const earlier = [
    {
      number: 11,
      shots: [shot(4, "a", "lob", { entry: "r11s4" }), shot(5, "b", "overhead", { entry: "r11s5" })],
      end: null,
    },
    { number: 10, shots: [], end },
    { number: 9, shots: [shot(1, "a", "serve", { entry: "r9s1" })], end: null },
  ];
  const state = reduce(initialState(), snapshot({ rally: rally(null, { earlier }) }));
  const why = [
    reason("air", "a", "r11s5"),
    reason("depth", "a", "r11s4"),
    reason("point", "a", "r10e"),
    reason("air", "a", "r2s9"),
  ];
  assert.deepEqual(
    ralliesBehind(state, why).map((one) => [one.rally.number, [...one.meant].sort()]),
    [
      [11, [4, 5]],
      [10, []],
    ],
  );
});
