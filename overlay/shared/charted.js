// How much of a match is charted, so that what was not is never said as zero. Pure.

/** @import { FeedState } from "../types/view.js" */
import { readingOf } from "./readings.js";

/** @typedef {"score" | "ends" | "shots"} Depth */

/** @type {Record<Depth, string>} */
export const DEPTH_WORDS = { score: "score only", ends: "ends and cues", shots: "every shot" };

/**
 * A charter who means every shot misses a serve now and then, one who charts ends
 * hardly ever has it: a quarter of the rallies tells them apart.
 * @param {{ shots: number, served: number, ended: number, ends: number }} counted rallies
 *   with a shot, that begin with a serve, that are over, whose end is told
 * @returns {Depth | null} null before the first rally is over
 */
export function depthOf({ shots, served, ended, ends }) {
  if (ended === 0) return null;
  if (shots === 0) return ends === 0 ? "score" : "ends";
  return served * 4 >= ended ? "shots" : "ends";
}

/**
 * What a page knows of it: the last rallies, and the whole match by its readings.
 * @param {FeedState} state
 * @returns {Depth | null}
 */
export function depthOfFeed(state) {
  const rallies = state.rally === null ? [] : [state.rally, ...state.rally.earlier];
  const ended = rallies.filter(({ end }) => end !== null);
  const longest = readingOf(state, "rally.longest", null, null)?.value;
  const coverage = readingOf(state, "charting.coverage", null, null)?.value;
  const seen = depthOf({
    shots: rallies.filter(({ shots }) => shots.length > 0).length + (longest?.type === "count" ? longest.n : 0),
    served: rallies.filter(({ shots }) => shots[0]?.stroke === "serve").length,
    ended: Math.max(ended.length, state.score?.rallies === 0 ? 0 : 1),
    ends: ended.filter(({ end }) => end?.how != null && end.how !== "unknown").length,
  });
  const isMostlyWhole = coverage?.type === "share" && coverage.whole > 0 && coverage.part * 4 >= coverage.whole;
  return seen === "ends" && isMostlyWhole ? "shots" : seen;
}
