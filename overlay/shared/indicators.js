// The numbers the booth knows how to name, in the order it shows them. A
// reading appears by its value type as soon as a host sends it; one that is not
// listed here stays away, because a number without words helps nobody.

/**
 * @import { FeedState, Side } from "../types/view.js"
 * @import { Reading } from "../types/messages.js"
 */
import { hasShots, readingOf } from "./state.js";

/**
 * @typedef {{ indicator: string, slot?: string, label: string, alone?: string, ofShots?: true, rests?: string }} Row
 *   `alone`: what it is called where the row above it is not there to lean on;
 *   `ofShots`: says nothing where no shots are charted; `rests`: what is said where
 *   it rests on something that nobody charted
 */

/**
 * The first two lead: the sentence that players understand, "Rallies won under
 * pressure 26 of 58, otherwise 32 of 41".
 * @type {readonly Row[]}
 */
export const TEAM_ROWS = [
  { indicator: "pressed.won", label: "Rallies won under pressure", ofShots: true },
  { indicator: "unpressed.won", label: "… otherwise", alone: "Rallies won without pressure", ofShots: true },
  { indicator: "escape.share", label: "Came out of pressure", ofShots: true },
  { indicator: "escape.streak", label: "… current streak", alone: "Current streak out of pressure", ofShots: true },
  { indicator: "escape.best", label: "… best streak", alone: "Best streak out of pressure", ofShots: true },
  { indicator: "approach.reached", label: "Out of defense after the return", ofShots: true },
  { indicator: "offense.finished", label: "Attacks won", ofShots: true },
  { indicator: "neutral.first", label: "Attacked first from neutral", ofShots: true },
  { indicator: "defense.bounced", label: "From defense, made them let it bounce", ofShots: true },
  { indicator: "sitter.punished", label: "Won off a high ball", ofShots: true, rests: "none marked" },
  {
    indicator: "speedup.won",
    slot: "sitter",
    label: "Speedups off a high ball, won",
    ofShots: true,
    rests: "none marked",
  },
  { indicator: "speedup.won", slot: "other", label: "Other speedups, won", ofShots: true },
  { indicator: "gift.share", label: "Lost by an unforced error", ofShots: true, rests: "not charted" },
  { indicator: "serve.won", label: "Rallies won on serve" },
  { indicator: "third.won", slot: "drop", label: "Won with a third-shot drop", ofShots: true },
  { indicator: "third.won", slot: "drive", label: "Won with a third-shot drive", ofShots: true },
  { indicator: "third.won", slot: "lob", label: "Won with a third-shot lob", ofShots: true },
  { indicator: "score.run", label: "Points in a row" },
  { indicator: "win.game", label: "Chance to win this game" },
  { indicator: "win.match", label: "Chance to win the match" },
];

/**
 * What each player has, where players are named.
 * @type {readonly Row[]}
 */
export const PLAYER_ROWS = [
  { indicator: "player.shots", label: "Shots from the third on", ofShots: true },
  { indicator: "player.pressed", label: "Of these, struck on defense", ofShots: true },
  { indicator: "player.errors", label: "The team's errors", ofShots: true },
];

/** @type {readonly Row[]} */
export const MATCH_ROWS = [
  { indicator: "win.swing", label: "Swing of the next rally" },
  { indicator: "rally.shots", label: "Shots in this rally", ofShots: true },
  { indicator: "rally.longest", label: "Longest rally", ofShots: true },
  { indicator: "charting.coverage", label: "Rallies charted completely", ofShots: true },
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
  const known = [...TEAM_ROWS, ...PLAYER_ROWS, ...MATCH_ROWS].find(
    (row) => row.indicator === indicator && (row.slot ?? null) === slot,
  );
  if (known !== undefined) return known.alone ?? known.label;
  if (indicator === "third.won" && slot !== null) return `Won with a third-shot ${slot}`;
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
