// Which rallies are looked at: what a coach can ask for, how the address says it,
// and what the teams did in them. Pure.

/**
 * @import { Review, ReviewRally } from "../types/messages.js"
 * @import { Side } from "../types/view.js"
 */

/** Shots from which on a rally is long, as offered. */
export const LENGTHS = ["8", "12", "20"];
/** Strokes a third shot is usually asked for by. */
export const THIRDS = ["drop", "drive", "lob"];
/** Ends that are the loser's own. */
const OWN_FAULTS = new Set(["net", "out", "fault"]);
/** @type {readonly Side[]} */
export const SIDES = ["a", "b"];

/** @typedef {"game" | "won" | "pressed" | "defense" | "third" | "long"} Question */
/** @typedef {Record<Question, string>} Wish empty: any */

/** What is asked, and which answers an address may give. */
const ANSWERS = /** @type {const} */ ({
  game: /^[1-5]$/,
  won: /^[ab]$/,
  pressed: /^(lost|out)-[ab]$/,
  defense: /^[ab]$/,
  third: /^[a-z]+$/,
  long: /^[1-9]\d{0,2}$/,
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
    (wish.long === "" || rally.shots.length >= Number(wish.long))
  );
}

/** @param {string} answer like `lost-a` */
const side = (answer) => answer.slice(-1);

/** @param {ReviewRally} rally @param {string} team */
const pressedSpells = (rally, team) => rally.spells.filter((spell) => spell.team === team && spell.pressed);

/** @typedef {{ part: number, whole: number }} Share */
/** @typedef {{ label: string, a: Share, b: Share }} Total */

/** @param {readonly ReviewRally[]} rallies @returns {Total[]} of both teams; rallies that do not count are left out, but for their spells */
export function totalsOf(rallies) {
  const counted = rallies.filter((rally) => rally.counted);
  /** @type {(label: string, among: (team: Side) => readonly unknown[], part: (team: Side) => readonly unknown[]) => Total} */
  const total = (label, among, part) => ({
    label,
    a: { part: part("a").length, whole: among("a").length },
    b: { part: part("b").length, whole: among("b").length },
  });
  const isWonBy = (/** @type {Side} */ team) => (/** @type {ReviewRally} */ rally) => rally.end?.won_by === team;
  const served = (/** @type {Side} */ team) => counted.filter((rally) => rally.before.serving === team);
  const thirds = (/** @type {Side} */ team) => served(team).filter((rally) => rally.shots[2]?.stroke === "drop");
  const lost = (/** @type {Side} */ team) => counted.filter((rally) => (rally.end?.won_by ?? team) !== team);
  const spells = (/** @type {Side} */ team) => rallies.flatMap((rally) => pressedSpells(rally, team));
  return [
    total(
      "Rallies won",
      () => counted,
      (team) => counted.filter(isWonBy(team)),
    ),
    total("Won when serving", served, (team) => served(team).filter(isWonBy(team))),
    total("Came out of pressure", spells, (team) => spells(team).filter(({ outcome }) => outcome !== "lost")),
    total("Third-shot drop, rally won", thirds, (team) => thirds(team).filter(isWonBy(team))),
    total("Lost by own net, out or fault", lost, (team) =>
      lost(team).filter(({ end }) => end?.by === team && OWN_FAULTS.has(end.how ?? "")),
    ),
  ];
}

/** @param {Review} review @returns {string[]} the games that rallies were played in */
export function gamesOf({ rallies }) {
  return [...new Set(rallies.map(({ before }) => String(before.game)))];
}
