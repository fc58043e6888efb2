// Corrections as the desk makes them: an entry and what somebody wants of it
// become entries as on the intake. Pure; ids and times are handed in. What a
// correction does, only the host says.

/** @import { EntryJson } from "../../types/host.js" */

/** Ends that the side which struck wins. */
const WINS = new Set(["winner", "ace"]);
/** What the host adds, or what belongs to the entry and not to its content. */
const OWN_FIELDS = new Set(["id", "at", "seq", "received", "crc"]);

export const HOWS = /** @type {const} */ ([
  ["", "not recorded"],
  ["winner", "a winner"],
  ["ace", "an ace"],
  ["net", "ball in the net"],
  ["out", "ball out"],
  ["fault", "a fault"],
  ["unknown", "nobody saw"],
]);

/** @typedef {{ id: string, at: string }} Stamp */
/** @typedef {"a" | "b"} Team */

/** @param {EntryJson} entry @returns {Record<string, unknown>} */
export function contentOf(entry) {
  return Object.fromEntries(Object.entries(entry).filter(([name]) => !OWN_FIELDS.has(name)));
}

/** @param {EntryJson} entry @returns {{ wonBy: Team, how: string }} */
export function endOf(entry) {
  const how = String(entry["how"] ?? "");
  const by = entry["by"] === "b" ? "b" : "a";
  const wonBy = entry["won_by"] === "a" || entry["won_by"] === "b" ? entry["won_by"] : WINS.has(how) ? by : other(by);
  return { wonBy, how };
}

/**
 * The content of a rally end that says who won and how; who struck follows.
 * @param {Record<string, unknown>} before
 * @param {Team} wonBy
 * @param {string} how
 */
export function rallyEnd(before, wonBy, how) {
  const { won_by: _won, how: _how, by: wasBy, player, fault, ...rest } = before;
  const end = { ...rest, kind: "rally_end", won_by: wonBy };
  if (how === "") return end;
  if (how === "unknown") return { ...end, how };
  const by = WINS.has(how) ? wonBy : other(wonBy);
  return {
    ...end,
    how,
    by,
    ...(player !== undefined && by === wasBy ? { player } : {}),
    ...(how === "fault" && fault !== undefined ? { fault } : {}),
  };
}

/**
 * The content of a shot with another team, stroke or contact; a contact that
 * followed from the old stroke goes with it.
 * @param {Record<string, unknown>} before
 * @param {{ team: string, stroke: string, contact: string }} now
 */
export function shotLike(before, { team, stroke, contact }) {
  const { contact: _contact, player, ...rest } = before;
  return {
    ...rest,
    kind: "shot",
    team,
    stroke,
    ...(contact === "" || stroke === "serve" ? {} : { contact }),
    ...(player !== undefined && team === before["team"] ? { player } : {}),
  };
}

/** @param {string} target @param {Record<string, unknown>} content @param {Stamp} stamp */
export function amend(target, content, stamp) {
  return { ...stamp, kind: "amend", target, with: content };
}

/** @param {string} target @param {Stamp} stamp */
export function retract(target, stamp) {
  return { ...stamp, kind: "retract", target };
}

/** @param {string | null} after @param {Record<string, unknown>} content @param {Stamp} stamp */
export function insert(after, content, stamp) {
  return { ...stamp, kind: "insert", after, entry: content };
}

/**
 * The referee's word on the score.
 * @param {{ a: number, b: number, serving: string, server: number | null, games: { a: number, b: number } | null }} word
 * @returns {Record<string, unknown> & { kind: string }}
 */
export function refereesWord({ a, b, serving, server, games }) {
  return {
    kind: "score_fix",
    points: { a, b },
    serving,
    ...(server === null ? {} : { server }),
    ...(games === null ? {} : { games }),
  };
}

/** @param {Team} team @returns {Team} */
export function other(team) {
  return team === "a" ? "b" : "a";
}
