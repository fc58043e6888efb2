// Entries, flags and what waits for the next key, in words. Pure.

/**
 * @import { MatchHeader, Score, Team } from "../../types/messages.js"
 * @import { Answer, Seen } from "./local-chart.js"
 * @import { State } from "./recorder.js"
 * @import { Line as Told } from "./lines.js"
 */
import { CONTACTS, CUES, DEPTHS, FLAGS, STROKES, wordFor } from "../trade-words.js";
import { playerName } from "../words.js";
import { cuesOn } from "./lines.js";
import { playerOf } from "./striker.js";

const WORDS = { ...STROKES, ...CONTACTS, ...CUES, ...DEPTHS, ...FLAGS };

/** @param {unknown} word */
export const said = (word) => wordFor(WORDS, word);

/** @param {MatchHeader} header @param {unknown} team */
export const teamName = (header, team) =>
  team === "a" || team === "b" ? header.teams[/** @type {Team} */ (team)].name : "nobody";

/**
 * A team, and which of its players where that is known and says more.
 * @param {MatchHeader} header @param {unknown} team @param {Seen} seen
 */
function whoWords(header, team, seen) {
  const player = playerOf(seen);
  if ((team !== "a" && team !== "b") || player === undefined || header.format.discipline === "singles")
    return teamName(header, team);
  return `${teamName(header, team)} (${playerName(header, team, player) || `player ${player + 1}`})`;
}

/** @param {MatchHeader} header @returns {string} who plays whom */
export const versus = ({ teams }) => `${teams.a.name} v ${teams.b.name}`;

/** @param {MatchHeader} header @param {Seen} seen @param {Seen[]} [marks] the cues marked on it by entries of their own */
export function entryWords(header, seen, marks = []) {
  const { flags } = seen;
  const notes = [outcome(header, seen), ...flags.map(said)]
    .filter((note) => note !== undefined)
    .map((note) => ` · ${note}`)
    .join("");
  return `${shortWords(header, { seen, marks })}${notes}`;
}

/**
 * What came of an entry. Of a rally's end, by whom and how stands before it already, and who won it,
 * too, where that is who struck the last ball.
 * @param {MatchHeader} header @param {Seen} seen
 */
function outcome(header, { entry, what }) {
  if (what === undefined || entry.kind !== "rally_end") return what;
  const teams = ["a", "b"].sort((one, other) => teamName(header, other).length - teamName(header, one).length);
  const winner = teams.find((team) =>
    [";", " ("].some((next) => what.startsWith(`rally to ${teamName(header, team)}${next}`)),
  );
  if (winner === undefined) return what;
  const won = `rally to ${teamName(header, winner)}`;
  const place = what.indexOf("; ", won.length);
  if (place === -1) return what;
  const score = what.slice(place + 2);
  return entry["by"] === undefined || entry["by"] === winner ? score : `${won}; ${score}`;
}

/** @param {MatchHeader} header @param {Told} line @returns {string} without what came of it */
export function shortWords(header, line) {
  const { entry } = line.seen;
  const team = whoWords(header, entry["team"], line.seen);
  if (entry.kind === "shot") {
    return [
      `${said(entry["stroke"])}, ${team}`,
      ...(entry["contact"] === undefined ? [] : [said(entry["contact"])]),
      ...cuesOn(line).map(said),
    ].join(", ");
  }
  if (entry.kind === "cue") return `${said(entry["cue"])}${entry["shot"] === undefined ? "" : " (the ball before)"}`;
  if (entry.kind === "depth") return `${team} ${said(entry["depth"])}`;
  if (entry.kind === "rally_end")
    return entry["how"] === undefined || entry["by"] === undefined
      ? `rally to ${teamName(header, entry["won_by"])}`
      : `${said(entry["how"])} by ${whoWords(header, entry["by"], line.seen)}`;
  if (entry.kind === "score_fix") return "score set";
  if (entry.kind === "note") return `note: ${String(entry["text"])}`;
  return `${entry.kind.replace("_", "-")}${"team" in entry ? `, ${team}` : ""}`;
}

