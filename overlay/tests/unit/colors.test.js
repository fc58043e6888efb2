// Contrast, against values published by others, and what it gives the look.

import assert from "node:assert/strict";
import { test } from "node:test";
import { contrast, fitTeam, fitToPlate, parseColor } from "../../shared/colors.js";
import { PLATE } from "../../shared/palette.js";

/** WCAG 2.2, 1.4.3 Contrast (Minimum): text against its ground. */
const TEXT_CONTRAST = 4.5;

/** Pair, published ratio, where. Published ratios are given to one or two digits. */
/** @type {[one: string, other: string, ratio: number, source: string][]} */
const PUBLISHED = [
  ["#000000", "#ffffff", 21, "WCAG 2.x, definition of contrast ratio"],
  ["#949494", "#ffffff", 3.0, "W3C, Understanding SC 1.4.11"],
  ["#3366cc", "#000000", 3.9, "W3C, technique G183"],
  ["#e3660e", "#ffffff", 3.4, "W3C, technique G207"],
  ["#ffffff", "#6e747b", 4.7, "W3C, Understanding SC 1.4.11"],
  ["#aaaaaa", "#ffffff", 2.3, "W3C, Understanding SC 1.4.11"],
  ["#9d9d9d", "#ffffff", 2.7, "W3C, Understanding SC 1.4.11"],
  ["#fff000", "#ffffff", 1.2, "W3C, Understanding SC 1.4.11"],
];

for (const [one, other, published, source] of PUBLISHED) {
  test(`${one}_on_${other}_is_${published} (${source})`, () => {
    assert.ok(Math.abs(contrast(one, other) - published) < 0.05, String(contrast(one, other)));
    assert.equal(contrast(one, other), contrast(other, one));
  });
}

test("the_line_between_pass_and_fail_is_not_rounded (#777777 fails 4.5: from memory)", () => {
  assert.ok(contrast("#777777", "#ffffff") < TEXT_CONTRAST);
  assert.ok(contrast("#767676", "#ffffff") >= TEXT_CONTRAST);
});

const PLATES = Object.values(PLATE);

test("five_hundred_pairs_of_team_colors_stand_out_from_the_plate_of_every_theme_after_fitting_and_their_words_from_them", () => {
  let seed = 7;
  const random = () => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648;
  const randomColor = () =>
    `#${[0, 0, 0]
      .map(() =>
        Math.floor(random() * 256)
          .toString(16)
          .padStart(2, "0"),
      )
      .join("")}`;
  for (let at = 0; at < 500; at += 1) {
    for (const color of [randomColor(), randomColor()]) {
      for (const plate of PLATES) {
        assert.ok(contrast(fitToPlate(color, plate), plate) >= 3, `${color} on ${plate}`);
        const { fill, ink } = fitTeam(color, plate);
        assert.ok(contrast(fill, plate) >= 3, `${color} as ${fill} on ${plate}`);
        assert.ok(contrast(ink, fill) >= 4.5, `words in ${ink} on ${fill}`);
      }
    }
  }
});

test("a_color_that_stands_out_already_is_left_as_it_is", () => {
  assert.equal(fitToPlate("#d55e00", PLATE.dark), "#d55e00");
  assert.equal(fitToPlate("#0072b2", PLATE.dark), "#0072b2");
});

test("colors_are_read_as_people_type_them", () => {
  assert.equal(parseColor("0072B2"), "#0072b2");
  assert.equal(parseColor(" #abc "), "#aabbcc");
  for (const wrong of ["", "blue", "12345", "#12345g", "0072B2FF"]) assert.equal(parseColor(wrong), null);
});
