// Cues marked as the second seat against what was to be seen: each mark finds its shot by the
// same rules as on the cues page (cues/matching.js), beside a made-up person at the strokes,
// and then counts as right, or not. Pure.

/**
 * @import { Team } from "../types/messages.js"
 * @import { Moment } from "../cues/timeline.js"
 * @import { PlayedShot } from "./made-up.js"
 */
import { matchOf } from "../cues/matching.js";

/** @typedef {{ team: Team, cue: string, at: number }} Mark `at`: ms of the set */
/** @typedef {{ place: number, team: Team, cue: string, seen: number | null, mark: Mark | null }} Due a cue that was to be marked; `seen`: ms of the set, null: nobody can tell */
/** @typedef {{ mark: Mark, place: number | null }} Extra a mark that belongs to nothing; `place` of the shot it went to, null: to none */
/** @typedef {{ due: Due[], extra: Extra[] }} Judged */
/** @typedef {{ due: number, right: number, missed: number, extra: number, lag: { median: number, worst: number } | null }} MarkSum lags in seconds */

/** The made-up person at the strokes: so late, and so unsteady, ms. */
const STROKES = { late: 600, unsteady: 150 };

/**
 * What the cues page would know of a rally.
 * @param {readonly PlayedShot[]} shots @param {(ms: number) => number} timeOf ms of the rally → ms of the set
 * @param {number} rally its number @param {number} end ms of the rally
 * @returns {Moment[]}
 */
export function momentsOf(shots, timeOf, rally, end) {
  const moments = shots.map(({ team, stroke, at }, place) => ({
    id: idOf(rally, place),
    kind: /** @type {const} */ ("shot"),
    team,
    stroke,
    player: null,
    at: timeOf(at) + STROKES.late + STROKES.unsteady * Math.sin(7 * place + rally),
    rally,
    n: place + 1,
  }));
  const last = { id: `${rally}:end`, kind: /** @type {const} */ ("end"), team: null, stroke: "", player: null };
  return [...moments, { ...last, at: timeOf(end) + STROKES.late, rally, n: 0 }];
}

/** @param {number} rally @param {number} place */
const idOf = (rally, place) => `${rally}:${place}`;

/**
 * @param {readonly PlayedShot[]} shots @param {(place: number, cue: string) => number | null} seenAt when a cue showed, ms of the set
 * @param {readonly Mark[]} marks of this rally @param {readonly Moment[]} moments of this rally @param {number} shift as learned from the set
 * @returns {Judged}
 */
export function judge(shots, seenAt, marks, moments, shift) {
  /** @type {Due[]} */
  const due = shots.flatMap(({ team, cues }, place) =>
    cues.map((cue) => ({ place, team, cue, seen: seenAt(place, cue), mark: null })),
  );
  /** @type {Extra[]} */
  const extra = [];
  for (const mark of marks) {
    const { shot } = matchOf(mark, moments, shift);
    const place = shot === null ? null : shot.n - 1;
    const open = due.find((one) => one.place === place && one.cue === mark.cue && one.mark === null);
    if (open === undefined) extra.push({ mark, place });
    else open.mark = mark;
  }
  return { due, extra };
}

/** @param {readonly Judged[]} judged @returns {MarkSum} */
export function sumOf(judged) {
  const due = judged.flatMap((one) => one.due);
  const lags = due
    .flatMap(({ seen, mark }) => (seen === null || mark === null ? [] : [(mark.at - seen) / 1000]))
    .sort((one, other) => one - other);
  const right = due.filter(({ mark }) => mark !== null).length;
  const [low, high] = [lags[Math.floor((lags.length - 1) / 2)], lags[Math.ceil((lags.length - 1) / 2)]];
  const worst = lags.at(-1);
  return {
    due: due.length,
    right,
    missed: due.length - right,
    extra: judged.flatMap((one) => one.extra).length,
    lag: low === undefined || high === undefined || worst === undefined ? null : { median: (low + high) / 2, worst },
  };
}
