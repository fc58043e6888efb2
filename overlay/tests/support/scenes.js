// What is worth looking at beside the states of the graphic: moments of the
// recorded match, and the booth and the first page, each with a size.

import { readFileSync } from "node:fs";
/** @import { Page } from "playwright-core" */
/** @import { FeedMessage } from "../../types/messages.js" */
import { GRAPHIC_STATES, LONG } from "./graphic-states.js";
import { held, initiative, rally, reading, reason, snapshot } from "./states.js";

/** @type {FeedMessage[]} */
const recorded = readFileSync(new URL("../../samples/invented-match.jsonl", import.meta.url), "utf8")
  .trim()
  .split("\n")
  .map((line) => JSON.parse(line).message);

/** The recorded match up to the update about the named entry. @param {string} entry */
function upTo(entry) {
  const last = recorded.findIndex((message) => message.type === "update" && message.entry["id"] === entry);
  if (last < 0) throw new Error(`the sample has no entry ${entry}`);
  return recorded.slice(0, last + 1);
}

const booth = (/** @type {number} */ width, /** @type {number} */ height) => ({
  path: "/courts/1/booth",
  size: { width, height },
  full: true,
});
const scoreOnly = snapshot({
  readings: [initiative(null)],
  rally: { number: 12, shots: [], end: { entry: "r12e", won_by: "a", how: null, by: null, player: null }, earlier: [] },
});

const prompts = [1, 2, 3].map((n) =>
  reading(
    "prompt",
    null,
    { type: "text", text: `Line ${n}: Fenn and Tarrow have come out of pressure four times in a row.` },
    { slot: `p${n}`, seq: 50 + n, why: [reason("air", "a")] },
  ),
);

/** The states of the graphic, and a few of the recorded match. */
export const GRAPHIC_SCENES = [
  ...GRAPHIC_STATES.filter(({ name }) => name !== "no match"),
  { name: "recorded, b on offense", messages: upTo("r32s9") },
  { name: "recorded, a on offense", messages: upTo("r31s7") },
  { name: "recorded, a shot not seen", messages: upTo("r34s7") },
  { name: "recorded, long rally", messages: upTo("r35s39") },
  {
    name: "placed",
    query: "at=score:bottom-left,ribbon:top,tide:top&show=escape.share&scale=0.8",
    messages: upTo("r32s12"),
  },
  { name: "dark and bright team colors", query: "color-a=202020&color-b=ffee00", messages: upTo("r32s9") },
];

export const SCENES = [
  { name: "booth-tablet", ...booth(1280, 800), messages: upTo("r35s39") },
  { name: "booth-tablet-up", ...booth(800, 1280), messages: upTo("r35s39") },
  { name: "booth-laptop", ...booth(1366, 768), messages: upTo("r32s9") },
  { name: "booth-phone", ...booth(390, 844), messages: upTo("r32s9") },
  { name: "booth-between", ...booth(1280, 800), messages: upTo("r36e"), act: openAll },
  {
    name: "booth-prompts",
    ...booth(1280, 800),
    messages: [{ ...held("b"), match: LONG, readings: [...held("b").readings, ...prompts] }],
    act: openAll,
  },
  {
    name: "booth-no-match",
    ...booth(1280, 800),
    messages: [snapshot({ match: null, score: null, readings: [], rally: null })],
  },
  {
    name: "booth-no-readings",
    ...booth(1280, 800),
    messages: [
      snapshot({
        readings: [],
        rally: rally(),
        unavailable: [{ plugin: "initiative", message: "stopped: it used more time than it may" }],
      }),
    ],
  },
  {
    name: "booth-light",
    ...booth(1280, 800),
    path: "/courts/1/booth?theme=light",
    messages: upTo("r36e"),
    act: openAll,
  },
  { name: "booth-paused", ...booth(800, 1280), messages: [{ ...held("b"), match: LONG, paused: true }] },
  { name: "booth-score-only", ...booth(1280, 800), messages: [scoreOnly] },
  { name: "booth-won", ...booth(1280, 800), messages: recorded },
  { name: "index", path: "/", size: { width: 1366, height: 768 }, messages: [] },
];

/** Opens every row that opens. @param {Page} page */
async function openAll(page) {
  await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
}
