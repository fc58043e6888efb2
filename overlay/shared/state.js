// The feed's messages folded into one state: a pure function of (state, action).
// Invariants: never changes what it is given; a message it does not understand
// changes only `ignored`; applying the same update again changes nothing.
// It knows nothing about sockets, time or drawing.

/**
 * @import { Action, FeedState, Moment } from "../types/view.js"
 * @import { RallyPatch, RallyView, Snapshot, Update } from "../types/messages.js"
 */
import { betweenAfter, betweenOf } from "./between.js";
import { isOvertaken, stillHolds, whatHappened } from "./moments.js";
import { readingKey, readingOf } from "./readings.js";

export { readingKey, readingOf } from "./readings.js";

/** How many ended rallies a page keeps, as many as a snapshot brings. */
export const EARLIER_RALLIES = 5;

/** @returns {FeedState} */
export function initialState() {
  return {
    connection: { phase: "connecting", attempt: 0, message: "" },
    seq: null,
    revision: 0,
    match: null,
    score: null,
    readings: {},
    rally: null,
    unavailable: [],
    paused: false,
    between: null,
    moment: null,
    moments: 0,
    ignored: 0,
    outOfStep: false,
  };
}

/**
 * @param {FeedState} state
 * @param {Action} action anything that was read off the wire; checked here
 * @returns {FeedState}
 */
export function reduce(state, action) {
  switch (action.type) {
    case "connection":
      return { ...state, connection: action.connection };
    case "beat":
      return state;
    case "snapshot":
      return isSnapshot(action) ? takeSnapshot(state, action) : ignore(state);
    case "update":
      return isUpdate(action) ? takeUpdate(state, action) : ignore(state);
    default:
      return ignore(state);
  }
}

/**
 * Whether shots are charted at all: a chart may hold the score alone, and then
 * there is no initiative to show.
 * @param {FeedState} state
 */
export function hasShots({ rally }) {
  return rally !== null && [rally, ...rally.earlier].some((one) => one.shots.length > 0);
}

/**
 * Whether it is known who holds the initiative. Without its plugin no shot has a
 * holder, which is not the same as a neutral rally.
 * @param {FeedState} state
 */
export function isInitiativeKnown(state) {
  return readingOf(state, "initiative", null, null) !== null;
}

/**
 * @param {FeedState} state
 * @returns {FeedState}
 */
function ignore(state) {
  return { ...state, ignored: state.ignored + 1 };
}

/**
 * @param {FeedState} state
 * @param {Snapshot} snapshot
 * @returns {FeedState}
 */
function takeSnapshot(state, snapshot) {
  /** @type {FeedState} */
  const next = {
    ...state,
    seq: snapshot.seq,
    revision: snapshot.revision,
    match: snapshot.match,
    score: snapshot.score,
    readings: Object.fromEntries(snapshot.readings.map((one) => [readingKey(one), one])),
    rally: snapshot.rally,
    unavailable: snapshot.unavailable ?? [],
    paused: isPaused(snapshot),
    between: betweenOf(snapshot.between),
    outOfStep: false,
  };
  return { ...next, moment: stillTrue(next, state) };
}

/**
 * A moment on screen stays through a correction only if it still holds.
 * @param {FeedState} next
 * @param {FeedState} before
 * @returns {Moment | null}
 */
function stillTrue(next, before) {
  const moment = before.moment;
  if (moment === null || next.match?.id !== before.match?.id) return null;
  return stillHolds(next, moment) ? moment : null;
}

/**
 * @param {FeedState} state
 * @param {Update} update
 * @returns {FeedState}
 */
function takeUpdate(state, update) {
  if (state.seq === null || update.revision > state.revision) {
    return { ...state, outOfStep: true };
  }
  if (update.revision < state.revision || update.seq < state.seq) return state;
  const readings = { ...state.readings };
  for (const key of update.gone ?? []) delete readings[readingKey(key)];
  for (const reading of update.readings) readings[readingKey(reading)] = reading;
  /** @type {FeedState} */
  const next = {
    ...state,
    seq: update.seq,
    score: update.score ?? state.score,
    readings,
    rally: update.rally === undefined ? state.rally : patchRally(state.rally, update.rally),
    unavailable: update.unavailable ?? state.unavailable,
    paused: isPaused(update),
    between: betweenAfter(state.between, update),
  };
  return withMoment(next, state);
}

/**
 * Said by every message while it lasts, and by none when play goes on.
 * @param {object} message
 */
function isPaused(message) {
  return "paused" in message && message.paused === true;
}

/**
 * @param {FeedState} next
 * @param {FeedState} before
 * @returns {FeedState}
 */
function withMoment(next, before) {
  const happened = whatHappened(next, before);
  if (happened === null) {
    const overtaken = next.moment !== null && isOvertaken(next, next.moment);
    return overtaken ? { ...next, moment: null } : next;
  }
  const id = before.moments + 1;
  return { ...next, moments: id, moment: { id, ...happened } };
}

/**
 * @param {RallyView | null} rally
 * @param {RallyPatch} patch
 * @returns {RallyView | null}
 */
function patchRally(rally, patch) {
  if (rally !== null && patch.number < rally.number) return rally;
  const current =
    rally !== null && patch.number === rally.number
      ? rally
      : { number: patch.number, shots: [], end: null, earlier: earlierWith(rally) };
  const shots = new Map(current.shots.map((shot) => [shot.n, shot]));
  for (const shot of patch.shots) shots.set(shot.n, shot);
  return {
    ...current,
    shots: [...shots.values()].sort((one, other) => one.n - other.n),
    end: patch.end === undefined ? current.end : patch.end,
  };
}

/**
 * @param {RallyView | null} rally the one that is over now
 * @returns {RallyView["earlier"]}
 */
function earlierWith(rally) {
  if (rally === null) return [];
  const { number, shots, end, earlier } = rally;
  if (shots.length === 0 && end === null) return earlier;
  return [{ number, shots, end }, ...earlier].slice(0, EARLIER_RALLIES);
}

/**
 * The host is trusted to mean well, not to be of the same version: what the
 * elements count on is looked at, the rest is left alone.
 * @param {Snapshot} message
 */
function isSnapshot(message) {
  return (
    Number.isFinite(message.seq) &&
    Number.isFinite(message.revision) &&
    Array.isArray(message.readings) &&
    (message.rally === null || isRally(message.rally))
  );
}

/** @param {RallyView} rally */
function isRally(rally) {
  return Number.isFinite(rally?.number) && Array.isArray(rally.shots) && Array.isArray(rally.earlier);
}

/** @param {Update} message */
function isUpdate(message) {
  return (
    Number.isFinite(message.seq) &&
    Number.isFinite(message.revision) &&
    Array.isArray(message.readings) &&
    (message.rally === undefined || (Number.isFinite(message.rally?.number) && Array.isArray(message.rally.shots)))
  );
}
