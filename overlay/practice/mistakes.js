// Mistakes to practice fixing on: a made-up rally, the keys that chart it with one mistake in
// it, and the fewest keys that put it right by stepping back. Pure.

/**
 * @import { MatchHeader } from "../types/messages.js"
 * @import { Strokes } from "../shared/charting/presets.js"
 * @import { PlayedShot, Rally } from "./made-up.js"
 */
import { said, teamName } from "../shared/charting/words.js";
import { cueActions, shotActions } from "./hints.js";
import { asked } from "./made-up.js";

/** @typedef {"stroke" | "missed" | "extra" | "side" | "cue" | "end_how" | "end_side" | "server"} Mistake */
/**
 * @typedef {object} Task
 * @property {Mistake} kind
 * @property {Rally} rally as it is to be charted
 * @property {string[]} typed actions that chart it with the mistake; none where only the score is wrong
 * @property {string[]} fix the fewest actions that put it right; none where a dialog does
 * @property {number} place of the shot it is about, from 0; -1: it is about none
 * @property {string} instead what was charted in its place
 */

/** @type {Readonly<Record<Mistake, string>>} the kinds, in the order in which they are practiced */
export const MISTAKES = {
  stroke: "wrong stroke",
  end_how: "wrong way to end",
  missed: "missed shot",
  end_side: "end of the wrong side",
  cue: "wrong cue",
  side: "wrong side",
  extra: "shot too many",
  server: "wrong server",
};

/** A mistake lies among the last shots: one notices it soon. */
const SOON = 4;
/** Before this place serve and return follow from the order, and a return may come along. */
const FIRST = 3;

/** @param {readonly Rally[]} rallies @param {number} wanted how many tasks @param {Strokes} strokes @returns {Task[]} every kind in turn, as far as there is a rally for it */
export function tasksFrom(rallies, wanted, strokes) {
  const left = rallies.map((rally) => ({ ...rally, shots: asked(rally.shots, strokes) }));
  const kinds = /** @type {Mistake[]} */ (Object.keys(MISTAKES));
  /** @type {Task[]} */
  const tasks = [];
  for (let turn = 0; tasks.length < wanted && turn < wanted + kinds.length; turn += 1) {
    const kind = /** @type {Mistake} */ (kinds[turn % kinds.length]);
    for (const [at, rally] of left.entries()) {
      const task = taskOf(kind, rally, strokes);
      if (task === null) continue;
      left.splice(at, 1);
      tasks.push(task);
      break;
    }
  }
  return tasks;
}

/** @param {Mistake} kind @param {Rally} rally @param {Strokes} strokes @returns {Task | null} null where this rally does not lend itself to it */
export function taskOf(kind, rally, strokes) {
  const { shots, end, score } = rally;
  const base = { kind, rally, place: -1, instead: "" };
  const right = shots.map((shot, place) => keysFor(shots, shot, place, strokes));
  const how = `end:${end.how === "ace" ? "winner" : end.how}`;
  // By its team: where sides were turned, whoever hit last is another one.
  const ended = [how, `team:${end.by}`];
  if (kind === "server")
    return score.server === null ? null : { ...base, typed: [], fix: [], instead: String(3 - score.server) };
  if (kind === "end_how") {
    const other = { out: "net", net: "out" }[end.how];
    if (other === undefined) return null;
    return { ...base, typed: [...right.flat(), `end:${other}`, `team:${end.by}`], fix: ["older", how], instead: other };
  }
  if (kind === "end_side") {
    const other = end.by === "a" ? "b" : "a";
    const typed = [...right.flat(), how, `team:${other}`];
    return { ...base, typed, fix: ["older", `team:${end.by}`], instead: other };
  }
  const place = placeFor(kind, shots, strokes);
  const shot = shots[place];
  if (shot === undefined) return null;
  const own = strokeKey(shot, place, strokes);
  const back = Array.from({ length: shots.length - place + 1 }, () => "older");
  /** @param {readonly string[][]} keys @param {string[]} last @param {string} [instead] @returns {Task} */
  const task = (keys, last, instead = "") => ({
    ...base,
    place,
    instead,
    typed: [...keys.flat(), ...ended],
    fix: [...back, ...last],
  });
  if (kind === "missed") return task(put(right, place, 1), ["insert", own]);
  if (kind === "extra") return task(put(right, place + 1, 0, ["stroke:other"]), ["remove"]);
  if (kind === "side") return task(put(right, place, 1, ["missed", ...(right[place] ?? [])]), ["missed"]);
  if (kind === "cue") return task(put(right, place, 1, [...(right[place] ?? []), "cue:awkward"]), ["cue:awkward"]);
  const wrong = shot.stroke === "dink" ? "drop" : "dink";
  return task(put(right, place, 1, [`stroke:${wrong}`]), [own], wrong);
}

/** @param {readonly string[][]} keys @param {number} place @param {number} gone how many go @param {string[][]} come in their place */
const put = (keys, place, gone, ...come) => [...keys.slice(0, place), ...come, ...keys.slice(place + gone)];

/** @param {readonly PlayedShot[]} shots @param {PlayedShot} shot @param {number} place @param {Strokes} strokes */
const keysFor = (shots, shot, place, strokes) => [
  ...shotActions(shot, place + 1, strokes),
  ...shot.cues.flatMap((cue) => cueActions(shots, place, cue)),
];

/** The key of a stroke where order says nothing: while fixing. @param {PlayedShot} shot @param {number} place @param {Strokes} strokes */
function strokeKey(shot, place, strokes) {
  const [key = ""] = shotActions(shot, place + 1, strokes);
  return key === "next" ? `stroke:${shot.stroke}` : key;
}

/** A late shot that one key says, without marks on it or beside it. @param {Mistake} kind @param {readonly PlayedShot[]} shots @param {Strokes} strokes */
function placeFor(kind, shots, strokes) {
  const plain = (/** @type {number} */ place) => (shots[place]?.cues.length ?? 0) === 0;
  const until = kind === "stroke" || kind === "cue" ? shots.length : shots.length - 1;
  for (let place = until - 1; place >= Math.max(FIRST, shots.length - SOON); place -= 1) {
    const shot = shots[place];
    if (shot === undefined || shotActions(shot, place + 1, strokes).length !== 1) continue;
    if (plain(place - 1) && plain(place) && plain(place + 1)) return place;
  }
  return -1;
}

/** @param {Task} task @param {MatchHeader} header @returns {string} what happened, and what was charted */
export function taskWords({ kind, rally, place, instead }, header) {
  const shot = rally.shots[place];
  const number = place + 1;
  const who = shot === undefined ? "" : teamName(header, shot.team);
  const stroke = said(shot?.stroke);
  const { how, by } = rally.end;
  switch (kind) {
    case "stroke":
      return `Shot ${number} is charted as: ${said(instead)}. It was: ${stroke}.`;
    case "missed":
      return `Shot ${number} was missed: ${stroke}, ${who}.`;
    case "extra":
      return `After shot ${number} one more was charted. Nobody played it.`;
    case "side":
      return `Shot ${number} was by ${who}. It and every later one are on the wrong side.`;
    case "cue":
      return `Shot ${number} is marked awkward. It was not.`;
    case "end_how":
      return `The end is charted as: ${said(instead)}. It was: ${said(how)}.`;
    case "end_side":
      return `The end is charted for ${teamName(header, instead)}. It was by ${teamName(header, by)}.`;
    case "server":
      return `The referee says: server ${rally.score.server}. The page has server ${instead}.`;
  }
}
