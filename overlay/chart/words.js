// Entries, flags and states of the charters' page in words. Pure.

/**
 * @import { MatchHeader, Score, Team } from "../types/messages.js"
 * @import { Entry, Seen } from "./pocket.js"
 * @import { State } from "./recorder.js"
 * @import { Line } from "./outbox.js"
 */

/** @type {Record<string, string>} */
const WORDS = {
  half_volley: "half volley", air: "in the air", bounce: "off the bounce", off_balance: "off balance", net_cord: "net cord",
  speedup: "speedup", atp: "around the post", serve_by_receivers: "the receiving team serves", missed_shot: "a shot between was missed",
  no_serve: "no serve charted", no_shot: "its shot is gone", no_time_out_left: "no time-out left", back: "back",
  transition: "in transition", line: "at the kitchen line",
};

/** @param {unknown} word */
export const said = (word) => WORDS[String(word)] ?? String(word);

/** @param {MatchHeader} header @param {unknown} team */
export const teamName = (header, team) => (team === "a" || team === "b" ? header.teams[/** @type {Team} */ (team)].name : "nobody");

/** @param {MatchHeader} header @param {Seen} seen */
export function entryWords(header, { entry, what, flags }) {
  const notes = [what, ...flags.map(said)].filter((note) => note !== undefined).map((note) => ` · ${note}`).join("");
  return `${plainWords(header, entry)}${notes}`;
}

/** @param {MatchHeader} header @param {Entry} entry */
function plainWords(header, entry) {
  const team = teamName(header, entry["team"]);
  if (entry.kind === "shot") {
    const cues = /** @type {string[]} */ (entry["cues"] ?? []);
    return [`${said(entry["stroke"])}, ${team}`, ...(entry["contact"] === undefined ? [] : [said(entry["contact"])]), ...cues.map(said)].join(", ");
  }
  if (entry.kind === "cue") return `${said(entry["cue"])}${entry["shot"] === undefined ? "" : " (the ball before)"}`;
  if (entry.kind === "depth") return `${team} ${said(entry["depth"])}`;
  if (entry.kind === "rally_end") return entry["how"] === undefined || entry["by"] === undefined ? `rally to ${teamName(header, entry["won_by"])}` : `${said(entry["how"])} by ${teamName(header, entry["by"])}`;
  if (entry.kind === "score_fix") return "score put right";
  if (entry.kind === "note") return `note: ${String(entry["text"])}`;
  return `${entry.kind.replace("_", "-")}${"team" in entry ? `, ${team}` : ""}`;
}

/** @param {MatchHeader} header @param {Score} score */
export function scoreWords(header, score) {
  if (score.winner !== null) return `Match over: ${teamName(header, score.winner)}`;
  const ends = score.change_ends ? " · change ends" : "";
  return `${teamName(header, score.serving)} to serve${ends}`;
}

/** @param {MatchHeader} header @param {State} state @param {string | null} striker */
export function armedWords(header, state, striker) {
  if (state.inserting) return "Insert after this one: which stroke?";
  if (state.selected !== null) return "Fixing: stroke, contact, cue, side or end; Delete removes, Escape leaves";
  if (state.armed === "time_out") return `Time-out: ← ${header.teams.a.name}   → ${header.teams.b.name}`;
  if (state.armed === "replay") return "Replay: ⏎ to confirm";
  if (state.armed !== null) return `${state.armed} by: ⏎ ${striker === null ? "" : teamName(header, striker)}   ← ${header.teams.a.name}   → ${header.teams.b.name}`;
  if (state.before) return "The next cue is for the other ball";
  if (state.sameSide) return "The next shot is by the same side";
  return "";
}

/** @param {Line} line @param {number} waiting @param {boolean} kept */
export function lineWords(line, waiting, kept) {
  if (!kept) return "NOT SAVED on this laptop: keep this page open";
  if (line === "taken_over") return `Taken over by another laptop${waiting === 0 ? "" : `; ${waiting} entries stay here`}`;
  if (line === "elsewhere") return "Another laptop charts this court";
  if (line === "other_match") return "Another match is on this court";
  if (line === "connected") return waiting === 0 ? "Connected, all saved" : `Connected, ${waiting} on the way`;
  return `${line === "lost" ? "Offline" : "Connecting"}: ${waiting} waiting, kept here`;
}
