// A long day on one court: the recorded match over and over, each time as
// another match, played into a page at the hand clock of film.js through a
// socket that is only the page's own end of one. Says after each match what the
// page weighs: after a forced collection of garbage, so what is counted is held.

import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import { until } from "./browser.js";
import { film } from "./film.js";

const RECORDING = new URL("../recordings/simulated-match.jsonl.gz", import.meta.url);
const LINES = gunzipSync(readFileSync(RECORDING))
  .toString()
  .trim()
  .split("\n")
  .map((line) => JSON.parse(line));

/** Time between two matches. */
const PAUSE_MS = 60_000;
export const MATCH_MS = LINES.at(-1).at_ms + PAUSE_MS;
export const MATCH_UPDATES = LINES.length;

/** Goes into the page before its scripts: a feed that a test speaks through. */
function installSocket() {
  window.WebSocket = class {
    readyState = 0;
    onopen = null;
    onmessage = null;
    onclose = null;
    constructor() {
      window.feed = this;
      Promise.resolve().then(() => {
        this.readyState = 1;
        this.onopen?.();
      });
    }
    send() {
      this.onmessage?.({ data: '{"type":"beat"}' });
    }
    close() {
      this.readyState = 3;
    }
  };
  window.playLines = async (lines, from) => {
    for (const { at_ms, message } of lines) {
      while ((await window.filmOn(from + at_ms, 50, false)).now < from + at_ms);
      window.feed.onmessage?.({ data: JSON.stringify(message) });
    }
  };
}

/**
 * @param {import("playwright-core").Page} page
 * @param {string} address
 * @param {number} matches
 * @param {(weight: Weight) => void} told after each match
 */
export async function playLongDay(page, address, matches, told) {
  await film(page);
  await page.addInitScript(installSocket);
  await page.goto(address);
  await until(() => page.evaluate(() => window.feed?.readyState === 1), "the page to open its feed");
  const session = await page.context().newCDPSession(page);
  await session.send("Performance.enable");
  let before = await weigh(session, 0, null);
  for (let match = 1; match <= matches; match += 1) {
    const from = (match - 1) * MATCH_MS;
    const lines = LINES.map(({ at_ms, message }) => ({ at_ms, message: renamed(message, match) }));
    for (let at = 0; at < lines.length; at += 100) {
      await page.evaluate(([some, start]) => window.playLines(some, start), [lines.slice(at, at + 100), from]);
    }
    await page.evaluate(([end]) => window.playLines([{ at_ms: end, message: { type: "beat" } }], 0), [from + MATCH_MS]);
    const weight = await weigh(session, match, before);
    told(weight);
    before = weight;
  }
}

function renamed(message, match) {
  return message.type === "snapshot"
    ? { ...message, match: { ...message.match, id: `long-day-${match}` }, reason: "match" }
    : message;
}

/** @typedef {{ match: number, heap: number, nodes: number, listeners: number, layout: number, style: number, task: number, totals: Record<string, number> }} Weight heap in bytes; times in ms per 1,000 updates */

/** @returns {Promise<Weight>} */
async function weigh(session, match, before) {
  // Twice: what the first run lets go of may hold more.
  await session.send("HeapProfiler.collectGarbage");
  await session.send("HeapProfiler.collectGarbage");
  const { metrics } = await session.send("Performance.getMetrics");
  const totals = Object.fromEntries(metrics.map(({ name, value }) => [name, value]));
  const each = (name) => (before === null ? 0 : ((totals[name] - before.totals[name]) * 1e6) / MATCH_UPDATES);
  return {
    match,
    heap: totals.JSHeapUsedSize,
    nodes: totals.Nodes,
    listeners: totals.JSEventListeners,
    layout: each("LayoutDuration"),
    style: each("RecalcStyleDuration"),
    task: each("TaskDuration"),
    totals,
  };
}
