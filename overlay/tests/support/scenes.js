// The states worth looking at, each a page, a size and what the feed says.

import { readFileSync } from "node:fs";
import { HEADER, SCORE, held, initiative, rally, reading, reason, snapshot, update } from "./states.js";

const recorded = readFileSync(new URL("../../samples/invented-match.jsonl", import.meta.url), "utf8")
  .trim()
  .split("\n")
  .map((line) => JSON.parse(line).message);

/** The recorded match up to the update about the named entry. */
function upTo(entry) {
  const last = recorded.findIndex((message) => message.entry?.id === entry);
  if (last < 0) throw new Error(`the sample has no entry ${entry}`);
  return recorded.slice(0, last + 1);
}

const GRAPHIC = { path: "/courts/1/graphic", size: { width: 1920, height: 1080 }, over: true };
const booth = (width, height) => ({ path: "/courts/1/booth", size: { width, height }, full: true });
const LONG = {
  ...HEADER,
  teams: {
    a: { name: "Featherstonehaugh-Whitcombe / Papadimitropoulos", players: ["Alexandrina Featherstonehaugh-Whitcombe", "Theo Papadimitropoulos"] },
    b: { name: "Montgomery-Oyelaran / Wiśniewska", players: ["Jo Montgomery-Oyelaran", "Ada Wiśniewska"] },
  },
};
const SINGLES = {
  ...HEADER,
  teams: { a: { name: "Ines Quill", players: ["Ines Quill"] }, b: { name: "Lise Tarrow", players: ["Lise Tarrow"] } },
  format: { discipline: "singles", scoring: "rally", points: 21, win_by: 2, games: 1 },
};
const WON = {
  ...SCORE, games: { a: 2, b: 1 }, points: { a: 12, b: 10 }, call: null, winner: "a",
  finished: [{ a: 11, b: 7 }, { a: 4, b: 11 }, { a: 12, b: 10 }],
};
const scoreOnly = snapshot({ readings: [initiative(null)], rally: { number: 12, shots: [], end: { entry: "r12e", won_by: "a", how: null, by: null }, earlier: [] } });

const prompts = [1, 2, 3].map((n) =>
  reading("prompt", null, { type: "text", text: `Line ${n}: Fenn and Tarrow have come out of pressure four times in a row.` }, { slot: `p${n}`, seq: 50 + n, why: [reason("air", "a")] }),
);

export const SCENES = [
  { name: "graphic-offense-b", ...GRAPHIC, messages: upTo("r32s9") },
  { name: "graphic-offense-a", ...GRAPHIC, messages: upTo("r31s7") },
  { name: "graphic-neutral", ...GRAPHIC, messages: upTo("r35s20") },
  { name: "graphic-moment", ...GRAPHIC, messages: upTo("r32s12"), wait: 1300 },
  { name: "graphic-between", ...GRAPHIC, messages: upTo("r32e"), wait: 6000 },
  { name: "graphic-replay", ...GRAPHIC, messages: upTo("r33e"), wait: 6000 },
  { name: "graphic-missed-shot", ...GRAPHIC, messages: upTo("r34s7") },
  { name: "graphic-long-rally", ...GRAPHIC, messages: upTo("r35s39") },
  { name: "graphic-won", ...GRAPHIC, messages: recorded, wait: 6000 },
  { name: "graphic-won-three", ...GRAPHIC, messages: [snapshot({ score: WON })] },
  { name: "graphic-retired", ...GRAPHIC, messages: [snapshot({ score: { ...SCORE, call: null, winner: "a" } })] },
  { name: "graphic-change-ends", ...GRAPHIC, messages: [snapshot({ score: { ...SCORE, change_ends: true, game_point: "b", match_point: "b" } })] },
  { name: "graphic-long-names", ...GRAPHIC, messages: [{ ...held("b", 1, ["attackable"]), match: LONG }, update(42, { readings: [reading("escape.streak", "a", { type: "count", n: 3 })] })] },
  { name: "graphic-singles-rally", ...GRAPHIC, messages: [{ ...held("a", 1, ["body", "half_volley"]), match: SINGLES, score: { ...SCORE, game: 1, games: { a: 0, b: 0 }, finished: [], call: "15-13", server: null, points: { a: 13, b: 15 } } }] },
  { name: "graphic-score-only", ...GRAPHIC, messages: [scoreOnly] },
  { name: "graphic-no-readings", ...GRAPHIC, messages: [snapshot({ readings: [], unavailable: [{ plugin: "initiative", message: "stopped: it used more time than it may" }] })] },
  { name: "graphic-720", ...GRAPHIC, size: { width: 1280, height: 720 }, messages: upTo("r32s9") },
  { name: "graphic-colours", ...GRAPHIC, path: "/courts/1/graphic?a=202020&b=ffee00", messages: upTo("r32s9") },
  { name: "graphic-game-won", ...GRAPHIC, messages: [snapshot(), update(42, { score: { ...SCORE, game: 3, finished: [{ a: 11, b: 7 }, { a: 9, b: 11 }], games: { a: 1, b: 1 } } })] },
  { name: "graphic-ends", ...GRAPHIC, messages: [snapshot(), update(42, { score: { ...SCORE, change_ends: true } })] },
  { name: "graphic-light", ...GRAPHIC, path: "/courts/1/graphic?theme=light&show=rally.longest,escape.share", messages: upTo("r32s9") },
  { name: "graphic-text", ...GRAPHIC, path: "/courts/1/graphic?theme=text&show=rally.longest,escape.share", messages: upTo("r32s9") },
  { name: "graphic-text-won", ...GRAPHIC, path: "/courts/1/graphic?theme=text", messages: [snapshot({ score: WON })] },
  { name: "graphic-placed", ...GRAPHIC, path: "/courts/1/graphic?at=score:bottom-left,ribbon:top,tide:top&show=win.match&scale=0.8", messages: upTo("r32s12"), wait: 1300 },
  { name: "booth-tablet", ...booth(1280, 800), messages: upTo("r35s39") },
  { name: "booth-tablet-up", ...booth(800, 1280), messages: upTo("r35s39") },
  { name: "booth-laptop", ...booth(1366, 768), messages: upTo("r32s9") },
  { name: "booth-phone", ...booth(390, 844), messages: upTo("r32s9") },
  { name: "booth-between", ...booth(1280, 800), messages: upTo("r36e"), act: openAll },
  { name: "booth-prompts", ...booth(1280, 800), messages: [{ ...held("b"), match: LONG, readings: [...held("b").readings, ...prompts] }], act: openAll },
  { name: "booth-no-match", ...booth(1280, 800), messages: [snapshot({ match: null, score: null, readings: [], rally: null })] },
  { name: "booth-no-readings", ...booth(1280, 800), messages: [snapshot({ readings: [], rally: rally(), unavailable: [{ plugin: "initiative", message: "stopped: it used more time than it may" }] })] },
  { name: "booth-score-only", ...booth(1280, 800), messages: [scoreOnly] },
  { name: "booth-won", ...booth(1280, 800), messages: recorded },
  { name: "index", path: "/", size: { width: 1366, height: 768 }, messages: [] },
];

/** Opens every row that opens. */
async function openAll(page) {
  await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
}

