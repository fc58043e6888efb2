/**
 * The team shares that are counted when a rally has ended, and the run of points.
 *
 * A replayed or cut-off rally contributes nothing, so nothing has ever to be taken back here.
 * Marks count as they stand when the rally ends.
 */
import { TEAMS, opponentsOf } from "./chart.mjs";

const isStroke = (stroke) => (shot) => !shot.assumed && shot.stroke === stroke;
const isAttackable = (shot) => shot.marks.has("attackable");

/** How a rally ends by the losing team's own doing. */
const GIFTS = ["net", "out", "fault"];

/** What is noted during a rally, until it ends. */
const newNotes = () => ({
  offenses: [],
  open: null,
  settled: false,
  firstFromNeutral: null,
  pressed: { a: false, b: false },
});

/**
 * @typedef {object} EndedRally
 * @property {import('./initiative.mjs').Shot[]} shots
 * @property {'a'|'b'} winner
 * @property {'a'|'b'} served who served by the score when it ended
 * @property {'a'|'b'|null} holder just before it ended
 * @property {string|null} how null where that is not known
 * @property {any} notes
 */

/**
 * One indicator a row: for a team, each case that counts as `true` or `false`.
 * With slots, a case is `[slot, boolean]`.
 * @type {Record<string, (rally: EndedRally, team: 'a'|'b') => (boolean|[string, boolean])[]>}
 */
const SHARES = {
  "offense.finished": ({ notes, winner }, team) =>
    notes.offenses
      .filter((spell) => spell.team === team && spell.earned)
      .map((spell) => spell === notes.open && winner === team),

  "neutral.first": ({ notes }, team) => (notes.firstFromNeutral === null ? [] : [notes.firstFromNeutral === team]),

  "defense.bounced": ({ shots }, team) =>
    shots
      .filter((shot) => !shot.assumed && shot.team === team && shot.heldBefore === opponentsOf(team))
      .map((shot) => shots[shot.number])
      .filter((answer) => answer && !answer.assumed && answer.contact !== null)
      .map((answer) => ["bounce", "half_volley"].includes(answer.contact)),

  "serve.won": ({ served, winner }, team) => (served === team ? [winner === team] : []),

  "third.won": ({ shots, served, winner }, team) =>
    served === team && shots[2] && !shots[2].assumed ? [[shots[2].stroke, winner === team]] : [],

  "speedup.won": ({ shots, winner }, team) => {
    const first = shots.find((shot) => shot.team === team && isStroke("speedup")(shot));
    if (!first) return [];
    const ball = shots[first.number - 2];
    const satUp = ball !== undefined && isAttackable(ball);
    return [[satUp ? "sitter" : "other", winner === team]];
  },

  "sitter.punished": ({ shots, winner }, team) => {
    const offered = shots.some((shot) => shot.team !== team && isAttackable(shot));
    return offered ? [winner === team] : [];
  },

  "pressed.won": ({ shots, notes, winner }, team) => (shots.length > 0 && notes.pressed[team] ? [winner === team] : []),

  "unpressed.won": ({ shots, notes, winner }, team) =>
    shots.length > 0 && !notes.pressed[team] ? [winner === team] : [],

  "gift.share": ({ winner, holder, how }, team) =>
    winner === team || how === null ? [] : [GIFTS.includes(how) && holder !== winner],
};

/** Indicators that exist only slot by slot, each from its first case on. */
const SLOTTED = ["third.won", "speedup.won"];

/** Follows the counted shares of a whole match. */
export class CountTracker {
  constructor() {
    /** @type {Map<string, {indicator: string, team: string, slot: string|null, part: number, whole: number}>} */
    this.shares = new Map();
    for (const indicator of Object.keys(SHARES)) {
      if (SLOTTED.includes(indicator)) continue;
      for (const team of TEAMS) this.share(indicator, team, null);
    }
    this.run = { a: 0, b: 0 };
    this.notes = newNotes();
  }

  share(indicator, team, slot) {
    const key = `${indicator} ${team} ${slot}`;
    if (!this.shares.has(key)) this.shares.set(key, { indicator, team, slot, part: 0, whole: 0 });
    return this.shares.get(key);
  }

  /**
   * @param {import('./initiative.mjs').Event} event
   * @param {object} play
   * @param {any} play.entry
   * @param {'a'|'b'|null} play.winner of the rally, if it ended
   * @param {'a'|'b'} play.served who was serving just before the entry
   * @param {'a'|'b'|null} play.pointFor
   */
  step(event, { entry, winner, served, pointFor }) {
    if (pointFor !== null) {
      this.run[pointFor] += 1;
      this.run[opponentsOf(pointFor)] = 0;
    }
    if (event.what === "other") return;
    if (event.what === "read") {
      this.note(event);
      return;
    }
    if (event.what === "ended") {
      const { shots } = event.rally;
      const how = !entry.how || entry.how === "unknown" ? null : entry.how;
      this.count({ shots, winner, served, holder: event.before, how, notes: this.notes });
    }
    this.notes = newNotes();
  }

  note({ holder, rows, rally }) {
    const { notes } = this;
    if (notes.open && notes.open.team !== holder) notes.open = null;
    if (holder === null) {
      const bothAtLine = TEAMS.every((team) => rally.depth[team].value === "line");
      if (bothAtLine) notes.settled = true;
      return;
    }
    if (!notes.open) {
      notes.open = { team: holder, earned: false };
      notes.offenses.push(notes.open);
    }
    const pressing = rows.some((row) => row.team !== holder && row.code !== "depth");
    if (!pressing) return;
    notes.open.earned = true;
    notes.pressed[opponentsOf(holder)] = true;
    if (notes.settled) notes.firstFromNeutral ??= holder;
  }

  count(rally) {
    for (const [indicator, casesOf] of Object.entries(SHARES)) {
      for (const team of TEAMS) {
        for (const item of casesOf(rally, team)) {
          const [slot, won] = Array.isArray(item) ? item : [null, item];
          const share = this.share(indicator, team, slot);
          share.whole += 1;
          if (won) share.part += 1;
        }
      }
    }
  }

  /** @returns {object[]} the current readings */
  readings() {
    const shares = [...this.shares.values()].map(({ indicator, team, slot, part, whole }) => ({
      indicator,
      team,
      slot,
      value: { type: "share", part, whole },
    }));
    const runs = TEAMS.map((team) => ({
      indicator: "score.run",
      team,
      slot: null,
      value: { type: "count", n: this.run[team] },
    }));
    return [...shares, ...runs];
  }
}
