// What the desk says about courts, matches, charters and entries. Pure.

/**
 * @import { Charter, CourtState, DeskHeader, EntryJson, MatchState, Refusal } from "../../types/host.js"
 * @import { MatchHeader, Score } from "../../types/messages.js"
 */
import { entryWords } from "../../shared/charting/words.js";
import { clockWords, countWords, delayWords, secondsWords } from "../../shared/format.js";
import { byRetirement, callWords, gameWords, resultWords, teamName } from "../../shared/words.js";
import { AWAY, asSentence } from "../host/host.js";

/** Later than this the graphic visibly lags behind play. */
const LATE_MS = 1500;
/** A clock so far off is worth setting right. */
const CLOCK_MS = 2000;

/** @type {Record<CourtState["state"], string>} */
const COURT_STATES = {
  empty: "No match",
  ready: "Ready",
  playing: "Playing",
  paused: "Paused",
  finished: "Finished",
};
/** @type {Record<MatchState["state"], string>} */
const MATCH_STATES = { planned: "planned", on: "on court", finished: "finished", put_aside: "interrupted" };

/** @param {CourtState} court */
export const courtWords = (court) => COURT_STATES[court.state] ?? court.state;

/** @param {MatchState} match */
export function matchStateWords(match) {
  const state = MATCH_STATES[match.state] ?? match.state;
  if (match.state === "on") return `${state} ${match.court ?? ""}`;
  if (match.state === "finished" && match.winner !== null)
    return `finished, won by ${match.header.teams[match.winner].name}`;
  return state;
}

/** @param {{ teams: DeskHeader["teams"] }} header */
export function versus(header) {
  return `${header.teams.a.name} v ${header.teams.b.name}`;
}

/** Time, round and title, as far as there are any. @param {DeskHeader} header */
export function matchLine(header) {
  const title = header.title === versus(header) ? "" : header.title;
  return [header.time, header.round, title].filter((words) => words !== undefined && words !== "").join(" · ");
}

/** @param {DeskHeader} header */
export function formatWords({ format }) {
  const best = format.games === 1 ? "one game" : `best of ${format.games}`;
  const scoring = format.scoring === "rally" ? "rally scoring" : "side-out";
  return `${format.discipline}, ${scoring}, ${best} to ${format.points}, win by ${format.win_by}`;
}

/** @param {Score} score @param {DeskHeader} header @returns {string} */
export function scoreLine(score, header) {
  const match = asMatch(header);
  if (score.winner !== null) {
    // Of a match that a team gave up nobody asks who has how many games, but where it stood.
    const games = score.finished.map(({ a, b }) => `${a}–${b}`);
    if (byRetirement(score, match)) games.push(`${score.points.a}–${score.points.b} when they stopped`);
    return `${resultWords(score, match)}: ${games.join(", ")}`;
  }
  const games = header.format.games === 1 ? "" : `, games ${score.games.a}–${score.games.b}`;
  return `${callWords(score)}, ${teamName(match, score.serving)} to serve, ${gameWords(score, match)}${games}`;
}

/**
 * Where a match stood that was declared over before anybody had won it: nobody serves any more.
 * @param {Score} score @param {DeskHeader} header
 */
export function stoppedLine(score, header) {
  if (score.winner !== null) return scoreLine(score, header);
  const games = header.format.games === 1 ? "" : `, games ${score.games.a}–${score.games.b}`;
  return `ended without a winner at ${score.points.a}–${score.points.b}, ${gameWords(score, asMatch(header))}${games}`;
}

/** A shorter one for "before" and "after". @param {Score} score @param {DeskHeader} header */
export function scoreBrief(score, header) {
  if (score.winner !== null) return scoreLine(score, header);
  return (
    `${header.teams.a.name} ${score.points.a}, ${header.teams.b.name} ${score.points.b}; game ${score.game}, games ${score.games.a}–${score.games.b}; ` +
    `call ${callWords(score)}, ${header.teams[score.serving].name} to serve`
  );
}

/** The teams' colors are nothing a feed's header must have. @param {DeskHeader} header @returns {MatchHeader} */
export function asMatch(header) {
  return header;
}

