// How the last sets went, kept in this browser so that a volunteer sees progress, and what they
// speak for: with every stroke or with few.

/**
 * @import { Strokes } from "../shared/charting/presets.js"
 * @import { Tally } from "./tally.js"
 */
import { keptJson } from "../shared/memory.js";

const KEPT = "rallytide.practice.sets";
const AT_MOST = 6;

/** Sets with fewer shots tell too little. */
const SHOTS_THAT_TELL = 20;
/** Sets that have to say the same: one bad set is one bad set. */
const SETS_THAT_TELL = 2;
/** Share of shots with a wrong, missed or invented stroke from which few strokes are recommended: ours, nothing published. */
export const TOO_MANY_WRONG = 0.2;
/** Usual lag in seconds from which they are: at 1.018 shots a second the next two balls are struck by then. */
export const TOO_LATE_S = 2;

/**
 * @typedef {object} KeptSet
 * @property {number} right shots
 * @property {number} shots
 * @property {number} wrong strokes that were wrong, missed or invented
 * @property {number | null} lag in the median, seconds
 * @property {boolean} every whether every stroke was charted, each for itself
 */

/** @param {Pick<Storage, "getItem" | "setItem">} storage @param {Tally} sum @param {boolean} every whether every stroke was charted, each for itself */
export function keepSet(storage, { shots, right, found, lag }, every) {
  if (shots === 0) return;
  const wrong = found.missed + found.extra + found.stroke;
  const set = { right, shots, wrong, lag: lag?.median ?? null, every };
  storage.setItem(KEPT, JSON.stringify([...read(storage), set].slice(-AT_MOST)));
}

/** @param {Pick<Storage, "getItem">} storage @returns {string} */
export function lastSetsWords(storage) {
  const sets = read(storage).map(({ right, shots }) => `${right} of ${shots}`);
  return sets.length === 0
    ? "How your sets went is kept in this browser alone."
    : `Your last sets, shots right: ${sets.join(" · ")}`;
}

/**
 * Whether the last sets with every stroke were each too much.
 * @param {Pick<Storage, "getItem">} storage @param {Strokes} strokes in use now @returns {string} why few strokes are recommended; empty: they are not
 */
export function fewWords(storage, strokes) {
  if (strokes === "few") return "";
  const telling = read(storage)
    .filter(({ every, shots }) => every && shots >= SHOTS_THAT_TELL)
    .slice(-SETS_THAT_TELL);
  const tooMuch = telling.filter(
    ({ wrong, shots, lag }) => wrong / shots >= TOO_MANY_WRONG || (lag !== null && lag >= TOO_LATE_S),
  );
  if (telling.length < SETS_THAT_TELL || tooMuch.length < telling.length) return "";
  const [wrong, shots] = telling.reduce(([sum, all], one) => [sum + one.wrong, all + one.shots], [0, 0]);
  return `In your last ${SETS_THAT_TELL} sets ${wrong} of ${shots} strokes were wrong or missed, or came ${TOO_LATE_S} s late. Charting few strokes (dink, volley, drop, reset, other) asks for less and still gives the score and the cues.`;
}

/** @param {Pick<Storage, "getItem">} storage @returns {KeptSet[]} */
const read = (storage) => keptJson(storage, KEPT, areSets, []);

/** @param {unknown} value @returns {value is KeptSet[]} */
const areSets = (value) =>
  Array.isArray(value) &&
  value.every(
    (one) => one !== null && typeof one === "object" && typeof one.right === "number" && typeof one.shots === "number",
  );