/** @param {readonly Seen[]} recent @returns {string} the last shot, or how the rally ended, in as few words as there are */
export function latestWord(recent) {
  const last = recent.filter(({ entry }) => SHOWN_LARGE.has(entry.kind)).at(-1);
  if (last === undefined) return "–";
  const { entry } = last;
  if (entry.kind === "shot") return said(entry["stroke"]);
  if (entry.kind === "rally_end") return entry["how"] === undefined ? "rally over" : said(entry["how"]);
  return entry.kind.replace("_", "-");
}

const SHOWN_LARGE = new Set(["shot", "rally_end", "replay", "time_out", "retire"]);

/** @param {MatchHeader} header @param {Score} score */
export function scoreWords(header, score) {
  if (score.winner !== null) return `Match over: ${teamName(header, score.winner)}`;
  const ends = score.change_ends ? " · change ends" : "";
  return `${teamName(header, score.serving)} to serve${ends}`;
}

/**
 * Whether the next key means something else than it says, in a word; seen without reading by
 * the frame that goes with it. @param {State} state @returns {string} empty where it means what it says
 */
export function modeWord({ armed, before, sameSide, away, selected, inserting }) {
  if (inserting) return "Inserting";
  if (selected !== null) return "Fixing";
  if (armed === "time_out") return "Time-out";
  if (armed === "replay" || armed?.startsWith("annul:")) return "Replay";
  if (armed !== null) return "Rally end";
  if (before) return "Previous ball";
  if (away) return "Gap";
  return sameSide ? "Same side" : "";
}

/**
 * What waits for the next key, and which keys there are.
 * @param {{ header: MatchHeader, state: State, answer: Answer, left?: Team }} view `left`: the team of the arrow to the left
 * @param {(action: string) => string} sign of the key in use; empty where keys are switched off
 */
export function armedWords({ header, state, answer, left = "a" }, sign) {
  const { armed, turned, selected } = state;
  const { serving } = answer.score;
  const striker = answer.rally.at(-1)?.team ?? null;
  /** @param {string} action @param {string} words */
  const key = (action, words) => `${sign(action)} ${words}`.trim();
  const order = left === "a" ? /** @type {const} */ (["a", "b"]) : /** @type {const} */ (["b", "a"]);
  const teams = order.map((team) => key(`team:${team}`, header.teams[team].name)).join("   ");
  if (state.inserting) return `Insert after this one: which stroke? ${key("cancel", "cancels")}`;
  if (selected !== null && turned?.shot === selected) {
    const sides = turned.amends.length === 0 ? "switches the later sides again" : "switches the later sides back";
    return `${key("missed", sides)}. Fixing the new shot; ${key("cancel", "cancels")}`;
  }
  if (selected !== null)
    return `Fixing: stroke, contact, cue, side or end; ${key("missed", "this and later sides")}; ${key("remove", "removes")}, ${key("insert", "inserts after")}, ${key("cancel", "cancels")}`;
  if (armed === "time_out") return `Time-out: ${teams}`;
  if (armed?.startsWith("fault:")) return `Who struck last? ${teams}`;
  if (armed === "replay") return `Replay: ${key("confirm", "to confirm")}`;
  if (armed?.startsWith("annul:"))
    return `That rally is over. ${key("confirm", "annuls it")}, ${key("cancel", "cancels")}`;
  if (armed === "ace") return `ace: ${key("confirm", header.teams[serving].name)}`;
  if (armed !== null)
    return `${said(armed)} by: ${striker === null || state.detail === "ends" ? "" : `${key("confirm", teamName(header, striker))}   `}${teams}`;
  if (state.before) return "The next cue marks the ball before";
  if (state.away) return "Looked away: chart on from what you see";
  if (state.sameSide) return "The next shot is by the same side";
  return "";
}
