/**
 * Whose shot it was, whose error, and what is counted for single players: `player.*`.
 *
 * Serve and return know their player from the score; everything else only where it was recorded.
 * In singles there is nobody to tell apart, so nothing is counted.
 */
import { TEAMS, opponentsOf } from "./chart.mjs";

/** The first shot of a rally that tells how the team shares its shots: the two before are set by the rules. */
const FIRST_SHARED_SHOT = 3;

/** How a rally is lost by an error. */
const ERRORS = ["net", "out", "fault"];

/**
 * @typedef {object} Standing
 * @property {boolean} doubles
 * @property {'a'|'b'} serving
 * @property {0|1} server_player
 * @property {0|1} receiver_player
 */

/**
 * @param {any} entry the recorded shot
 * @param {number} number its number in the rally
 * @param {Standing} standing by the score just before it
 * @returns {0|1|null}
 */
export function strikerOf(entry, number, standing) {
  if (entry.player !== undefined && entry.player !== null) return entry.player;
  if (!standing.doubles) return 0;
  const serving = entry.team === standing.serving;
  if (number === 1 && serving && entry.stroke === "serve") return standing.server_player;
  if (number === 2 && !serving) return standing.receiver_player;
  return null;
}

/**
 * Who of the losing team erred; null if nobody did, or nobody knows.
 * @param {any} end the `rally_end`
 * @param {import('./initiative.mjs').Shot[]} shots of the rally
 * @param {'a'|'b'} loser
 */
export function erredBy(end, shots, loser) {
  if (!ERRORS.includes(end.how)) return null;
  if (end.player !== undefined && end.player !== null) return end.player;
  const last = shots.at(-1);
  return last?.team === loser ? last.player : null;
}

const newTally = () => ({ shots: 0, pressed: 0, errors: 0 });

/** Follows what the players of both teams did. */
export class PlayerTracker {
  constructor(header) {
    this.doubles = header.format.discipline === "doubles";
    this.tally = { a: [newTally(), newTally()], b: [newTally(), newTally()] };
  }

  /**
   * @param {import('./initiative.mjs').Event} event
   * @param {any} entry
   * @param {'a'|'b'|null} winner of the rally, if it ended
   */
  step(event, entry, winner) {
    if (event.what !== "ended") return;
    const { shots } = event.rally;
    for (const shot of shots) {
      const known = !shot.assumed && shot.number >= FIRST_SHARED_SHOT && shot.player !== null;
      if (known) this.struck(shot);
    }
    const loser = opponentsOf(winner);
    const erred = erredBy(entry, shots, loser);
    if (erred !== null) this.tally[loser][erred].errors += 1;
  }

  struck({ team, player, heldBefore }) {
    const tally = this.tally[team][player];
    tally.shots += 1;
    if (heldBefore === opponentsOf(team)) tally.pressed += 1;
  }

  /** @returns {object[]} the current readings, none in singles */
  readings() {
    if (!this.doubles) return [];
    return TEAMS.flatMap((team) => this.tally[team].flatMap((own, player) => this.ofPlayer(team, player, own)));
  }

  ofPlayer(team, player, own) {
    const [one, two] = this.tally[team];
    const values = {
      "player.shots": [own.shots, one.shots + two.shots],
      "player.pressed": [own.pressed, own.shots],
      "player.errors": [own.errors, one.errors + two.errors],
    };
    return Object.entries(values).map(([indicator, [part, whole]]) => ({
      indicator,
      team,
      player,
      slot: null,
      value: { type: "share", part, whole },
    }));
  }
}
