// The numbers the booth knows how to name, in the order it shows them. A
// reading appears by its value type as soon as a host sends it; one that is not
// listed here stays away, because a number without words helps nobody.

/**
 * @import { FeedState, Side } from "../types/view.js"
 * @import { Reading } from "../types/messages.js"
 */
import { hasShots, readingOf } from "./state.js";

/**
 * @typedef {{ indicator: string, slot?: string, label: string, alone?: string, ofShots?: true, cases?: string }} Row
 *   `alone`: what it is called where the row above it is not there to lean on;
 *   `ofShots`: says nothing where no shots are charted; `cases`: the share whose
 *   cases it rests on, where it says nothing with few of them
 */

/** @type {readonly Row[]} */
export const TEAM_ROWS = [
  { indicator: "escape.share", label: "Came out of pressure", ofShots: true },
  { indicator: "escape.streak", label: "… in a row, now", alone: "Came out of pressure in a row, now", ofShots: true },
  { indicator: "escape.best", label: "… in a row, best", alone: "Came out of pressure in a row, best", ofShots: true },
  {
    indicator: "escape.unlikely",
    label: "… how often luck alone brings that",
    alone: "How often luck alone brings that best streak",
    ofShots: true,
    cases: "escape.share",
  },
  { indicator: "approach.reached", label: "Got level after the return", ofShots: true },
  { indicator: "offense.finished", label: "Offense finished", ofShots: true },
  { indicator: "neutral.first", label: "First to take the offense", ofShots: true },
  { indicator: "defense.bounced", label: "Made them let it bounce", ofShots: true },
  { indicator: "sitter.punished", label: "Won when a ball sat up", ofShots: true },
  { indicator: "speedup.won", slot: "ready", label: "Speedups off a ball that sat up", ofShots: true },
  { indicator: "speedup.won", slot: "forced", label: "Speedups off a low ball", ofShots: true },
  { indicator: "gift.share", label: "Lost by own error, unpressed", ofShots: true },
  { indicator: "serve.won", label: "Rallies won, serving" },
  { indicator: "third.won", slot: "drop", label: "Won with a drop as third shot", ofShots: true },
  { indicator: "third.won", slot: "drive", label: "Won with a drive as third shot", ofShots: true },
  { indicator: "third.won", slot: "lob", label: "Won with a lob as third shot", ofShots: true },
  { indicator: "score.run", label: "Points in a row" },
  { indicator: "win.game", label: "Chance to win this game" },
  { indicator: "win.match", label: "Chance to win the match" },
];

/** @type {readonly Row[]} */
export const MATCH_ROWS = [
  { indicator: "win.swing", label: "At stake in the next rally, for the match" },
  { indicator: "rally.shots", label: "Shots in this rally", ofShots: true },
  { indicator: "rally.longest", label: "Longest rally", ofShots: true },
  { indicator: "charting.coverage", label: "Rallies charted in full", ofShots: true },
];

/**
 * @param {string} name `indicator` or `indicator/slot`
 * @returns {{ indicator: string, slot: string | null }}
 */
export function namedIndicator(name) {
  const at = name.indexOf("/");
  return at < 0 ? { indicator: name, slot: null } : { indicator: name.slice(0, at), slot: name.slice(at + 1) };
}

/**
 * What an indicator is called: our words for those we know, else its own name
 * made readable, so that any plugin's can be shown.
 * @param {string} indicator
 * @param {string | null} slot
 */
export function labelOf(indicator, slot) {
  const known = [...TEAM_ROWS, ...MATCH_ROWS].find((row) => row.indicator === indicator && (row.slot ?? null) === slot);
  if (known !== undefined) return known.alone ?? known.label;
  if (indicator === "third.won" && slot !== null) return `Won with this third shot: ${slot}`;
  return [indicator, ...(slot === null ? [] : [slot])].join(", ").replaceAll(/[._-]/g, " ");
}

/** Value types that are shown by the table. */
const COUNTED = new Set(["count", "share", "chance"]);

/**
 * @param {FeedState} state
 * @param {Row} row
 * @param {Side | null} team
 * @returns {Reading | null}
 */
export function rowReading(state, row, team) {
  const reading = readingOf(state, row.indicator, team, row.slot ?? null);
  return reading !== null && COUNTED.has(reading.value.type) ? reading : null;
}

/**
 * Whether rallies have ended and none of the whole match held a shot.
 * @param {FeedState} state
 */
export function scoresAlone(state) {
  if ((state.score?.rallies ?? 0) === 0 || hasShots(state)) return false;
  const longest = readingOf(state, "rally.longest", null, null)?.value;
  return longest === undefined || longest.type !== "count" || longest.n === 0;
}

/** How many prompts a commentator can take in. */
export const MOST_PROMPTS = 3;

/**
 * One line of one match: the same slot with other words is another prompt.
 * @param {FeedState} state
 * @param {Reading} reading
 */
export function promptKey(state, reading) {
  const text = reading.value.type === "text" ? reading.value.text : "";
  return [state.match?.id ?? "", reading.slot ?? "", text].join("|");
}

/**
 * The prompts to show: pinned ones first, then the newest, newest first; none
 * that was waved away. One that the host took back is gone though pinned.
 * @param {FeedState} state
 * @param {{ has: (key: string) => boolean }} [pinned]
 * @param {{ has: (key: string) => boolean }} [waved]
 * @returns {Reading[]}
 */
export function prompts(state, pinned = new Set(), waved = new Set()) {
  /** @param {Reading} reading */
  const rank = (reading) => (pinned.has(promptKey(state, reading)) ? 0 : 1);
  return Object.values(state.readings)
    .filter((reading) => reading.indicator === "prompt" && reading.value.type === "text")
    .filter((reading) => !waved.has(promptKey(state, reading)))
    .sort(
      (one, other) =>
        rank(one) - rank(other) || other.seq - one.seq || String(one.slot).localeCompare(String(other.slot)),
    )
    .slice(0, MOST_PROMPTS);
}