/** What is usually held on a seat, and what is done there. @type {Record<Charter["seat"], { device: string, does: string }>} */
const SEATS = {
  chart: { device: "Laptop", does: "scoring" },
  cues: { device: "Phone", does: "marking cues" },
};

/** Those without whom no score comes: cues are marked beside them. @param {readonly Charter[]} charters of a court */
export const scorersOf = (charters) => charters.filter(({ seat }) => seat !== "cues");

/**
 * @param {readonly Charter[]} charters of a court
 * @param {{ trouble: string, match: string | null }} court how the line to the host is: what it said last may be over
 */
export function charterWords(charters, { trouble, match }) {
  if (trouble !== "") return ["Who is connected is not known: can't reach the host."];
  // Where nobody has taken a seat over, whoever is connected on it may chart.
  const taken = new Set(charters.filter(({ holds }) => holds).map(({ seat }) => seat));
  return charters.map((charter) => oneCharter(charter, charter.holds || !taken.has(charter.seat), match));
}

/** @param {Charter} charter @param {boolean} may @param {string | null} match the one on the court */
function oneCharter({ client, seat, address, match: charted, late_ms, clock_ms }, may, match) {
  const { device, does } = SEATS[seat];
  const place = address == null || address === "" ? "" : ` at ${address}`;
  const elsewhere = charted != null && match !== null && charted !== match;
  const parts = [
    elsewhere
      ? "connected, still on another match"
      : may
        ? `connected, ${does}`
        : `connected, not ${does} (another ${device.toLowerCase()} is)`,
  ];
  if (late_ms !== null) parts.push(lateWords(late_ms));
  if (clock_ms !== null && Math.abs(clock_ms) > CLOCK_MS)
    parts.push(`clock ${secondsWords(Math.abs(clock_ms))} ${clock_ms > 0 ? "fast" : "slow"} (corrected)`);
  return `${device} ${shortName(client)}${place}: ${parts.join(", ")}`;
}

/** @param {number} ms */
export const isLate = (ms) => ms > LATE_MS;

/** @param {number} ms */
export const lateWords = (ms) =>
  isLate(ms) ? `delay ${delayWords(ms)}: check its Wi-Fi` : `delay ${delayWords(Math.max(0, ms))}`;

/** Clients have long made-up names; eight letters tell them apart. @param {string} client */
const shortName = (client) => (client.length > 12 ? client.slice(0, 8) : client);

/**
 * How the line to the host is, for whoever runs the event.
 * @param {{ trouble: string, heardAt: number, host: { version: string } | null }} state
 */
export function lineWords({ trouble, heardAt, host }) {
  if (trouble === "") return host === null ? "Connecting …" : `Connected, Rallytide ${host.version}`;
  const shown = heardAt === 0 ? "" : ` Shown below: as of ${clockWords(heardAt)}.`;
  return trouble === AWAY ? `Can't reach the host.${shown} ${trouble}` : `${trouble}${shown}`;
}

/** @param {CourtState["viewers"]} viewers */
export function viewerWords({ viewer, booth }) {
  return `${countWords(viewer, "graphic")} and ${countWords(booth, "booth page")} open`;
}

/** @type {Record<string, string>} */
const KINDS = {
  shot: "a shot",
  cue: "a cue",
  depth: "where a team stands",
  rally_end: "a rally end",
  replay: "a replay",
  time_out: "a time-out",
  penalty: "a technical foul",
  score_fix: "the referee's score",
  lineup: "a line-up",
  retire: "a team retired",
  note: "a note",
  retract: "a correction",
  amend: "a correction",
  insert: "a correction",
};

/** @param {string} kind */
export const kindWords = (kind) => KINDS[kind] ?? kind;

/** @param {DeskHeader} header @param {EntryJson} entry */
export function describeEntry(header, entry) {
  return entryWords(asMatch(header), { entry: { at: "", ...entry }, flags: [] });
}

/** @param {readonly Refusal[]} refused */
export const refusedWords = (refused) => refused.map(({ message }) => asSentence(message)).join(" ");
