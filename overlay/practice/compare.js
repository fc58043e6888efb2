// How a rally was charted against how it was played: shot by shot, and how far
// behind. The two are laid side by side so that what was missed or invented costs
// as little as it can; what is left over is what the volunteer is told. Pure.

/** @import { Contact, Team } from "../types/messages.js" */

/** @typedef {"score" | "ends" | "shots"} Detail how much is charted */
/** @typedef {{ team: Team, stroke: string, contact: Contact | null, cues: readonly string[] }} Shot */
/**
 * @typedef {Shot & { at: number | null }} Timed
 * `at`: seconds, by one clock for both sides: when it was shown, when its key came; null where nobody can tell
 */
/** @typedef {{ how: string | null, by: Team | null, won_by: Team }} End */
/** @typedef {{ shots: readonly Timed[], end: End }} Played */
/** @typedef {{ shots: readonly Timed[], end: End | null, ends: number }} Charted `ends`: how often the rally was ended */

/** @typedef {"missed" | "extra" | "stroke" | "contact" | "side" | "cue_missed" | "cue_extra" | "end_missed" | "end_how" | "end_side" | "end_extra"} Kind */
/**
 * @typedef {object} Finding something that was not as it should be
 * @property {Kind} kind
 * @property {string} what what it was: a stroke, contact, cue, team or way to end
 * @property {string} [instead] what was charted in its place
 */
/**
 * @typedef {object} Row
 * @property {Timed | null} played null: nobody played this
 * @property {Timed | null} charted null: nobody charted this
 * @property {Finding[]} findings
 * @property {number | null} lag seconds from the stroke to its key
 * @property {boolean} swapped on the wrong side, but only because of what was missed before
 */
/** @typedef {{ rows: Row[], end: Finding[] }} Comparison */

/**
 * What a difference costs. A wrong stroke is cheaper than a missed and an invented one.
 * The side says little, since nobody types it; among equal strokes the time decides.
 */
const COST = { missed: 4, extra: 4, stroke: 3, contact: 1, cue: 1, side: 0.2, early: 2, second: 0.5 };
/** A key so much before its stroke, in seconds, is hardly meant for it. */
const EARLY = 0.3;
/** Seconds off the usual lag beyond which the time says nothing more. */
const FAR_OFF = 2;

/** @param {Played} played @param {Charted} charted @param {Detail} [detail] how much was asked for @returns {Comparison} */
export function compare(played, charted, detail = "shots") {
  if (detail === "score") return { rows: [], end: endFindings(played.end, charted, false) };
  const first = rowsOf(played, charted, null);
  const rows = rowsOf(played, charted, usualLag(first));
  judgeSides(rows);
  if (detail === "ends") for (const one of rows) if (one.charted === null) one.findings = [];
  return { rows, end: endFindings(played.end, charted, true) };
}

/** @param {Played} played @param {Charted} charted @param {number | null} usual */
const rowsOf = (played, charted, usual) =>
  sideBySide(played.shots, charted.shots, usual).map(([one, own]) => row(one, own));

/**
 * How late this volunteer is when nothing is missed. A missed shot that was not noticed
 * makes the keys after it look later, never earlier: so the lower quartile, not the median.
 * @param {readonly Row[]} rows
 */
function usualLag(rows) {
  const lags = lagsOf(rows);
  return lags[Math.floor((lags.length - 1) / 4)] ?? null;
}

/** @param {Timed | null} played @param {Timed | null} charted @returns {Row} */
function row(played, charted) {
  const both = played !== null && charted !== null;
  const lag = both && played.at !== null && charted.at !== null ? charted.at - played.at : null;
  return { played, charted, findings: findingsOf(played, charted), lag, swapped: false };
}

/** @param {Timed | null} played @param {Timed | null} charted @returns {Finding[]} all but the side */
function findingsOf(played, charted) {
  if (played === null) return charted === null ? [] : [{ kind: "extra", what: charted.stroke }];
  if (charted === null) return [{ kind: "missed", what: played.stroke }];
  /** @type {Finding[]} */
  const found = [];
  if (played.stroke !== charted.stroke) found.push({ kind: "stroke", what: played.stroke, instead: charted.stroke });
  else if (contactDiffers(played, charted))
    found.push({ kind: "contact", what: String(played.contact), instead: String(charted.contact) });
  for (const cue of played.cues) if (!charted.cues.includes(cue)) found.push({ kind: "cue_missed", what: cue });
  for (const cue of charted.cues) if (!played.cues.includes(cue)) found.push({ kind: "cue_extra", what: cue });
  return found;
}

/** With another stroke the contact follows from it: one mistake, not two. @param {Shot} played @param {Shot} charted */
const contactDiffers = (played, charted) =>
  played.stroke === charted.stroke &&
  played.stroke !== "serve" &&
  played.contact !== null &&
  played.contact !== charted.contact;

