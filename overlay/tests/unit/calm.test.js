// What is held, and for how long, before other words take its place.

import assert from "node:assert/strict";
import { test } from "node:test";
import { leanOf, settle } from "../../shared/calm.js";
import { initialState, reduce } from "../../shared/state.js";
import { SCORE, held, rally, snapshot } from "../support/states.js";

/** @import { Action, Lean } from "../../types/view.js" */

/** How long what is said stands, so that a fast exchange does not flicker (overlay/README.md). */
const HOLD_MS = 1_000;
/** @type {Lean} */
const UNKNOWN = { phase: "unknown", toward: null, strength: 0, why: [], flags: [] };

/** @type {Action} */
const LIVE = { type: "connection", connection: { phase: "live", attempt: 0, message: "" } };
/** @param {Action} message @param {Action} [connection] */
const stateOf = (message, connection = LIVE) => reduce(reduce(initialState(), connection), message);
const lean = (/** @type {"a" | "b" | null} */ toward) => leanOf(stateOf(held(toward)));

test("a_running_rally_shows_who_holds", () => {
  assert.equal(lean("a").phase, "play");
  assert.equal(lean("a").toward, "a");
});

test("nobody_holds_once_the_rally_has_ended", () => {
  const ended = {
    ...held("a"),
    rally: rally("a", { end: { entry: "r12e", won_by: "a", how: null, by: null, player: null } }),
  };
  assert.equal(leanOf(stateOf(ended)).phase, "rest");
});

test("nobody_holds_before_the_first_shot", () => {
  assert.equal(leanOf(stateOf({ ...held("a"), rally: rally("a", { shots: [] }) })).phase, "rest");
});

test("nobody_holds_after_the_match", () => {
  assert.equal(leanOf(stateOf({ ...held("a"), score: { ...SCORE, winner: "a" } })).phase, "rest");
});

test("a_lost_connection_is_never_shown_as_if_live", () => {
  const lost = /** @type {Action} */ ({ type: "connection", connection: { phase: "lost", attempt: 1, message: "" } });
  assert.equal(leanOf(stateOf(held("a"), lost)).phase, "rest");
});

test("without_the_reading_the_lean_is_unknown", () => {
  assert.deepEqual(leanOf(stateOf(snapshot({ readings: [] }))), UNKNOWN);
});

test("a_lean_that_has_stood_gives_way_at_once", () => {
  const { calm, wait } = settle({ lean: lean("a"), since: 0 }, lean("b"), HOLD_MS);
  assert.equal(calm.lean.toward, "b");
  assert.equal(wait, null);
});

test("a_young_lean_stays_and_says_when_to_look_again", () => {
  const shown = { lean: lean("a"), since: 1000 };
  const { calm, wait } = settle(shown, lean("b"), 1300);
  assert.equal(calm, shown);
  assert.equal(wait, HOLD_MS - 300);
});

test("a_lean_that_comes_back_meanwhile_never_left", () => {
  const shown = { lean: lean("a"), since: 1000 };
  const { calm, wait } = settle(shown, lean("a"), 1300);
  assert.equal(calm, shown);
  assert.equal(wait, null);
});

test("an_exchange_of_ten_shots_a_second_changes_the_words_once_a_second_at_most", () => {
  let calm = { lean: lean("a"), since: 0 };
  let changes = 0;
  for (let now = 0; now <= 10_000; now += 100) {
    const before = calm.lean;
    calm = settle(calm, lean((now / 100) % 2 === 0 ? "b" : "a"), now).calm;
    if (calm.lean !== before) changes += 1;
  }
  assert.ok(changes > 0 && changes <= 10, `changed ${changes} times`);
});

test("the_first_lean_after_nothing_is_shown_at_once", () => {
  assert.equal(settle({ lean: UNKNOWN, since: 0 }, lean("a"), 5).calm.lean.toward, "a");
});
