// The graphic's delay, found by taps at the ends of rallies seen on the picture.

import assert from "node:assert/strict";
import { test } from "node:test";
import { freshFinder, hear, tap, verdict } from "../../desk/graphic/delay-finder.js";

/** How long after the last tap ends may still come in. */
const SETTLE_MS = 4_000;

/** Rallies end as they do: at no even pace. */
const ENDS = [12_000, 29_500, 41_000, 66_200, 78_000, 103_700];
const endAt = (/** @type {number} */ received) => ({ kind: "rally_end", received: new Date(received).toISOString() });

/** What is found when all is in. @param {number[]} ends @param {number[]} taps */
function found(ends, taps) {
  let heard = freshFinder();
  for (const end of ends) heard = hear(heard, endAt(end));
  for (const at of taps) heard = tap(heard, at);
  return verdict(heard, Math.max(...taps) + SETTLE_MS);
}

test("the_delay_is_the_middle_of_what_was_tapped", () => {
  assert.deepEqual(found(ENDS, [15_100, 32_840, 44_300]), { delayMs: 3300, sentence: "The middle of 3 taps: 3.3 s." });
});

test("one_tap_is_told_and_more_are_asked_for", () => {
  const { delayMs, sentence } = found(ENDS.slice(0, 1), [15_100]);
  assert.equal(delayMs, 3100);
  assert.equal(sentence, "You saw one end 3.1 s after the host heard of it. Tap at 2 more rally ends to be sure.");
});

test("a_tap_that_is_ahead_of_the_next_look_at_the_host_waits_for_it", () => {
  const before = tap(hear(freshFinder(), endAt(12_000)), 29_900);
  const { delayMs, sentence } = verdict(before, 29_900);
  assert.equal(delayMs, null);
  assert.match(sentence, /^Noted/);
  assert.equal(verdict(hear(before, endAt(29_500)), 29_900 + SETTLE_MS).delayMs, 400);
});

for (const delay of [300, 4_000, 19_000, 48_000, 130_000]) {
  test(`a_delay_of_${delay / 1000}_s_is_found_however_many_rallies_lie_in_it`, () => {
    const ends = Array.from({ length: 14 }, (_, at) => 10_000 + at * 17_000 + ((at * at * 37) % 13) * 900);
    const hands = [90, -120, 160, -40];
    const taps = [4, 5, 6, 7].map((rally, at) => ends[rally] + delay + hands[at]);
    const { delayMs } = found(ends, taps);
    assert.ok(delayMs !== null && Math.abs(delayMs - delay) <= 200, String(delayMs));
  });
}

test("one_tap_that_was_late_or_about_something_else_decides_nothing", () => {
  assert.equal(found(ENDS, [14_000, 36_900, 43_050, 68_100]).delayMs, 2000);
});

test("taps_that_do_not_fit_together_find_nothing", () => {
  const { delayMs, sentence } = found(ENDS.slice(0, 3), [12_900, 33_900]);
  assert.equal(delayMs, null);
  assert.match(sentence, /do not fit together: 0\.9 s, 4\.4 s/);
});

test("a_picture_that_is_ahead_of_the_charter_is_told_with_what_to_do", () => {
  const { delayMs, sentence } = found(
    ENDS,
    ENDS.slice(0, 3).map((end) => end - 1300),
  );
  assert.equal(delayMs, null);
  assert.match(sentence, /The picture is ahead: .* 1\.3 s before .* by 3 s, then start over/);
});

test("a_tap_without_any_end_says_so", () => {
  const { delayMs, sentence } = found([], [10_000]);
  assert.equal(delayMs, null);
  assert.match(sentence, /^No rally end has come/);
});

test("only_rally_ends_count_and_each_once", () => {
  const end = endAt(5000);
  assert.deepEqual(hear(hear(hear(freshFinder(), end), end), { ...end, kind: "shot" }).ends, [5000]);
});
