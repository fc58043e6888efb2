// Which rallies are looked at: what a coach can ask for, how the address says it,
// and what the teams did in them. Pure.

/**
 * @import { Review, ReviewRally } from "../types/messages.js"
 * @import { Side } from "../types/view.js"
 */

import { depthOf } from "../shared/charted.js";
import { PLAYER_ANSWER, isOfPlayerFigure } from "./players.js";

/** Shots from which on a rally is long, as offered. */
export const LENGTHS = ["8", "12", "20"];
/** Strokes a third shot is usually asked for by. */
export const THIRDS = ["drop", "drive", "lob"];
/** Ends that are the loser's own. */
const OWN_FAULTS = new Set(["net", "out", "fault"]);
/** @type {readonly Side[]} */
export const SIDES = ["a", "b"];

/** @typedef {"game" | "won" | "pressed" | "defense" | "third" | "long" | "figure"} Question */
/** @typedef {Record<Question, string>} Wish empty: any */

/** What is asked, and which answers an address may give. */
const ANSWERS = /** @type {const} */ ({
  game: /^[1-5]$/,
  won: /^[ab]$/,
  pressed: /^(lost|out)-[ab]$/,
  defense: /^[ab]$/,
  third: /^[a-z]+$/,
  long: /^[1-9]\d{0,2}$/,
  figure: new RegExp(`^(all|serve|pressed|otherwise|escape|drop|own)-[ab]-(part|whole)$|${PLAYER_ANSWER.source}`),
});
export const QUESTIONS = /** @type {Question[]} */ (Object.keys(ANSWERS));

/** @param {URLSearchParams} query @returns {Wish} what is no answer asks for nothing */
export function readWish(query) {
  const said = QUESTIONS.map((question) => {
    const answer = query.get(question) ?? "";
    return [question, ANSWERS[question].test(answer) ? answer : ""];
  });
  return Object.fromEntries(said);
}

/** @param {URL} address @param {Wish} wish @param {number | null} open the rally that is open @returns {URL} */
export function addressOf(address, wish, open) {
  const target = new URL(address);
  for (const [name, value] of [...Object.entries(wish), ["rally", open === null ? "" : String(open)]]) {
    if (value === "") target.searchParams.delete(name ?? "");
    else target.searchParams.set(name ?? "", value ?? "");
  }
  return target;
}

/** @param {ReviewRally} rally @param {Wish} wish */
export function isWished(rally, wish) {
  const won = rally.end?.won_by ?? null;
  return (
    (wish.game === "" || rally.before.game === Number(wish.game)) &&
    (wish.won === "" || won === wish.won) &&
    (wish.pressed === "" ||
      pressedSpells(rally, side(wish.pressed)).some(
        ({ outcome }) => (outcome === "lost") === wish.pressed.startsWith("lost"),
      )) &&
    (wish.defense === "" || (won === wish.defense && pressedSpells(rally, wish.defense).length > 0)) &&
    (wish.third === "" || rally.shots[2]?.stroke === wish.third) &&
    (wish.long === "" || rally.shots.length >= Number(wish.long)) &&
    (wish.figure === "" || isOfFigure(rally, wish.figure))
  );
}

/** @param {string} answer like `lost-a` */
const side = (answer) => answer.slice(-1);

/** @param {ReviewRally} rally @param {string} team */
const pressedSpells = (rally, team) => rally.spells.filter((spell) => spell.team === team && spell.pressed);

/** @typedef {{ part: number, whole: number }} Share */
/** @typedef {{ key: string, label: string, a: Share, b: Share }} Total */

/**
 * One kind of figure: which rallies it counts for a team, and which of these it is about.
 * @typedef {object} Figure
 * @property {string} key as the address has it
 * @property {string} label
 * @property {(rally: ReviewRally, team: Side) => boolean} whole
 * @property {(rally: ReviewRally, team: Side) => boolean} part
 */

const isWonBy = (/** @type {ReviewRally} */ rally, /** @type {Side} */ team) => rally.end?.won_by === team;
const isPressed = (/** @type {ReviewRally} */ rally, /** @type {Side} */ team) => pressedSpells(rally, team).length > 0;

/**
 * The first two lead: "Rallies won under pressure 26 of 58, otherwise 32 of 41".
 * @type {readonly Figure[]}
 */
const FIGURES = [
  {
    key: "pressed",
    label: "Rallies won under pressure",
    whole: (rally, team) => rally.counted && rally.shots.length > 0 && isPressed(rally, team),
    part: isWonBy,
  },
  {
    key: "otherwise",
    label: "… otherwise",
    whole: (rally, team) => rally.counted && rally.shots.length > 0 && !isPressed(rally, team),
    part: isWonBy,
  },
  { key: "all", label: "Rallies won", whole: (rally) => rally.counted, part: isWonBy },
  {
    key: "serve",
    label: "Won on serve",
    whole: (rally, team) => rally.counted && rally.before.serving === team,
    part: isWonBy,
  },
  {
    key: "drop",
    label: "Won with third-shot drop",
    whole: (rally, team) => rally.counted && rally.before.serving === team && rally.shots[2]?.stroke === "drop",
    part: isWonBy,
  },
  {
    key: "own",
    label: "Lost to own error",
    whole: (rally, team) => rally.counted && (rally.end?.won_by ?? team) !== team,
    part: ({ end }, team) => end?.by === team && OWN_FAULTS.has(end.how ?? ""),
  },
];

/** @param {ReviewRally} rally @param {string} figure like `pressed-a-part` */
function isOfFigure(rally, figure) {
  if (PLAYER_ANSWER.test(figure)) return isOfPlayerFigure(rally, figure);
  const [key, team, which] = /** @type {[string, Side, string]} */ (figure.split("-"));
  if (key === "escape") {
    const spells = pressedSpells(rally, team);
    return which === "part" ? spells.some(({ outcome }) => outcome !== "lost") : spells.length > 0;
  }
  const found = FIGURES.find((one) => one.key === key);
  return found?.whole(rally, team) === true && (which === "whole" || found.part(rally, team));
}

/** @param {readonly ReviewRally[]} rallies @returns {Total[]} of both teams; rallies that do not count are left out, but for their spells */
export function totalsOf(rallies) {
  const totals = FIGURES.map(({ key, label, whole, part }) => {
    const share = (/** @type {Side} */ team) => {
      const among = rallies.filter((rally) => whole(rally, team));
      return { part: among.filter((rally) => part(rally, team)).length, whole: among.length };
    };
    return { key, label, a: share("a"), b: share("b") };
  });
  const escapes = (/** @type {Side} */ team) => {
    const spells = rallies.flatMap((rally) => pressedSpells(rally, team));
    return { part: spells.filter(({ outcome }) => outcome !== "lost").length, whole: spells.length };
  };
  totals.splice(2, 0, { key: "escape", label: "Came out of pressure", a: escapes("a"), b: escapes("b") });
  return totals;
}

/** @param {Review} review @returns {import("../shared/charted.js").Depth | null} */
export function depthOfReview({ rallies }) {
  const ended = rallies.filter(({ end }) => end !== null);
  return depthOf({
    shots: rallies.filter(({ shots }) => shots.length > 0).length,
    served: rallies.filter(({ shots }) => shots[0]?.stroke === "serve").length,
    ended: ended.length,
    ends: ended.filter(({ end }) => end?.how != null && end.how !== "unknown").length,
  });
}

/** @param {Review} review @returns {string[]} the games that rallies were played in */
export function gamesOf({ rallies }) {
  return [...new Set(rallies.map(({ before }) => String(before.game)))];
}
