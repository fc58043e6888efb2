// What each player did in the rallies that are looked at: of the team's shots, of the
// shots under pressure, of the errors. Counted as `player.*` is, over rallies that count,
// from shots and ends whose player is known. Pure.

/**
 * @import { ReviewRally, ReviewShot } from "../types/messages.js"
 * @import { Side } from "../types/view.js"
 */

/** Serve and return are struck by whom the rules say. */
const FIRST_SHARED_SHOT = 3;
const OWN_FAULTS = new Set(["net", "out", "fault"]);

/** @typedef {{ team: Side, player: number }} Player */
/** @type {readonly Player[]} */
export const PLAYERS = /** @type {const} */ (["a", "b"]).flatMap((team) => [0, 1].map((player) => ({ team, player })));

/**
 * One figure of a player, rally by rally: how much of it there is, and of how much.
 * @typedef {object} PlayerFigure
 * @property {string} key as the address has it
 * @property {string} indicator that is counted the same way
 * @property {(rally: ReviewRally, player: Player) => number} part
 * @property {(rally: ReviewRally, player: Player) => number} whole
 */

/** @type {readonly PlayerFigure[]} */
export const PLAYER_FIGURES = [
  {
    key: "struck",
    indicator: "player.shots",
    part: (rally, player) => shotsBy(rally, player).length,
    whole: (rally, { team }) => named(rally, team).length,
  },
  {
    key: "defended",
    indicator: "player.pressed",
    part: (rally, player) => shotsBy(rally, player).filter((shot) => isOnDefense(rally, shot)).length,
    whole: (rally, player) => shotsBy(rally, player).length,
  },
  {
    key: "erred",
    indicator: "player.errors",
    part: (rally, { team, player }) => Number(isErrorOf(rally, team) && rally.end?.player === player),
    whole: (rally, { team }) => Number(isErrorOf(rally, team)),
  },
];

/** @param {ReviewRally} rally @param {Side} team the team's shots that either partner could strike, and whose player is known */
const named = (rally, team) =>
  rally.counted
    ? rally.shots.filter((shot) => shot.team === team && shot.n >= FIRST_SHARED_SHOT && shot.player !== null)
    : [];

/** @param {ReviewRally} rally @param {Player} player */
const shotsBy = (rally, { team, player }) => named(rally, team).filter((shot) => shot.player === player);

/** Whether the opponents held the initiative right before. @param {ReviewRally} rally @param {ReviewShot} shot */
function isOnDefense(rally, { n, team }) {
  const before = rally.shots.filter((shot) => shot.n < n && !shot.assumed).at(-1);
  return before !== undefined && before.toward !== null && before.toward !== team;
}

/** Whether the team lost it by an error of a player who is known. @param {ReviewRally} rally @param {Side} team */
const isErrorOf = ({ counted, end }, team) =>
  counted &&
  end !== null &&
  end.by === team &&
  end.won_by !== team &&
  OWN_FAULTS.has(end.how ?? "") &&
  end.player !== null;

/**
 * @param {readonly ReviewRally[]} rallies
 * @param {Player} player
 * @returns {{ key: string, part: number, whole: number }[]} in the order of `PLAYER_FIGURES`
 */
export function playerTotals(rallies, player) {
  const sum = (/** @type {PlayerFigure["part"]} */ count) =>
    rallies.reduce((all, rally) => all + count(rally, player), 0);
  return PLAYER_FIGURES.map(({ key, part, whole }) => ({ key, part: sum(part), whole: sum(whole) }));
}

/** What the address says of a player's figure. */
export const PLAYER_ANSWER = /^(struck|defended|erred)-([ab])([01])-(part|whole)$/;

/** @param {ReviewRally} rally @param {string} figure like `struck-a1-part` @returns {boolean} whether the rally adds to it */
export function isOfPlayerFigure(rally, figure) {
  const [, key, team, number, which] = PLAYER_ANSWER.exec(figure) ?? [];
  const found = PLAYER_FIGURES.find((one) => one.key === key);
  if (found === undefined) return false;
  const player = { team: /** @type {Side} */ (team), player: Number(number) };
  return (which === "part" ? found.part(rally, player) : found.whole(rally, player)) > 0;
}
