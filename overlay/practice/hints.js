// Which keys chart a shot, a cue, an end: what a beginner sees beside the word.
// Follows the recorder's own rules about what needs no key. Pure.

/**
 * @import { Team } from "../types/messages.js"
 * @import { Strokes } from "../shared/charting/presets.js"
 * @import { Comparison, Shot } from "./compare.js"
 */
import { RESET, SCHEME } from "../shared/charting/scheme.js";
import { ATTACKS } from "../shared/charting/recorder.js";

const ACTIONS = new Set(SCHEME.map(({ action }) => action));
/** Strokes whose contact needs no saying. */
const USUAL = {
  volley: "air",
  block: "air",
  overhead: "air",
  erne: "air",
  dink: "bounce",
  drop: "bounce",
  drive: "bounce",
  atp: "bounce",
  return: "bounce",
  lob: "bounce",
  speedup: "bounce",
};

/** @param {Shot} shot @returns {boolean} whether it is met as this stroke usually is */
export const isUsual = ({ stroke, contact }) =>
  contact === null || stroke === "serve" || /** @type {Record<string, string>} */ (USUAL)[stroke] === contact;

/** @param {Shot} shot as it is to be charted @param {number} number from 1 @param {Strokes} [strokes] @returns {string[]} actions, in order */
export function shotActions(shot, number, strokes = "all") {
  const { stroke, contact } = shot;
  const byOrder = number === 1 ? "serve" : number === 2 ? "return" : "volley";
  const then = isUsual(shot) ? [] : [`contact:${contact}`];
  if (stroke === byOrder) return ["next", ...then];
  const exact = `stroke:${stroke}:${contact}`;
  if (ACTIONS.has(exact)) return [exact];
  const plain = `stroke:${stroke}`;
  if (strokes === "few" && plain === RESET.action) return [plain];
  if (ACTIONS.has(plain)) return [plain, ...then];
  const near = SCHEME.find(({ action }) => action.startsWith(`${plain}:`))?.action;
  if (near === undefined) return [];
  return contact === null ? [near] : [near, `contact:${contact}`];
}

/**
 * `attackable` right after an attack means the ball before, unless that one is marked
 * already (recorder.js): the key for the other ball turns it round.
 * @param {readonly Shot[]} shots @param {number} place from 0 @param {string} cue @returns {string[]} actions, right after the shot
 */
export function cueActions(shots, place, cue) {
  const before = shots[place - 1];
  const turned =
    cue === "attackable" &&
    before !== undefined &&
    !before.cues.includes(cue) &&
    ATTACKS.has(shots[place]?.stroke ?? "");
  return [...(turned ? ["before"] : []), `cue:${cue}`];
}

/** @param {string} how @param {Team} by @param {Team} last who struck last @returns {string[]} actions, in order */
export const endActions = (how, by, last) => [
  `end:${how === "ace" ? "winner" : how}`,
  by === last ? "confirm" : `team:${by}`,
];

/** The same where nobody has said any side yet. @param {string} how @param {Team} by @param {Team} last @returns {string[]} */
export const endActionsAlone = (how, by, last) => [
  `end:${how === "ace" ? "winner" : how}`,
  `team:${by}`,
  ...(how === "fault" ? [`team:${last}`] : []),
];

/**
 * Which keys would have been the right ones where something was mistaken.
 * @param {Comparison} comparison @param {Strokes} [strokes] @returns {{ word: string, actions: string[] }[]} each once
 */
export function keysToRemember({ rows }, strokes = "all") {
  /** @type {Map<string, string[]>} */
  const keys = new Map();
  let number = 0;
  for (const { played, findings } of rows) {
    if (played === null) continue;
    number += 1;
    for (const { kind, what } of findings) {
      if (kind === "missed" || kind === "stroke" || kind === "contact")
        keys.set(played.stroke, shotActions(played, number, strokes));
      if (kind === "cue_missed") keys.set(what, [`cue:${what}`]);
      if (kind === "side") keys.set("same side again", ["missed"]);
    }
  }
  return [...keys].map(([word, actions]) => ({ word, actions }));
}
