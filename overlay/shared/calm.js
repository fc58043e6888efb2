// Holds what is said in words long enough to be read: a fast exchange changes
// hands several times a second, a viewer reads one thing a second. The ribbon
// stays exact; only the lean in words and its picture go through here.
// Pure: time comes in as a number of milliseconds.

/**
 * @import { CalmLean, FeedState, Lean } from "../types/view.js"
 */
import { readingOf } from "./state.js";
import { withStrokes } from "./words.js";

/** How long a lean stays at least, in milliseconds. Keeps every change of the
 * picture far below three a second (WCAG 2.3.1). */
export const HOLD_MS = 1000;

/** @type {Lean} */
export const UNKNOWN = { phase: "unknown", toward: null, strength: 0, why: [], flags: [] };

/**
 * What the state says about the initiative this very moment.
 * @param {FeedState} state
 * @returns {Lean}
 */
export function leanOf(state) {
  const reading = readingOf(state, "initiative");
  if (reading === null || reading.value.type !== "lean") return UNKNOWN;
  if (!isBeingPlayed(state)) return { ...UNKNOWN, phase: "rest" };
  const { toward, strength } = reading.value;
  return {
    phase: "play",
    toward,
    strength,
    why: withStrokes(reading.why, state.rally?.shots ?? []),
    flags: reading.flags,
  };
}

/**
 * A lost connection is never shown as if live, so nobody holds then; nor while
 * play is paused.
 * @param {FeedState} state
 */
function isBeingPlayed({ connection, rally, score, paused }) {
  if (paused) return false;
  if (connection.phase !== "live" && connection.phase !== "recorded") return false;
  if (score !== null && score.winner !== null) return false;
  return rally !== null && rally.end === null && rally.shots.length > 0;
}

/**
 * @param {CalmLean} calm what is shown
 * @param {Lean} wanted what is true
 * @param {number} now
 * @returns {{ calm: CalmLean, wait: number | null }} `wait`: look again after so many milliseconds
 */
export function settle(calm, wanted, now) {
  if (sameLean(calm.lean, wanted)) return { calm, wait: null };
  const left = calm.since + HOLD_MS - now;
  if (calm.lean.phase === "unknown" || left <= 0) {
    return { calm: { lean: wanted, since: now }, wait: null };
  }
  return { calm, wait: left };
}

/**
 * @param {Lean} one
 * @param {Lean} other
 */
export function sameLean(one, other) {
  return (
    one.phase === other.phase &&
    one.toward === other.toward &&
    one.strength === other.strength &&
    one.why.length === other.why.length &&
    one.why.every((reason, at) => {
      const same = other.why[at];
      return (
        same !== undefined && reason.code === same.code && reason.team === same.team && reason.entry === same.entry
      );
    })
  );
}