/**
 * Sides alternate by themselves, so one missed shot turns all that follow. Only the
 * first shot on the wrong side is a mistake, and none if a gap before it explains it.
 * @param {Row[]} rows
 */
function judgeSides(rows) {
  let wrong = false;
  let gap = false;
  for (const one of rows) {
    const { played, charted } = one;
    if (played === null || charted === null) {
      gap = true;
      continue;
    }
    const now = played.team !== charted.team;
    if (now && !wrong && !gap) one.findings.push({ kind: "side", what: played.team, instead: charted.team });
    else one.swapped = now;
    wrong = now;
    gap = false;
  }
}

/**
 * The cheapest way to lay one beside the other, in order (dynamic programming as in
 * Needleman & Wunsch 1970). Of equally cheap ways the one that pairs latest counts.
 * @param {readonly Timed[]} played @param {readonly Timed[]} charted @param {number | null} usual seconds; null: the time decides nothing
 * @returns {[Timed | null, Timed | null][]}
 */
function sideBySide(played, charted, usual) {
  const width = charted.length + 1;
  /** Cost of the first i played and j charted ones, at `i * width + j`. @type {number[]} */
  const costs = [];
  const cost = (/** @type {number} */ i, /** @type {number} */ j) =>
    i < 0 || j < 0 ? Infinity : (costs[i * width + j] ?? Infinity);
  const paired = (/** @type {number} */ i, /** @type {number} */ j) => {
    const one = played[i - 1];
    const own = charted[j - 1];
    return one === undefined || own === undefined ? Infinity : cost(i - 1, j - 1) + pairCost(one, own, usual);
  };
  for (let i = 0; i <= played.length; i += 1) {
    for (let j = 0; j <= charted.length; j += 1) {
      const best = Math.min(paired(i, j), cost(i - 1, j) + COST.missed, cost(i, j - 1) + COST.extra);
      costs.push(i === 0 && j === 0 ? 0 : best);
    }
  }
  /** @type {[Timed | null, Timed | null][]} */
  const rows = [];
  for (let i = played.length, j = charted.length; i > 0 || j > 0; ) {
    if (paired(i, j) === cost(i, j)) rows.unshift([played[(i -= 1)] ?? null, charted[(j -= 1)] ?? null]);
    else if (cost(i - 1, j) + COST.missed === cost(i, j)) rows.unshift([played[(i -= 1)] ?? null, null]);
    else rows.unshift([null, charted[(j -= 1)] ?? null]);
  }
  return rows;
}

/** @param {Timed} played @param {Timed} charted @param {number | null} usual */
function pairCost(played, charted, usual) {
  const cues = [...played.cues, ...charted.cues].filter(
    (cue) => played.cues.includes(cue) !== charted.cues.includes(cue),
  ).length;
  const lag = played.at === null || charted.at === null ? null : charted.at - played.at;
  const off = lag === null || usual === null ? 0 : Math.min(FAR_OFF, Math.abs(lag - usual));
  return (
    (played.stroke === charted.stroke ? 0 : COST.stroke) +
    (contactDiffers(played, charted) ? COST.contact : 0) +
    (played.team === charted.team ? 0 : COST.side) +
    Math.min(2, cues) * COST.cue +
    (lag !== null && lag < -EARLY ? COST.early : 0) +
    off * COST.second
  );
}

/** @param {End} played @param {Charted} charted @param {boolean} withHow @returns {Finding[]} */
function endFindings(played, { end, ends }, withHow) {
  const what = played.how ?? "unknown";
  if (end === null) return [{ kind: "end_missed", what }];
  /** @type {Finding[]} */
  const found = [];
  if (withHow && how(end) !== how(played)) found.push({ kind: "end_how", what, instead: end.how ?? "nothing" });
  const side =
    withHow && end.by !== null && played.by !== null ? /** @type {const} */ ("by") : /** @type {const} */ ("won_by");
  // The same side with another way to end gives the rally to the other team: one mistake.
  if (end[side] !== played[side])
    found.push({ kind: "end_side", what: String(played[side]), instead: String(end[side]) });
  if (ends > 1) found.push({ kind: "end_extra", what });
  return found;
}

/** An ace is a winner with nothing but the serve struck. @param {End} end */
const how = (end) => (end.how === "ace" ? "winner" : end.how);

/** @param {readonly Row[]} rows @returns {number[]} the shortest first */
const lagsOf = (rows) => rows.flatMap(({ lag }) => (lag === null ? [] : [lag])).sort((one, another) => one - another);

/** @param {readonly Row[]} rows @returns {{ median: number, worst: number, of: number } | null} seconds; null: nothing was timed */
export function lagOf(rows) {
  const lags = lagsOf(rows);
  const middle = (lags.length - 1) / 2;
  const low = lags[Math.floor(middle)];
  const high = lags[Math.ceil(middle)];
  const worst = lags.at(-1);
  return low === undefined || high === undefined || worst === undefined
    ? null
    : { median: (low + high) / 2, worst, of: lags.length };
}
