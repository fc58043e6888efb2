// The measure of flashes, on films drawn by hand.

import assert from "node:assert/strict";
import { test } from "node:test";
import { FlashMeter } from "../support/flashes.js";

const [WIDE, HIGH] = [256, 144];
/** A field of 10° and a quarter of it, in pixels of this picture. */
const FIELD = Math.round(((WIDE * 341) / 1024) * ((WIDE * 256) / 1024));

/** @typedef {[r: number, g: number, b: number, alpha?: number]} Color */

/** A picture whose top left square of so many pixels has a color, the rest nothing. @param {number} area @param {Color} color */
function picture(area, [r, g, b, alpha = 255]) {
  const side = Math.round(Math.sqrt(area));
  const bytes = Buffer.alloc(WIDE * HIGH * 4);
  for (let y = 0; y < side; y += 1) for (let x = 0; x < side; x += 1) bytes.set([r, g, b, alpha], (y * WIDE + x) * 4);
  return bytes;
}

/** The most flashes in a second while two colors alternate. @param {[Color, Color]} colors @param {{ perSecond: number, area?: number }} how */
function worst(colors, { perSecond, area = FIELD / 2 }) {
  const meter = new FlashMeter(WIDE, HIGH);
  for (let turn = 0; turn < perSecond * 4; turn += 1)
    meter.frame((turn * 500) / perSecond, picture(area, colors[turn % 2 === 0 ? 0 : 1]));
  return meter.worst;
}

/** @param {number} value @returns {Color} */
const grey = (value) => [value, value, value];

test("black_and_white_five_times_a_second_are_five_flashes_within_one", () => {
  assert.equal(worst([grey(0), grey(255)], { perSecond: 5 }).general, 5);
});

test("three_times_a_second_is_three", () => {
  assert.equal(worst([grey(0), grey(255)], { perSecond: 3 }).general, 3);
});

test("less_than_a_tenth_of_the_light_is_no_flash", () => {
  // Relative luminance of 89 is 0.1004, of 88 it is 0.0976.
  assert.equal(worst([grey(0), grey(88)], { perSecond: 5 }).general, 0);
  assert.equal(worst([grey(0), grey(90)], { perSecond: 5 }).general, 5);
});

test("where_the_darker_is_bright_it_is_no_flash", () => {
  // Relative luminance of 231 is 0.80, of 255 it is 1.
  assert.equal(worst([grey(232), grey(255)], { perSecond: 5 }).general, 0);
  assert.equal(worst([grey(228), grey(255)], { perSecond: 5 }).general, 5);
});

test("less_than_a_quarter_of_a_field_is_no_flash", () => {
  assert.equal(worst([grey(0), grey(255)], { perSecond: 5, area: FIELD * 0.2 }).general, 0);
  assert.equal(worst([grey(0), grey(255)], { perSecond: 5, area: FIELD * 0.3 }).general, 5);
});

test("saturated_red_against_blue_is_a_red_flash_and_no_general_one_needs_be", () => {
  const { red, general } = worst(
    [
      [160, 0, 0],
      [0, 0, 255],
    ],
    { perSecond: 5 },
  );
  assert.equal(red, 5);
  assert.equal(general, 0);
  assert.equal(
    worst(
      [
        [0, 160, 0],
        [0, 0, 255],
      ],
      { perSecond: 5 },
    ).red,
    0,
  );
});

test("what_comes_and_goes_over_unknown_video_counts_over_the_worst_of_it", () => {
  assert.equal(
    worst(
      [
        [0, 0, 0, 255],
        [0, 0, 0, 0],
      ],
      { perSecond: 5 },
    ).general,
    5,
  );
});

test("a_slow_swell_up_and_down_is_one_flash_however_many_frames_it_has", () => {
  const meter = new FlashMeter(WIDE, HIGH);
  for (let step = 0; step <= 40; step += 1)
    meter.frame(step * 20, picture(FIELD, grey(255 - Math.abs(step - 20) * 12)));
  assert.equal(meter.worst.general, 1);
});
