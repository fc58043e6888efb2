// Contrast, against values published by others, and what it gives the look.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { SHAPE_CONTRAST, TEXT_CONTRAST, contrast, fitToPlate, parseColour } from "../../shared/colours.js";

/** Pair, published ratio, where. Published ratios are given to one or two digits. */
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

/** The custom properties of the look, as written. */
const theme = Object.fromEntries(
  [...readFileSync(new URL("../../shared/theme.css", import.meta.url), "utf8").matchAll(/--rt-([a-z-]+): (#[0-9a-f]{6});/g)].map(([, name, colour]) => [name, colour]),
);

for (const [text, under] of [["ink", "plate"], ["quiet", "plate"], ["cell-ink", "cell"]]) {
  test(`text_in_${text}_on_${under}_has_4.5 (WCAG 1.4.3)`, () => {
    assert.ok(contrast(theme[text], theme[under]) >= TEXT_CONTRAST, `${contrast(theme[text], theme[under])}`);
  });
}

for (const part of ["a", "b", "line", "ink"]) {
  test(`shapes_in_${part}_on_the_plate_have_3 (WCAG 1.4.11)`, () => {
    assert.ok(contrast(theme[part], theme.plate) >= SHAPE_CONTRAST, `${contrast(theme[part], theme.plate)}`);
  });
}

test("five_hundred_colours_all_stand_out_from_dark_and_light_plates_after_fitting", () => {
  let seed = 7;
  const random = () => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648;
  for (let at = 0; at < 500; at += 1) {
    const colour = `#${[0, 0, 0].map(() => Math.floor(random() * 256).toString(16).padStart(2, "0")).join("")}`;
    for (const plate of [theme.plate, "#f4f1e8"]) {
      assert.ok(contrast(fitToPlate(colour, plate), plate) >= SHAPE_CONTRAST, `${colour} on ${plate}`);
    }
  }
});

test("a_colour_that_stands_out_already_is_left_as_it_is", () => {
  assert.equal(fitToPlate("#d55e00", theme.plate), "#d55e00");
  assert.equal(fitToPlate("#0072b2", theme.plate), "#0072b2");
});

test("colours_are_read_as_people_type_them", () => {
  assert.equal(parseColour("0072B2"), "#0072b2");
  assert.equal(parseColour(" #abc "), "#aabbcc");
  for (const wrong of ["", "blue", "12345", "#12345g", "0072B2FF"]) assert.equal(parseColour(wrong), null);
});
