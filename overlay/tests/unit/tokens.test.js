// The look's tokens: contrast by night, by daylight and without plates, and that
// what scripts reckon with is what the sheet says.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { contrast } from "../../shared/colors.js";
import { INKS, PLATE } from "../../shared/palette.js";

const sheet = readFileSync(new URL("../../shared/tokens.css", import.meta.url), "utf8");

/** The custom properties of one block, as written. @param {string} selector @returns {Record<string, string>} */
function block(selector) {
  const from = sheet.indexOf(`\n${selector} {`);
  assert.ok(from >= 0, `no block ${selector}`);
  const text = sheet.slice(from, sheet.indexOf("\n}", from));
  return Object.fromEntries([...text.matchAll(/--rt-([a-z0-9-]+): ([^;]+);/g)].map(([, name, value]) => [name, value]));
}

/** A look with everything it takes over from the night and every `var()` followed. @param {string | null} selector @returns {Record<string, string>} */
function look(selector) {
  const own = { ...block(":root"), ...(selector === null ? {} : block(selector)) };
  /** @param {string} value @returns {string} */
  const follow = (value) => {
    const [, name] = /^var\(--rt-([a-z0-9-]+)\)$/.exec(value) ?? [];
    return name === undefined ? value : follow(own[name] ?? "");
  };
  return Object.fromEntries(Object.entries(own).map(([name, value]) => [name, follow(value)]));
}

const night = look(null);
const daylight = look(':root[data-theme="light"]');
// Without plates, the rim around every letter is what stands next to it.
const bare = look(':root[data-theme="text"]');
Object.assign(bare, { plate: bare["rim"], cell: bare["rim"] });

/** What stands on what, and the least contrast it needs (WCAG 2.2, 1.4.3 and 1.4.11). @type {[part: string, grounds: string[]][]} */
const WORDS = [
  ["ink", ["ground", "plate", "raised"]],
  ["quiet", ["ground", "plate", "raised"]],
  ["press", ["ground", "plate", "raised"]],
  ["connected", ["ground", "plate"]],
  ["soon", ["ground", "plate"]],
  ["now", ["ground", "plate"]],
  ["on-press", ["press"]],
  ["on-a", ["a"]],
  ["on-b", ["b"]],
  ["cell-ink", ["cell"]],
];
/** @type {typeof WORDS} */
const SHAPES = [
  ["line", ["ground", "plate", "raised"]],
  ["a", ["ground", "plate", "raised"]],
  ["b", ["ground", "plate", "raised"]],
];

for (const [name, colors] of Object.entries({ night, daylight })) {
  for (const [pairs, least] of /** @type {[typeof WORDS, number][]} */ ([
    [WORDS, 4.5],
    [SHAPES, 3],
  ])) {
    for (const [part, grounds] of pairs) {
      test(`${name}: ${part} has ${least} on ${grounds.join(", ")}`, () => {
        for (const ground of grounds) {
          const measured = contrast(colors[part], colors[ground]);
          assert.ok(measured >= least, `${part} on ${ground}: ${measured.toFixed(2)}`);
        }
      });
    }
  }
}

for (const part of ["ink", "quiet", "cell-ink", "line"]) {
  test(`without plates: ${part} has 4.5 on the rim around letters`, () => {
    assert.ok(contrast(bare[part], bare.plate) >= 4.5);
  });
}

for (const part of ["a", "b"]) {
  test(`without plates: ${part} has 3 on the rim`, () => assert.ok(contrast(bare[part], bare.plate) >= 3));
}

test("the_teams_of_the_default_pair_are_equal_in_gray_so_that_shape_and_side_have_to_tell_them_apart", () => {
  assert.ok(contrast(night.a, night.b) < 1.1, String(contrast(night.a, night.b)));
});

test("scripts_reckon_with_the_colors_of_the_sheet", () => {
  assert.deepEqual(PLATE, { dark: night.plate, light: daylight.plate, text: bare.rim });
  assert.deepEqual(INKS, [night["on-a"], daylight["on-a"]]);
});

test("letters_are_never_smaller_than_the_looks_least", () => {
  assert.equal(night["type-least"], "16px");
  assert.equal(night["type-on-picture-least"], "2.8");
});
