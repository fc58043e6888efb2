/**
 * Charts for the tests of the whole: from files, at random, or put together by hand. What the host
 * adds to a stored entry is left out, so that each can be brought to another host.
 */
import { readFile, readdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseChart } from "../oracle/chart.mjs";
import { randomChart } from "../oracle/random-chart.mjs";

/** What a host adds to a stored entry. */
const HOST_FIELDS = ["client", "seat", "seq", "received", "crc"];

const DEMO_STREAMS = fileURLToPath(new URL("../../demo-streams/", import.meta.url));

/** The match that `rallytide demo` shows. */
export const DEMO_MATCH = join(DEMO_STREAMS, "harbour-final.jsonl");

/** @returns {Promise<string[]>} all invented charts that come along */
export async function demoStreams() {
  const names = await readdir(DEMO_STREAMS);
  return names
    .filter((name) => name.endsWith(".jsonl"))
    .sort()
    .map((name) => join(DEMO_STREAMS, name));
}

/**
 * @typedef {object} RecordedChart
 * @property {any} header
 * @property {any[]} entries as a charter's client would send them, in the order of recording
 */

/** @param {string} text a chart file @returns {RecordedChart} */
export function recorded(text) {
  const { header, entries } = parseChart(text);
  return { header: withoutHostFields(header), entries: entries.map(({ entry }) => withoutHostFields(entry)) };
}

function withoutHostFields(object) {
  return Object.fromEntries(Object.entries(object).filter(([name]) => !HOST_FIELDS.includes(name)));
}

/** @returns {Promise<RecordedChart>} the demo match */
export async function demoMatch() {
  return recorded(await readFile(DEMO_MATCH, "utf8"));
}

/** @param {number} seed @param {'score'|'shots'|'mixed'} [kind] @returns {RecordedChart} */
export const randomMatch = (seed, kind) => recorded(randomChart(seed, kind));

/** @returns {string} a chart file */
export function chartText({ header, entries }) {
  return [header, ...entries].map((line) => `${JSON.stringify(line)}\n`).join("");
}

/** @returns {Promise<string>} the path of the file written */
export async function chartFile(folder, chart, name = "chart.jsonl") {
  const path = join(folder, name);
  await writeFile(path, typeof chart === "string" ? chart : chartText(chart));
  return path;
}

/** @returns {any} a header of invented teams; side-out doubles to 11 unless said otherwise */
export function headerFor(id, format = {}, more = {}) {
  const whole = { discipline: "doubles", scoring: "side_out", points: 11, win_by: 2, games: 3, ...format };
  const size = whole.discipline === "singles" ? 1 : 2;
  return {
    kind: "match",
    chart: 1,
    id,
    title: "Dune Open, round one",
    court: "1",
    teams: {
      a: { name: "Alder / Ash", players: ["Ari Alder", "Noa Ash"].slice(0, size) },
      b: { name: "Birch / Bay", players: ["Bea Birch", "Bo Bay"].slice(0, size) },
    },
    format: whole,
    first_serve: "a",
    ...more,
  };
}

/** Gives entries ids (`e1`, `e2`, …) and times a second apart, where they have none. */
export function numbered(contents, first = 1) {
  return contents.map((content, index) => ({
    id: `e${first + index}`,
    at: new Date(Date.UTC(2025, 4, 3, 10) + (first + index) * 1000).toISOString(),
    ...content,
  }));
}

/** @param {string} winners such as `aab`, one letter a rally @returns {object[]} contents */
export const rallies = (winners) => [...winners].map((team) => ({ kind: "rally_end", won_by: team }));
