// What the desk says of the second seat: its link, who marks cues, and that nobody at the strokes
// is missed less because somebody marks cues.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PAGES, pageLink } from "../../desk/files/addresses.js";
import { news } from "../../desk/host/watching.js";
import { charterWords } from "../../desk/page/telling.js";

/** @import { Charter } from "../../types/host.js" */
/** @import { Known } from "../../desk/host/watching.js" */

const LINKS = {
  addresses: ["http://192.168.1.20:7447"],
  networks: {},
  reachable: true,
  keys: { desk: "d", charter: "c", booth: "b", viewer: "v" },
};
const HERE = { origin: "http://127.0.0.1:7447", key: null };
/** @type {Charter} */
const strokes = {
  client: "laptop-7f",
  seat: "chart",
  holds: true,
  address: null,
  match: "m1",
  late_ms: 140,
  clock_ms: 0,
};
/** @type {Charter} */
const cues = { ...strokes, client: "phone-2c", seat: "cues", address: "192.168.1.40", late_ms: null };
const told = (/** @type {Charter[]} */ charters, match = "m1") => charterWords(charters, { trouble: "", match });

test("the cues page stands right behind the charting page, with the charter's key", () => {
  assert.deepEqual(
    PAGES.map(({ page }) => page),
    ["chart", "cues", "booth", "graphic"],
  );
  assert.equal(
    pageLink({ court: "2", page: "cues", where: "other", links: LINKS, own: HERE }),
    "http://192.168.1.20:7447/courts/2/cues?key=c",
  );
});

test("each charter is told with what they do, and the seats do not mix", () => {
  assert.deepEqual(told([strokes, cues]), [
    "Laptop laptop-7f: connected, scoring, delay 140 ms",
    "Phone phone-2c at 192.168.1.40: connected, marking cues",
  ]);
  assert.deepEqual(told([cues, { ...cues, client: "other", holds: false, address: null }]), [
    "Phone phone-2c at 192.168.1.40: connected, marking cues",
    "Phone other: connected, not marking cues (another phone is)",
  ]);
  assert.deepEqual(told([{ ...cues, address: null }], "m2"), ["Phone phone-2c: connected, still on another match"]);
});

test("the charter who leaves is missed while somebody goes on marking cues, who may come and go", () => {
  /** @param {Charter[]} charters @returns {Known} */
  const state = (charters) => ({
    host: {
      now: "2026-05-09T10:00:00.000Z",
      version: "0.1.0",
      courts: [
        {
          court: "1",
          match: "m1",
          state: "playing",
          charters,
          score: null,
          entries: 4,
          last_entry: null,
          viewers: { viewer: 0, booth: 0 },
        },
      ],
      matches: [],
      text_files: { folder: null, problem: null },
    },
    plugins: null,
  });
  const between = (/** @type {Charter[]} */ before, /** @type {Charter[]} */ now) =>
    news(state(before), state(now)).map(({ words }) => words);
  assert.deepEqual(between([strokes, cues], [cues]), [
    "Court 1: the charter's laptop is gone. What it charts meanwhile it keeps and sends later.",
  ]);
  assert.deepEqual(between([cues], [strokes, cues]), ["Court 1: a charter is connected."]);
  assert.deepEqual(between([strokes, cues], [strokes]), []);
  assert.deepEqual(between([], [cues]), []);
});
