// Whose shot it was, where one key was too few or too many: sides alternate by
// themselves, so every later shot of that rally stands on the wrong side and has to be
// turned over, up to where another gap has already put it right. Pure.

/**
 * @import { Content } from "./recorder.js"
 * @import { Entry } from "./local-chart.js"
 * @import { MatchHeader, Team } from "../../types/messages.js"
 */
import { endsRally } from "./lines.js";
import { said, teamName } from "./words.js";

/** @typedef {{ target: string, content: Content }} Turned a shot, and what it says on the other side */
/** @typedef {{ turned: Turned[], end: Entry | undefined }} Turning `end`: the end of the rally, where its last shot was turned and it names a team */

/** @param {unknown} team @returns {Team} */
export const otherTeam = (team) => (team === "a" ? "b" : "a");

/**
 * @param {readonly Entry[]} later the effective entries after the place, oldest first
 * @param {Team | undefined} before who struck the shot before; undefined: the first shot is turned whoever struck it
 * @param {(entry: Entry) => Content} contentOf
 * @returns {Turning}
 */
export function turnAfter(later, before, contentOf) {
  /** @type {Turned[]} */
  const turned = [];
  const stop = later.findIndex(({ kind }) => endsRally(kind));
  const shots = later.slice(0, stop === -1 ? later.length : stop).filter(({ kind }) => kind === "shot");
  let last = before;
  for (const shot of shots) {
    if (last !== undefined && shot["team"] !== last) break;
    last = otherTeam(shot["team"]);
    // A player's number is one of the team that did not strike it after all.
    const { player: _, ...content } = contentOf(shot);
    turned.push({ target: shot.id, content: { ...content, kind: "shot", team: last } });
  }
  const end = stop === -1 ? undefined : later[stop];
  const reached = turned.length > 0 && turned.length === shots.length;
  return { turned, end: reached && end?.["by"] !== undefined ? end : undefined };
}

/** @param {MatchHeader} header @param {string} did what it goes with @param {Turning} turning */
export function turningWords(header, did, { turned, end }) {
  if (turned.length === 0) return did;
  const shots = turned.length === 1 ? "1 later shot" : `${turned.length} later shots`;
  const stays = end === undefined ? "" : `; the end stays ${said(end["how"])} by ${teamName(header, end["by"])}`;
  return `${did}; ${shots} switched to the other team${stays}`;
}
