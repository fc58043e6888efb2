// Where the page thinks each team stands. Expectations are written by hand from the rules
// about depth (D1 to D4) that the readings follow.
import assert from "node:assert/strict";
import test from "node:test";
import { nextDepth, standing } from "../../shared/charting/depths.js";
import { shot, soFar } from "../support/rally-so-far.js";

/** @import { Charted } from "../support/rally-so-far.js" */

const of = (/** @type {Charted[]} */ ...entries) => {
  const { a, b } = standing(soFar("a", ...entries));
  return [a.depth, b.depth];
};
const said = (/** @type {"a" | "b"} */ team, /** @type {string} */ depth, more = {}) => ({
  id: `d-${team}-${depth}`,
  kind: "depth",
  team,
  depth,
  ...more,
});
const SERVE = shot("s1", 1, "a", "serve");
const RETURN = shot("s2", 2, "b", "return", { contact: "bounce" });

test("both teams begin a rally back, and the team that returns comes to the line", () => {
  assert.deepEqual(of(), ["back", "back"]);
  assert.deepEqual(of(SERVE), ["back", "back"]);
  assert.deepEqual(of(SERVE, RETURN), ["back", "line"]);
});

test("a dink is struck at the line", () => {
  assert.deepEqual(of(SERVE, RETURN, shot("s3", 3, "a", "dink")), ["line", "line"]);
});

test("a drop that has to bounce brings its team to the line, one taken in the air does not", () => {
  const drop = shot("s3", 3, "a", "drop", { contact: "bounce" });
  assert.deepEqual(of(SERVE, RETURN, drop), ["back", "line"]);
  assert.deepEqual(of(SERVE, RETURN, drop, shot("s4", 4, "b", "other", { contact: "half_volley" })), ["line", "line"]);
  assert.deepEqual(of(SERVE, RETURN, drop, shot("s4", 4, "b", "volley", { contact: "air" })), ["back", "line"]);
  // A shot that was missed between them ends the wait.
  const missed = shot("s5", 5, "b", "drive", { contact: "bounce", missed_before: true });
  assert.deepEqual(of(SERVE, RETURN, drop, missed), ["back", "line"]);
});

test("a lob that bounces changes the places", () => {
  const lob = shot("s3", 3, "a", "lob");
  assert.deepEqual(of(SERVE, RETURN, lob, shot("s4", 4, "b", "drive", { contact: "bounce" })), ["line", "back"]);
});

test("what the charter has seen stands, but for a dink, and is gone with the rally", () => {
  assert.deepEqual(of(SERVE, said("b", "transition"), RETURN), ["back", "transition"]);
  assert.deepEqual(of(SERVE, said("b", "transition"), RETURN, shot("s3", 3, "b", "dink")), ["back", "line"]);
  assert.deepEqual(of(said("a", "line"), { id: "e1", kind: "rally_end", won_by: "a" }), ["back", "back"]);
  assert.deepEqual(of({ id: "e1", kind: "rally_end", won_by: "a" }, said("a", "line"), SERVE), ["line", "back"]);
});

test("a team is as deep as its deeper player, and a dink changes nothing once one was named", () => {
  assert.deepEqual(of(SERVE, said("b", "line", { player: 0 })), ["back", "back"]);
  const both = [said("b", "line", { player: 0 }), said("b", "transition", { player: 1 })];
  assert.deepEqual(of(SERVE, ...both), ["back", "transition"]);
  assert.deepEqual(of(SERVE, ...both, shot("s2", 2, "b", "dink")), ["back", "transition"]);
});

test("a tap goes one step on from there: back, transition, line, back", () => {
  const next = (/** @type {Charted[]} */ ...entries) => nextDepth(soFar("a", ...entries), "b");
  assert.equal(next(SERVE), "transition");
  assert.equal(next(SERVE, said("b", "transition")), "line");
  assert.equal(next(SERVE, RETURN), "back");
});
