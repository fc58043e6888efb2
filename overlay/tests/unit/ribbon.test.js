// The ribbon's shape: exact places, two ways apart, room for long rallies.

import assert from "node:assert/strict";
import { test } from "node:test";
import { BOOTH_RIBBON, GRAPHIC_RIBBON, layoutRibbon, scrolledTo } from "../../elements/ribbon-drawing.js";
import { shot } from "../support/states.js";

/** @import { RallyEndView, ShotView, Team } from "../../types/messages.js" */

/** @param {ShotView[]} shots @param {RallyEndView | null} [end] */
const rallyOf = (shots, end = null) => ({ number: 1, shots, end });
const MIDDLE = GRAPHIC_RIBBON.height / 2;

test("a_shot_lifts_towards_whoever_holds_after_it", () => {
  const shots = [
    shot(1, "a", "serve"),
    shot(2, "b", "drive", { toward: "a", strength: 1 }),
    shot(3, "a", "volley", { toward: "b", strength: 0.5 }),
  ];
  const [serve, forA, forB] = layoutRibbon(rallyOf(shots), GRAPHIC_RIBBON).marks;
  assert.equal(serve.y, MIDDLE);
  assert.ok(forA.y < MIDDLE);
  assert.ok(forB.y > MIDDLE);
  assert.ok(MIDDLE - forA.y > forB.y - MIDDLE);
});

test("an_offense_that_is_only_carried_on_still_shows", () => {
  const { marks } = layoutRibbon(rallyOf([shot(1, "a", "reset", { toward: "b", strength: 0 })]), GRAPHIC_RIBBON);
  assert.ok(marks[0].y > MIDDLE + 10);
});

test("a_long_rally_drops_ten_shots_at_once_and_always_shows_the_latest", () => {
  for (let length = 1; length <= 120; length += 1) {
    const shots = Array.from({ length }, (_, at) => shot(at + 1, at % 2 === 0 ? "a" : "b", "dink"));
    const { marks, dropped, width } = layoutRibbon(rallyOf(shots), GRAPHIC_RIBBON);
    assert.equal(dropped % 10, 0);
    assert.equal(dropped + marks.length, length);
    assert.equal(marks.at(-1)?.shot.n, length);
    const x = marks.at(-1)?.x ?? Infinity;
    assert.ok(x < width - 300, `shot ${length} at ${x} of ${width}`);
    assert.ok(marks.length >= Math.min(length, 15));
  }
});

test("the_end_stands_on_the_winners_side", () => {
  const end = (/** @type {Team | null} */ won_by, how = "winner") => {
    const over = { entry: "e", won_by, how, by: won_by, player: null };
    const { end: drawn } = layoutRibbon(rallyOf([shot(1, "a", "serve")], over), GRAPHIC_RIBBON);
    assert.ok(drawn);
    return drawn.y;
  };
  assert.ok(end("a") < MIDDLE);
  assert.ok(end("b") > MIDDLE);
  assert.equal(end(null, "replay"), MIDDLE);
});

test("a_rally_without_shots_can_be_drawn", () => {
  assert.deepEqual(layoutRibbon(rallyOf([]), GRAPHIC_RIBBON).marks, []);
});

test("a_ribbon_that_is_scrolled_begins_with_a_whole_mark_and_shows_its_end", () => {
  assert.equal(scrolledTo(0, 0.5, BOOTH_RIBBON), 0);
  for (let over = 1; over < 900; over += 7) {
    const unit = 0.75;
    const to = scrolledTo(over, unit, BOOTH_RIBBON);
    assert.ok(to >= over && to < over + 2 * 62 * unit, `${to} for ${over}`);
    // Marks begin beside the key, 62 in, and are 62 wide.
    assert.equal((to / unit - 62) % 62, 0);
  }
});
