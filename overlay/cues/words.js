// What the page says. Pure.

/**
 * @import { MatchHeader, Score } from "../types/messages.js"
 * @import { View } from "./session.js"
 * @import { Press } from "./presses.js"
 * @import { Moment } from "./timeline.js"
 */
import { CUES, DEPTHS, STROKES, wordFor } from "../shared/trade-words.js";
import { playerName, teamName } from "../shared/words.js";

/** @param {Pick<Press, "kind" | "what">} press */
export const whatWords = ({ kind, what }) => wordFor(kind === "cue" ? CUES : DEPTHS, what);

/**
 * What was marked and what it has been put to: "off balance → Lind's volley, shot 7".
 * @param {MatchHeader | null} match @param {Press} press @param {readonly Moment[]} moments
 */
export function pressWords(match, press, moments) {
  const what = whatWords(press);
  const team = teamName(match, press.team);
  if (press.kind === "depth") {
    const place = `${team} ${what}`;
    return press.state === "waiting" ? `${place}: waiting for the next stroke` : place;
  }
  if (press.state === "noted") return `${what}, ${team}: kept as a note`;
  if (press.lost) return `${what}, ${team}: its shot was not charted`;
  if (press.state === "waiting") return `${what}, ${team}: waiting for its shot`;
  const shot = moments.find(({ id }) => id === press.anchor);
  return shot === undefined ? `${what}, ${team}` : `${what} → ${shotWords(match, shot)}`;
}

/** @param {MatchHeader | null} match @param {Moment} shot */
function shotWords(match, { team, player, stroke, n }) {
  const side = team === "b" ? "b" : "a";
  const named = player === null ? "" : playerName(match, side, player);
  const who = named === "" ? teamName(match, side) : named;
  return `${who}'s ${wordFor(STROKES, stroke)}, shot ${n}`;
}

/** How a press stands, for shape and color beside its words. @param {Press} press */
export function standing({ state, lost }) {
  if (lost) return "lost";
  return state === "waiting" ? "waiting" : "matched";
}

/** @param {MatchHeader | null} match @param {Press} press @returns {string} the free text it is kept as */
export function noteWords(match, press) {
  const time = new Date(press.at).toISOString().slice(11, 19);
  return `${whatWords(press)}, ${teamName(match, press.team)}, marked at ${time} UTC: its shot was not charted`;
}

/** @param {Pick<View, "line" | "feed" | "waiting" | "kept" | "match">} view @returns {string} */
export function lineWords({ line, feed, waiting, kept, match }) {
  const here = waiting === 0 ? "" : `, ${waiting} waiting on this device`;
  if (line === "link_replaced" || feed === "replaced")
    return `This link was replaced: ask the desk for the new one and open it here${here}`;
  const on = match === null ? "" : `: mark on${kept ? "" : ", and keep this page open"}`;
  if (line === "lost" || feed === "lost") return `Offline${here}${on}`;
  if (match === null) return feed === "live" ? "Connected, no match on this court yet" : "Connecting";
  if (line === "connecting") return `Connecting${here}`;
  if (!kept) return "Saved by the host, not on this device";
  return waiting === 0 ? "Connected, all saved" : `Connected, ${waiting} on the way`;
}

/**
 * What the person at a stopped page needs to know before choosing: heading, then sentences.
 * @param {View} view @returns {string[]}
 */
export function gateWords({ line, message }) {
  const heading = line === "taken_over" ? "Somebody else marks the cues of this court now" : message;
  return [
    `${heading.slice(0, 1).toUpperCase()}${heading.slice(1)}`,
    "Two at once would mark everything twice. Take over only if you mark from now on: the other one is told and stops.",
  ];
}

/** What stands in place of the keys where no match is known. @param {Pick<View, "feed">} view */
export function noMatchWords({ feed }) {
  if (feed === "live")
    return "No match is on this court yet. As soon as the desk or the person at the strokes starts one, the keys are here.";
  // That it is connecting, or that the link was replaced, stands above.
  if (feed !== "lost") return "";
  return "Can't reach the host. Check that Rallytide is running and the network is up. This page keeps trying.";
}

/** @param {MatchHeader | null} match @param {Score | null} score */
export function scoreWords(match, score) {
  if (score === null) return "";
  if (score.winner !== null) return `Match over: ${teamName(match, score.winner)}`;
  return `${score.call ?? ""}${score.change_ends ? " · ends changed" : ""}`;
}
