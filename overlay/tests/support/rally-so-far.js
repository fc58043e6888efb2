// A match so far, written down by hand, as the recorder is told of it: who is on
// serve, what has been charted last. Knows no rule; what is missing is left out.

/** @import { MatchHeader } from "../../types/messages.js" */
/** @import { Answer, Entry } from "../../shared/charting/local-chart.js" */

/** @typedef {Omit<Entry, "at"> & { id: string, kind: string, at?: string, number?: number, missed_before?: boolean, known?: number | null }} Charted */

/** Two teams; nothing else of a header matters to the recorder. @type {MatchHeader} */
export const HEADER = {
  kind: "match",
  chart: 1,
  id: "by-hand",
  title: "By hand",
  teams: { a: { name: "Ada", players: ["A0", "A1"] }, b: { name: "Bo", players: ["B0", "B1"] } },
  format: { discipline: "doubles", scoring: "side_out", points: 11, win_by: 2, games: 3 },
  first_serve: "a",
};

/**
 * @param {"a" | "b"} serving
 * @param {Charted[]} entries charted last, oldest first; a shot carries its `number` in the rally
 *   where it is one of the rally that is being played, and `known`, the player who struck it by the score
 * @returns {Answer} no more of the score than the recorder asks for
 */
export function soFar(serving, ...entries) {
  /** @type {Answer["recent"]} */
  const recent = entries.map(({ number, missed_before = false, known = null, ...entry }) => {
    const { id, team, contact = null, player = known } = /** @type {Record<string, any>} */ (entry);
    const shot = number === undefined ? {} : { shot: { id, number, team, player, contact, missed_before } };
    return { entry: { at: "2026-05-09T10:00:00.000Z", ...entry }, flags: [], ...shot };
  });
  const rally = recent.flatMap(({ shot }) => (shot === undefined ? [] : [shot]));
  const score = /** @type {Answer["score"]} */ ({ serving, winner: null });
  return { flags: [], score, over: false, entries: entries.length, rally, recent };
}

/** A shot of the rally that is being played. @param {string} id @param {number} number @param {"a" | "b"} team @param {string} stroke @param {Record<string, unknown>} [more] @returns {Charted} */
export const shot = (id, number, team, stroke, more = {}) => ({ id, number, kind: "shot", team, stroke, ...more });
