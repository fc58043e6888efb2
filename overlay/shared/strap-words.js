// What the strap shows below its row: the water with who is on offense and why, a
// team that came out of pressure, or between rallies one event as a tab. One thing at
// a time, from one state, so that words and picture cannot contradict each other. Pure.

/**
 * @import { Between, Moment, Side, View } from "../types/view.js"
 * @import { Score } from "../types/messages.js"
 */
import { hasShots } from "./state.js";
import { PAUSED_WORDS, momentWords, pointAtStake, resultWords, stateWord, whyWords } from "./words.js";

/**
 * @typedef {object} Below
 * @property {"nothing" | "lean" | "neutral" | "escape" | "tab"} kind
 * @property {Side | null} toward who is on offense, for `lean`
 * @property {Side | null} team whose tab or escape it is; null: nobody's, in the middle
 * @property {Record<Side, string>} words under each team
 * @property {string} even in the middle
 * @property {string} tab
 */

const NO_WORDS = { a: "", b: "" };
/** @type {Below} */
const NOTHING = { kind: "nothing", toward: null, team: null, words: NO_WORDS, even: "", tab: "" };

/**
 * @param {View} view
 * @param {Moment | null} moment a team out of pressure, while that is said
 * @returns {Below}
 */
export function belowRow(view, moment) {
  if (view.match === null || view.score === null) return NOTHING;
  const tab = tabOf(view);
  if (tab !== null) return { ...NOTHING, kind: "tab", ...tab };
  if (moment?.team != null) {
    const { title, detail } = momentWords(moment, view.score);
    const said = detail === "" ? title : `${title} ${detail}`;
    return { ...NOTHING, kind: "escape", team: moment.team, words: { ...NO_WORDS, [moment.team]: said } };
  }
  const { shown } = view;
  if (shown.phase !== "play" || !hasShots(view)) return NOTHING;
  if (shown.toward === null) return { ...NOTHING, kind: "neutral", even: "neutral" };
  const pressed = shown.toward === "a" ? "b" : "a";
  return {
    ...NOTHING,
    kind: "lean",
    toward: shown.toward,
    words: { ...NO_WORDS, [shown.toward]: stateWord(shown, shown.toward), [pressed]: whyWords(shown) },
  };
}

/**
 * @param {View} view
 * @returns {{ team: Side | null, tab: string } | null} nothing while a rally is on
 */
function tabOf({ score, match, paused, between, shown, rally }) {
  if (score === null) return null;
  if (score.winner !== null) {
    const games = score.finished.map(({ a, b }) => `${a}–${b}`).join(", ");
    return { team: null, tab: `${resultWords(score, match)}${games === "" ? "" : `: ${games}`}` };
  }
  if (paused) return { team: null, tab: PAUSED_WORDS };
  const isPlayed = shown.phase === "play" || (rally !== null && rally.end === null && rally.shots.length > 0);
  if (isPlayed) return null;
  if (between !== null) return { team: between.team, tab: eventWords(between, score) };
  if (score.change_ends) return { team: null, tab: "change ends" };
  for (const team of /** @type {const} */ (["a", "b"])) {
    const stake = pointAtStake(score, team);
    if (stake !== "") return { team, tab: stake };
  }
  const last = score.finished.at(-1);
  const isNewGame = last !== undefined && score.points.a === 0 && score.points.b === 0;
  return isNewGame
    ? { team: last.a > last.b ? "a" : "b", tab: `won game ${score.finished.length}, ${last.a}–${last.b}` }
    : null;
}

/**
 * The team is not named: the tab hangs under it.
 * @param {Between} between
 * @param {Score} score
 */
function eventWords({ kind, team, isMedical }, score) {
  switch (kind) {
    case "time_out":
      if (isMedical) return "medical time-out";
      return team === null ? "time-out" : `time-out, ${score.time_outs_left[team]} left`;
    case "penalty":
      return "technical foul";
    case "replay":
      return "replay";
    case "score_fix":
      return "score corrected";
  }
}
