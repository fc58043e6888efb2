/**
 * What a live host has to show after each entry, taken from what `rallytide readings --each` and
 * `rallytide score --json` compute from the same entries in a file.
 *
 * A live host sees a growing chart. As long as no correction comes, the effective chart grows at
 * its end, so one run over a file serves all entries up to the next correction.
 */
import { CORRECTION_KINDS } from "../oracle/chart.mjs";
import { chartText } from "./charts.mjs";
import { linesOf } from "./program.mjs";
import { rawElements, rawField } from "./raw-json.mjs";

/**
 * @typedef {object} State
 * @property {string|null} entry the effective entry it follows, null at the start
 * @property {string|null} readings what everybody is sent of the current ones, as a JSON array; null
 *   at the start, where the program prints none
 * @property {any} score null as long as nothing has counted
 */

/**
 * @param {string[]} readings as `rallytide readings` prints them
 * @returns {string} what a host sends to everybody as a JSON array: prompts are for the booth
 */
export function forEverybody(readings) {
  return `[${readings.filter((reading) => !reading.startsWith('{"indicator":"prompt",')).join(",")}]`;
}

/**
 * @param {import('./charts.mjs').RecordedChart} chart
 * @returns {Promise<State[]>} at the start and after each effective entry
 */
export async function statesOf(chart) {
  const input = chartText(chart);
  const each = await linesOf(["readings", "-", "--each"], { input });
  const scores = new Map(
    (await linesOf(["score", "-", "--json"], { input })).map((line) => {
      const { entry, score } = JSON.parse(line);
      return [entry, score];
    }),
  );
  let score = null;
  const states = [{ entry: null, readings: null, score }];
  for (const line of each) {
    const { entry } = JSON.parse(line);
    score = scores.get(entry) ?? score;
    states.push({ entry, readings: forEverybody(rawElements(rawField(line, "readings"))), score });
  }
  return states;
}

/**
 * @param {import('./charts.mjs').RecordedChart} chart in the order of recording
 * @returns {Promise<(State & { recorded: any, revision: number })[]>} after each recorded entry
 */
export async function liveStates({ header, entries }) {
  const after = [];
  const isCorrection = ({ kind }) => CORRECTION_KINDS.includes(kind);
  let start = 0;
  while (start < entries.length) {
    const next = entries.findIndex((entry, place) => place > start && isCorrection(entry));
    const end = next < 0 ? entries.length : next;
    const states = await statesOf({ header, entries: entries.slice(0, end) });
    const part = entries.slice(start, end);
    // The last entry of the part has led to the last state, the one before it to the one before.
    part.forEach((recorded, place) => {
      const state = states.at(place - part.length);
      after.push({ ...state, recorded, revision: 0 });
    });
    start = end;
  }
  let revision = 0;
  for (const state of after) {
    if (isCorrection(state.recorded)) revision += 1;
    state.revision = revision;
  }
  return after;
}
