// Which shot a cue was seen at. Two people see the same ball: one marks the cue, one
// records the stroke, each with a delay of their own, on a clock of their own. Pure.
//
// The difference between the two is learned from the match itself: the shift at which
// the cues lie best on the shots of their side. With it, a cue belongs to the nearest
// shot of its side within `WINDOW_MS`.

/** @import { Moment } from "./timeline.js" */
import { last } from "./timeline.js";

/** @typedef {{ team: string, at: number }} Press a key pressed for a side; `at` in ms since 1970 by this device's clock */
/** @typedef {{ shot: Moment | null, final: boolean }} Match the nearest shot so far, and whether none still to come can be nearer */

/** A cue farther than this from every shot of its side, the shift allowed for, is about none of them. */
const WINDOW_MS = 2_500;
/** One side strikes no two shots closer together than this, in the fastest exchange at the net. */
const SIDE_GAP_MS = 500;

/** What the shift is before anything is known: strokes a little behind the cues. */
const USUAL = { shift: 400, spread: 900, weight: 1.5 };
/** How closely the two people's delays repeat, as a standard deviation. */
const STEADY_MS = 250;
/** Cues that the shift is learned from: the last ones, so that it follows a person who tires. */
const LEARN_FROM = 40;
/** Shifts that are thought of. */
const SHIFTS = { from: -2_000, to: 5_000, step: 50 };

/**
 * How much later strokes are recorded than cues are marked, both clocks included.
 * Every cue votes for the shifts that would put a shot of its side right under it; wrong
 * ones scatter with the rallies' tempo, the right one is the same again and again.
 * @param {readonly Press[]} presses @param {readonly Moment[]} moments in order of time
 * @returns {number} ms
 */
export function shiftOf(presses, moments) {
  const votes = presses.slice(-LEARN_FROM).map(({ team, at }) =>
    moments
      .filter((one) => one.kind === "shot" && one.team === team)
      .map((one) => one.at - at)
      .filter((gap) => gap > SHIFTS.from - WINDOW_MS && gap < SHIFTS.to + WINDOW_MS),
  );
  let best = { shift: USUAL.shift, score: -Infinity };
  for (let { from: shift } = SHIFTS; shift <= SHIFTS.to; shift += SHIFTS.step) {
    let score = USUAL.weight * bell(shift - USUAL.shift, USUAL.spread);
    for (const gaps of votes) for (const gap of gaps) score += bell(gap - shift, STEADY_MS);
    if (score > best.score) best = { shift, score };
  }
  return best.shift;
}

/** @param {number} distance @param {number} spread */
const bell = (distance, spread) => Math.exp(-(distance * distance) / (2 * spread * spread));

/**
 * @param {Press} press @param {readonly Moment[]} moments in order of time @param {number} shift
 * @returns {Match}
 */
export function matchOf({ team, at }, moments, shift) {
  const due = at + shift;
  let place = -1;
  for (const [index, one] of moments.entries()) {
    if (one.kind !== "shot" || one.team !== team || Math.abs(one.at - due) > WINDOW_MS) continue;
    const nearest = moments[place];
    if (nearest === undefined || Math.abs(one.at - due) < Math.abs(nearest.at - due)) place = index;
  }
  const shot = moments[place] ?? null;
  if (shot === null) return { shot, final: moments.some((one) => one.at > due + WINDOW_MS) };
  const distance = Math.abs(shot.at - due);
  const passed = moments.some((one) => one.at >= due + distance && one.id !== shot.id);
  const rallyOver = moments.slice(place + 1).some(({ kind }) => kind === "end");
  const next = shot.at + SIDE_GAP_MS - due;
  return { shot, final: passed || rallyOver || shot.at >= due || next >= distance };
}

/** So long after a depth was marked, a stroke made before it has been recorded, too. */
const SETTLED_MS = 700;

/**
 * After which moment a depth was seen: the last one recorded up to then. Final as soon
 * as a later one is there, or enough time has gone by.
 * @param {{ at: number }} press @param {readonly Moment[]} moments @param {number} shift @param {number} now
 * @returns {{ after: Moment | null, final: boolean }}
 */
export function placeOf({ at }, moments, shift, now) {
  const due = at + shift;
  const after = last(moments, (one) => one.at <= due) ?? null;
  return { after, final: moments.some((one) => one.at > due) || now >= due + SETTLED_MS };
}

/**
 * How far the clock of whoever records the strokes is behind this device's, the way
 * included: of what came lately, the one that was quickest.
 */
export class ClockOffset {
  /** @type {number[]} */
  #latest = [];

  /** @param {number} at by the other clock @param {number} heard by this one */
  note(at, heard) {
    this.#latest = [...this.#latest.slice(-(LEARN_FROM - 1)), heard - at];
  }

  /** @returns {number} ms to add to the other clock's times */
  get ms() {
    return this.#latest.length === 0 ? 0 : Math.min(...this.#latest);
  }
}
