// Times and numbers in words.

import assert from "node:assert/strict";
import { test } from "node:test";
import * as format from "../../shared/format.js";

for (const [said, words] of /** @type {[() => string, string][]} */ ([
  [() => format.wholeWords(1204), "1,204"],
  [() => format.countWords(1, "court"), "1 court"],
  [() => format.countWords(2, "match", "matches"), "2 matches"],
  [() => format.percentWords(0.634), "63%"],
  [() => format.percentWords(0.001), "under 1%"],
  [() => format.percentWords(0.999), "over 99%"],
  [() => format.percentWords(0), "0%"],
  [() => format.secondsWords(1440), "1.4 s"],
  [() => format.delayWords(140), "140 ms"],
  [() => format.delayWords(2100), "2.1 s"],
  [() => format.agoWords(4_000), "just now"],
  [() => format.agoWords(12_000), "12 s ago"],
  [() => format.agoWords(200_000), "3 min ago"],
  [() => format.agoWords(7_200_000), "2 h ago"],
  [() => format.clockWords(new Date(2026, 10, 30, 0, 3, 22)), "00:03:22"],
])) {
  test(`it is said as ${words}`, () => assert.equal(said(), words));
}
