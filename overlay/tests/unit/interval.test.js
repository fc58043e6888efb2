// The interval around a share, against published values.

import assert from "node:assert/strict";
import { test } from "node:test";
import { wilson } from "../../shared/interval.js";

/** R. G. Newcombe, Statistics in Medicine 17 (1998), 857-872, table I, method 3. */
const PUBLISHED = [
  [81, 263, 0.2553, 0.3662],
  [15, 148, 0.0624, 0.1605],
  [0, 20, 0, 0.1611],
  [1, 29, 0.0061, 0.1718],
  [29, 29, 0.883, 1],
];

for (const [part, whole, low, high] of PUBLISHED) {
  test(`${part}_of_${whole}_lies_between_${low}_and_${high} (Newcombe 1998, table I)`, () => {
    const found = wilson(part, whole);
    assert.equal(found.low.toFixed(4), low.toFixed(4));
    assert.equal(found.high.toFixed(4), high.toFixed(4));
  });
}

test("none_and_all_mirror_each_other", () => {
  for (let whole = 1; whole < 60; whole += 1) {
    for (let part = 0; part <= whole; part += 1) {
      const one = wilson(part, whole);
      const other = wilson(whole - part, whole);
      assert.ok(Math.abs(one.low - (1 - other.high)) < 1e-12);
      assert.ok(one.low >= 0 && one.low <= part / whole && part / whole <= one.high && one.high <= 1);
    }
  }
});

test("more_cases_of_the_same_share_narrow_it", () => {
  const width = (/** @type {number} */ part, /** @type {number} */ whole) =>
    wilson(part, whole).high - wilson(part, whole).low;
  assert.ok(width(5, 10) > width(50, 100) && width(50, 100) > width(500, 1000));
});
