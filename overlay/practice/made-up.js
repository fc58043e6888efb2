// A made-up match as something to practice on: rally by rally, every shot with its
// effective contact, its cues and its time. Read with the host's own rules (the
// local chart). Rallies one cannot learn from are left out. Pure but for the local chart.

/**
 * @import { MatchHeader, Score, Team } from "../types/messages.js"
 * @import { Answer, Entry, LocalChart } from "../shared/charting/local-chart.js"
 * @import { Strokes } from "../shared/charting/presets.js"
 * @import { End, Shot } from "./compare.js"
 */
import { strokeIn } from "../shared/charting/presets.js";

/** @typedef {Shot & { at: number, player: 0 | 1 | null }} PlayedShot `at`: ms since the serve */
/** @typedef {{ score: Score, shots: PlayedShot[], end: End & { how: string, by: Team } }} Rally `score`: as it stands before it */
/** @typedef {{ header: MatchHeader, rallies: Rally[] }} MadeUp */

/** Longer rallies tire a beginner more than they teach. */
const LONGEST = 24;
/** Ways to end that a drawing can show. */
const ENDS = new Set(["winner", "ace", "net", "out", "fault"]);

/**
 * @param {string} text a chart file @param {LocalChart} localChart is given back with that match open
 * @param {number} wanted how many rallies at most @returns {MadeUp} @throws where it is no chart file
 */
export function readMatch(text, localChart, wanted) {
  const [header, ...entries] = text
    .split("\n")
    .filter((line) => line.trim() !== "")
    .map((line) => JSON.parse(line));
  let answer = localChart.open(header);
  if (answer.refused !== undefined) throw new Error(`this is no chart to practice on: ${answer.refused.message}`);
  /** @type {Rally[]} */
  const rallies = [];
  let score = answer.score;
  /** @type {Entry[]} */
  let told = [];
  for (const entry of entries) {
    if (rallies.length === wanted) break;
    told.push(entry);
    answer = localChart.take(entry);
    if (entry.kind !== "rally_end" && entry.kind !== "replay") {
      if (told.every(({ kind }) => kind !== "shot")) score = answer.score;
      continue;
    }
    const rally = rallyOf(told, answer, score);
    if (rally !== null) rallies.push(rally);
    told = [];
    score = answer.score;
  }
  return { header, rallies };
}

/** @param {readonly Entry[]} told @param {Answer} answer after its end @param {Score} score before it @returns {Rally | null} */
function rallyOf(told, answer, score) {
  /** @type {Map<string, PlayedShot & { cues: string[] }>} */
  const shots = new Map();
  const contacts = new Map(
    answer.recent.flatMap(({ entry, shot }) => (shot === undefined ? [] : [[entry.id, shot.contact]])),
  );
  let from = 0;
  for (const entry of told) {
    if (entry.kind === "retract" || entry.kind === "amend" || entry.kind === "insert") return null;
    if (entry.kind === "shot") {
      const at = Date.parse(entry.at);
      if (shots.size === 0) from = at;
      shots.set(entry.id, {
        team: /** @type {Team} */ (entry["team"]),
        stroke: String(entry["stroke"]),
        contact: contacts.get(entry.id) ?? null,
        cues: [.../** @type {string[]} */ (entry["cues"] ?? [])],
        at: at - from,
        player: /** @type {0 | 1 | undefined} */ (entry["player"]) ?? null,
      });
    } else if (entry.kind === "cue") {
      const about = shots.get(String(entry["shot"])) ?? [...shots.values()].at(-1);
      if (about !== undefined && !about.cues.includes(String(entry["cue"]))) about.cues.push(String(entry["cue"]));
    }
  }
  const end = endOf(told.at(-1));
  const played = [...shots.values()];
  return end !== null && canBeLearntFrom(played, score) ? { score, shots: played, end } : null;
}

/**
 * A rally as it is to be charted: with few strokes apart, all others are one, and how the ball
 * was met goes with them. @template {Shot} T @param {readonly T[]} shots @param {Strokes} strokes @returns {T[]}
 */
export const asked = (shots, strokes) =>
  strokes === "all"
    ? [...shots]
    : shots.map((shot) => ({
        ...shot,
        stroke: strokeIn(shot.stroke, strokes),
        contact: shot.stroke === "serve" ? shot.contact : null,
      }));

/** @param {readonly PlayedShot[]} shots @param {Score} score */
function canBeLearntFrom(shots, score) {
  const inTurn = shots.every(({ team }, place) => (team === score.serving) === (place % 2 === 0));
  return shots.length > 0 && shots.length <= LONGEST && shots[0]?.stroke === "serve" && inTurn;
}

/** @param {Entry | undefined} entry @returns {Rally["end"] | null} */
function endOf(entry) {
  if (entry === undefined || entry.kind !== "rally_end" || !ENDS.has(String(entry["how"])) || entry["by"] === undefined)
    return null;
  const by = /** @type {Team} */ (entry["by"]);
  const how = String(entry["how"]);
  return { how, by, won_by: winnerOf(how, by) };
}

/** @param {string} how @param {Team} by @returns {Team} */
export const winnerOf = (how, by) => (how === "winner" || how === "ace" ? by : by === "a" ? "b" : "a");
