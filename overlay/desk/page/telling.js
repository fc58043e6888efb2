// What the desk says about courts, matches, charters, entries and plugins. Pure.

/**
 * @import { Charter, CourtState, DeskHeader, EntryJson, LoadAttempt, MatchState, Plugin, PluginOnCourt, PluginReport, Refusal } from "../../types/desk.js"
 * @import { MatchHeader, Score } from "../../types/messages.js"
 */
import { entryWords } from "../../shared/charting/words.js";
import { callWords, gameWords, resultWords, teamName } from "../../shared/words.js";
import { asSentence } from "../host/host.js";

/** Later than this the graphic visibly lags behind play. */
const LATE_MS = 1500;
/** A clock so far off is worth setting right. */
const CLOCK_MS = 2000;

/** @type {Record<CourtState["state"], string>} */
const COURT_STATES = {
  empty: "No match",
  ready: "Ready, not begun",
  playing: "Playing",
  paused: "Paused",
  finished: "Finished",
};
/** @type {Record<MatchState["state"], string>} */
const MATCH_STATES = { planned: "planned", on: "on court", finished: "finished", put_aside: "put aside" };

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

/** @param {DeskHeader} header */
export function formatWords({ format }) {
  const best = format.games === 1 ? "one game" : `best of ${format.games}`;
  const scoring = format.scoring === "rally" ? "rally scoring" : "side-out";
  return `${format.discipline}, ${scoring}, ${best} to ${format.points}, win by ${format.win_by}`;
}

