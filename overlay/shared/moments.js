// What has just happened that deserves a short plate: pure functions of two
// states, the one before and the one after an update. Only what changed between
// two known values counts; what merely appears (a page opened, a plugin that
// came back) nobody saw happen. When several happen at once the weightiest wins.

/**
 * @import { FeedState, Lean, Moment, Side } from "../types/view.js"
 */
import { readingOf } from "./readings.js";

/** @typedef {Omit<Moment, "id">} Happening */

const TEAMS = /** @type {const} */ (["a", "b"]);

/**
 * @param {FeedState} next
 * @param {FeedState} before
 * @returns {Happening | null}
 */
export function whatHappened(next, before) {
  return ofScore(next, before) ?? ofStreak(next, before);
}

/**
 * Whether a moment on screen still holds after a correction.
 * @param {FeedState} state
 * @param {Moment} moment
 */
export function stillHolds(state, { kind, team, streak }) {
  const { score } = state;
  switch (kind) {
    case "escape":
    case "turned":
      return team !== null && streakOf(state, team) === streak;
    case "match":
      return score?.winner === team;
    case "game":
      return score !== null && score.winner === null && score.finished.length === streak && gameWinner(state) === team;
    case "match point":
      return score?.match_point === team;
    case "game point":
      return score?.game_point === team && score.match_point === null;
  }
}

/**
 * Whether play has gone past a moment on screen: it no longer holds, or the team
 * that had come out of pressure is under it again or has lost the rally.
 * @param {FeedState} state
 * @param {Moment} moment
 */
export function isOvertaken(state, moment) {
  if (!stillHolds(state, moment)) return true;
  if (moment.kind !== "escape" && moment.kind !== "turned") return false;
  const lostTo = state.rally?.end?.won_by ?? null;
  const holds = holder(state);
  return [lostTo, holds].some((team) => team !== null && team !== moment.team);
}

/**
 * Whether what is shown of the initiative says the opposite: a team out of pressure,
 * over words that have it on defense. The words are held so that they can be read, so
 * the moment waits for them.
 * @param {Moment} moment
 * @param {Lean} shown
 */
export function contradicts({ kind, team }, { phase, toward }) {
  return (kind === "escape" || kind === "turned") && phase === "play" && toward !== null && toward !== team;
}

/**
 * @param {FeedState} next
 * @param {FeedState} before
 * @returns {Happening | null}
 */
function ofScore(next, before) {
  const is = next.score;
  const was = before.score;
  if (is === null || was === null || next.match?.id !== before.match?.id) return null;
  if (is.winner !== null) return was.winner === null ? { kind: "match", team: is.winner, streak: 0 } : null;
  if (is.finished.length > was.finished.length) {
    return { kind: "game", team: gameWinner(next), streak: is.finished.length };
  }
  if (is.match_point !== null && was.match_point !== is.match_point) {
    return { kind: "match point", team: is.match_point, streak: 0 };
  }
  if (is.match_point === null && is.game_point !== null && was.game_point !== is.game_point) {
    return { kind: "game point", team: is.game_point, streak: 0 };
  }
  // A change of ends is no moment: the score plate says it, for as long as it lasts.
  return null;
}

/**
 * Out of pressure, or even straight on to offense.
 * @param {FeedState} next
 * @param {FeedState} before
 * @returns {Happening | null}
 */
function ofStreak(next, before) {
  for (const team of TEAMS) {
    const was = streakOf(before, team);
    const is = streakOf(next, team);
    if (was === null || is === null || is <= was) continue;
    const turned = holder(before) !== null && holder(before) !== team && holder(next) === team;
    return { kind: turned ? "turned" : "escape", team, streak: is };
  }
  return null;
}

/** @param {FeedState} state */
function holder(state) {
  const value = readingOf(state, "initiative")?.value;
  return value?.type === "lean" ? value.toward : null;
}

/**
 * @param {FeedState} state
 * @returns {Side | null} who won the last finished game
 */
function gameWinner({ score }) {
  const last = score?.finished[score.finished.length - 1];
  if (last === undefined) return null;
  return last.a > last.b ? "a" : "b";
}

/**
 * @param {FeedState} state
 * @param {Side} team
 * @returns {number | null}
 */
function streakOf(state, team) {
  const value = readingOf(state, "escape.streak", team)?.value;
  return value?.type === "count" ? value.n : null;
}
