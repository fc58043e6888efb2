// Which player it was, where a charter wishes to say it: one key, tapped again for the
// other partner, once more for nobody. Never asked for: the server and the receiver
// follow from the score. Pure.

/**
 * @import { Answer, Entry, Seen } from "./local-chart.js"
 * @import { Content } from "./recorder.js"
 * @import { MatchHeader, Team } from "../../types/messages.js"
 */
import { endsRally } from "./lines.js";
import { playerName } from "../words.js";

/** @param {Seen} seen @returns {number | undefined} as charted, else as the score says, else nobody knows */
export const playerOf = ({ entry, shot }) =>
  /** @type {number | undefined} */ (entry["player"] ?? shot?.player ?? undefined);

/** @param {Answer} answer @returns {string | undefined} what the key is about while nothing is being fixed: the latest shot, else the latest end */
export const latestOf = ({ rally, recent }) =>
  rally.at(-1)?.id ?? recent.filter(({ entry }) => entry.kind === "rally_end").at(-1)?.entry.id;

/**
 * What one more tap makes of an entry: first the partner of whoever of that team is known
 * to have hit before, then the other one, then nobody.
 * @param {Seen} seen @param {Content} content what it says now
 * @param {Answer} answer @param {MatchHeader} header @returns {Content | string} why it names nobody
 */
export function named(seen, content, answer, header) {
  if (header.format.discipline === "singles") return "in singles there is one player a side";
  const { entry } = seen;
  if (entry.kind !== "shot" && entry.kind !== "rally_end") return "only a shot and the end of a rally have a player";
  const team = /** @type {Team | undefined} */ (entry["team"] ?? entry["by"]);
  if (team === undefined) return "say first by which team it ended: step back to the end, then its key";
  const first = 1 - (firstKnown(seen, team, answer) ?? 1);
  const { player: had, ...rest } = content;
  const nobody = /** @type {Content} */ (rest);
  if (had === undefined) return { ...nobody, player: first };
  return had === first ? { ...nobody, player: 1 - first } : nobody;
}

/** @param {Seen} seen @param {Team} team @param {Answer} answer @returns {number | undefined} */
function firstKnown(seen, team, { recent }) {
  if (seen.entry["player"] === undefined && playerOf(seen) !== undefined) return playerOf(seen);
  /** @type {number | undefined} */
  let known;
  for (const one of recent.slice(0, recent.indexOf(seen))) {
    if (endsRally(one.entry.kind)) known = undefined;
    else if (one.shot?.team === team) known = playerOf(one) ?? known;
  }
  return known;
}

/** @param {MatchHeader} header @param {Entry} entry as it is now @param {Content} content as it will be */
export function namedWords(header, entry, content) {
  const team = /** @type {Team} */ (entry["team"] ?? entry["by"]);
  const player = /** @type {number | undefined} */ (content["player"]);
  return player === undefined
    ? "no player named"
    : `player: ${playerName(header, team, player) || `player ${player + 1}`}`;
}