/** @param {Score} score @param {DeskHeader} header @returns {string} */
export function scoreLine(score, header) {
  const match = asMatch(header);
  if (score.winner !== null)
    return `${resultWords(score, match)}: ${score.finished.map(({ a, b }) => `${a}–${b}`).join(", ")}`;
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

/** The teams' colours are nothing a feed's header must have. @param {DeskHeader} header @returns {MatchHeader} */
export function asMatch(header) {
  return header;
}

/**
 * @param {readonly Charter[]} charters of a court
 * @param {{ trouble: string }} [line] how the line to the host is: what it said last may be over
 */
export function charterWords(charters, line = { trouble: "" }) {
  if (line.trouble !== "") return ["Who is connected is not known while the host is not reached."];
  // Without a seat taken, whoever is connected may chart.
  const taken = charters.some(({ seat }) => seat);
  return charters.map((charter) => oneCharter(charter, charter.seat || !taken));
}

/** @param {Charter} charter @param {boolean} may */
function oneCharter({ client, address, late_ms, clock_ms }, may) {
  const place = address == null || address === "" ? "" : ` at ${address}`;
  const parts = [may ? "connected, may chart" : "connected, another one charts"];
  if (late_ms !== null)
    parts.push(
      late_ms > LATE_MS ? `${tenths(late_ms)} late: look at its Wi-Fi` : `${Math.max(0, Math.round(late_ms))} ms late`,
    );
  if (clock_ms !== null && Math.abs(clock_ms) > CLOCK_MS)
    parts.push(`clock ${tenths(Math.abs(clock_ms))} ${clock_ms > 0 ? "fast" : "slow"} (allowed for)`);
  return `Laptop ${shortName(client)}${place}: ${parts.join(", ")}`;
}

/** Clients have long made-up names; eight letters tell them apart. @param {string} client */
const shortName = (client) => (client.length > 12 ? client.slice(0, 8) : client);

/**
 * How the line to the host is, for whoever runs the event.
 * @param {{ trouble: string, heardAt: number, host: { version: string } | null }} view
 */
export function lineWords({ trouble, heardAt, host }) {
  if (trouble === "") return host === null ? "Asking the host" : `Connected, Rallytide ${host.version}`;
  if (heardAt === 0) return `The host is not reached. ${trouble}`;
  const since = new Date(heardAt).toLocaleTimeString([], { hour12: false });
  return `The host is not reached since ${since}: everything below is as it was then. ${trouble}`;
}

/** @param {CourtState["viewers"]} viewers */
export function viewerWords({ viewer, booth }) {
  return `${count(viewer, "graphic")} and ${count(booth, "booth page")} open`;
}

/** @param {number} n @param {string} thing @param {string} [things] */
export function count(n, thing, things = `${thing}s`) {
  return `${n} ${n === 1 ? thing : things}`;
}

/** @param {number} ms */
const tenths = (ms) => `${(ms / 1000).toFixed(1)} s`;

/** @param {number} ms since something happened */
export function agoWords(ms) {
  const seconds = Math.max(0, Math.round(ms / 1000));
  if (seconds < 5) return "just now";
  if (seconds < 90) return `${seconds} s ago`;
  return seconds < 5400 ? `${Math.round(seconds / 60)} min ago` : `${Math.round(seconds / 3600)} h ago`;
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
export const refusedWords = (refused) => refused.map(({ message }) => message).join("; ");

/**
 * How a plugin is, over all courts: the worst first.
 * @param {Plugin} plugin
 * @param {PluginReport} report
 * @returns {{ state: "running" | "off" | "idle" | "stopped" | "given_up" | "waiting", words: string, faults: string[] }}
 */
export function pluginState(plugin, report) {
  const places = placesOf(plugin, report);
  const faults = places.flatMap(([court, one]) => faultWords(one).map((words) => `Court ${court}: ${words}`));
  const where = (/** @type {PluginOnCourt["state"][]} */ ...states) =>
    places
      .filter(([, one]) => states.includes(one.state))
      .map(([court]) => court)
      .join(", ");
  if (!plugin.on) return { state: "off", words: "Off", faults: [] };
  if (where("switched_off") !== "")
    return { state: "given_up", words: `Off after repeated faults, court ${where("switched_off")}`, faults };
  if (where("stopped", "failed") !== "")
    return { state: "stopped", words: `Stopped on court ${where("stopped", "failed")}`, faults };
  if (where("suspended") !== "") return { state: "waiting", words: "Waiting for another plugin", faults };
  return places.length === 0
    ? { state: "idle", words: "On, no match is running", faults }
    : { state: "running", words: "Running", faults };
}

/** @param {Plugin} plugin @param {PluginReport} report @returns {[string, PluginOnCourt][]} */
function placesOf(plugin, report) {
  return Object.entries(report.courts).flatMap(([court, all]) =>
    all.filter((one) => one.plugin === plugin.id).map((one) => /** @type {[string, PluginOnCourt]} */ ([court, one])),
  );
}

/** @param {PluginOnCourt} one @returns {string[]} */
function faultWords({ state, fault, why, missing = [], last_fault }) {
  if (state === "switched_off")
    return [
      why ?? "switched off for this match",
      ...(last_fault == null ? [] : [`its last fault: ${last_fault.message}`]),
    ];
  if (fault !== undefined) return [fault.message];
  if (state === "suspended" && missing.length > 0)
    return [`waits for ${missing.map(({ indicator }) => indicator).join(", ")}, which no running plugin provides`];
  return last_fault == null ? [] : [`it was at fault and runs again: ${last_fault.message}`];
}

/** @param {Plugin} plugin @param {PluginReport} report */
export function pluginCost(plugin, report) {
  const places = placesOf(plugin, report).map(([, one]) => one);
  const sum = (/** @type {(one: PluginOnCourt) => number} */ of) => places.reduce((all, one) => all + of(one), 0);
  const calls = sum((one) => one.calls);
  if (calls === 0) return "not called yet";
  const each = sum((one) => one.time_us) / calls;
  const most = Math.max(...places.map((one) => one.most_time_us));
  const memory = Math.max(...places.map((one) => one.memory_bytes)) / 1024 / 1024;
  const faults = sum((one) => one.faults);
  return (
    `${count(calls, "call")}, ${each.toFixed(each < 10 ? 1 : 0)} µs a call (longest ${(most / 1000).toFixed(1)} ms), ${memory.toFixed(1)} MiB` +
    (faults > 0 ? `, ${count(faults, "fault")}` : "")
  );
}

/** @param {LoadAttempt} attempt */
export function attemptWords({ file, plugin, version, outcome, message, hint }) {
  const what = plugin === null ? file : `${file} (${plugin} ${version ?? ""})`;
  if (outcome === "taken") return `${what}: runs from now on`;
  if (outcome === "removed") return `${what}: the file is gone`;
  const why = asSentence(message ?? "the host does not say why");
  const advice = hint ? ` What to change: ${asSentence(hint)}` : "";
  return `${what}: ${outcome === "refused" ? "not a plugin this host can run" : "turned down"}. ${why}${advice}`;
}
