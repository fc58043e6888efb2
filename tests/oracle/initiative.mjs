/**
 * Follows a rally shot by shot and says who holds the initiative, and why.
 *
 * The rules are common practice of the trade; there is no published standard. `step` must be
 * given every effective entry in order, and be told when one of them ended the match. It knows
 * nothing about the score; what spells and other indicators need is in the event it returns.
 */
import { TEAMS, opponentsOf } from "./chart.mjs";
import { strikerOf } from "./players.mjs";

/** What the stroke says about the contact where the charter did not say it. */
const CONTACT_OF_STROKE = {
  volley: "air",
  block: "air",
  overhead: "air",
  erne: "air",
  dink: "bounce",
  drop: "bounce",
  drive: "bounce",
  atp: "bounce",
};

/** Strokes that only keep the ball in play while under attack. */
const PASSIVE_STROKES = ["block", "reset"];

/** Strokes that are hit to attack, however the ball was met. */
const ATTACKING_STROKES = ["speedup", "atp"];

/** Answered with one of these, a ball that sat up was let go. */
const LETTING_GO = ["dink", "drop", "lob"];

const DEEPEST_FIRST = ["back", "transition", "line"];

/**
 * @typedef {object} Shot one contact with the ball, recorded or assumed
 * @property {'a'|'b'} team
 * @property {number} number from 1, assumed shots included
 * @property {boolean} assumed
 * @property {string} [id]
 * @property {string} [stroke]
 * @property {0|1|null} [player] who of the team struck it, null where unknown
 * @property {string|null} contact null where unknown
 * @property {Map<string, string>} marks cue → the entry that first marked it, in that order
 * @property {number} [at] milliseconds
 * @property {boolean} [inserted]
 * @property {boolean} [leftShort] D3 waits for the answer: a soft ball by a team not at the line
 * @property {'a'|'b'|null} [heldBefore] who held the initiative just before this shot
 */

/**
 * @typedef {object} Row one cue read, standing against a team
 * @property {string} code
 * @property {'a'|'b'} team
 * @property {string} entry
 * @property {boolean} inferred
 */

/**
 * The contact of a shot, said or inferred.
 * @param {any} shot the recorded entry
 * @param {number} number its number in the rally
 * @returns {string|null}
 */
export function contactOf(shot, number) {
  if (shot.stroke === "serve") return null;
  if (shot.contact) return shot.contact;
  const byStroke = CONTACT_OF_STROKE[shot.stroke];
  if (byStroke) return byStroke;
  return number === 2 || number === 3 ? "bounce" : null;
}

/** Where one team stands during one rally. */
class Depth {
  constructor(players) {
    this.players = Array(players).fill("back");
    this.explicit = false;
    this.givenForOne = false;
  }

  /** A team is as deep as its deeper player. */
  get value() {
    return DEEPEST_FIRST.find((depth) => this.players.includes(depth));
  }

  given(depth, player) {
    if (player === undefined || player === null) {
      this.players.fill(depth);
    } else {
      this.players[player] = depth;
      this.givenForOne = true;
    }
    this.explicit = true;
  }

  infer(depth) {
    if (!this.explicit) this.players.fill(depth);
  }

  dinked() {
    if (this.givenForOne) return;
    this.explicit = false;
    this.players.fill("line");
  }

  reading() {
    return { value: this.value, inferred: !this.explicit };
  }
}

/** One rally, from just after the end of the one before. */
class Rally {
  constructor(playersPerTeam) {
    /** @type {Shot[]} */
    this.shots = [];
    this.depth = { a: new Depth(playersPerTeam), b: new Depth(playersPerTeam) };
    this.holder = null;
  }

  get latest() {
    return this.shots.at(-1);
  }

  /** The shot before, if somebody saw it. */
  before(shot) {
    const previous = this.shots[shot.number - 2];
    return previous && !previous.assumed ? previous : null;
  }

  strike({ id, at, inserted, entry }, standing) {
    if (this.latest?.team === entry.team) {
      this.shots.push({
        team: opponentsOf(entry.team),
        number: this.shots.length + 1,
        assumed: true,
        contact: null,
        marks: new Map(),
      });
    }
    const number = this.shots.length + 1;
    const shot = {
      team: entry.team,
      number,
      assumed: false,
      id,
      stroke: entry.stroke,
      player: strikerOf(entry, number, standing),
      contact: contactOf(entry, number),
      marks: new Map(),
      at: Date.parse(at),
      inserted,
      heldBefore: this.holder,
    };
    this.shots.push(shot);
    this.inferDepths(shot);
    for (const cue of entry.cues ?? []) mark(shot, cue, id);
    return shot;
  }

  /** D1 to D4, a later one overriding an earlier. */
  inferDepths(shot) {
    const own = this.depth[shot.team];
    const previous = this.before(shot);
    if (shot.number === 2) own.infer("line");
    if (shot.stroke === "dink") own.dinked();
    if (previous?.leftShort && ["bounce", "half_volley"].includes(shot.contact)) {
      this.depth[previous.team].infer("line");
    }
    if (previous?.stroke === "lob" && shot.contact === "bounce") {
      this.depth[previous.team].infer("line");
      own.infer("back");
    }
    shot.leftShort = ["drop", "reset"].includes(shot.stroke) && own.value !== "line";
  }

  /** A cue about a shot that is none of this rally has no effect. */
  notice(id, { cue, shot: named }) {
    const isMeant = (shot) => !shot.assumed && (named ?? this.latest.id) === shot.id;
    const shot = this.shots.find(isMeant);
    if (shot) mark(shot, cue, id);
  }

  /** @returns {Row[]} sorted by code, then team */
  rows() {
    const shot = this.latest;
    const previous = this.before(shot);
    const scene = { rally: this, shot, previous, own: shot.team, other: opponentsOf(shot.team) };
    const seen = CUE_TABLE.flatMap((read) => read(scene) ?? []);
    return [...seen, ...this.depthRow(shot, seen.length > 0)].sort(byCodeThenTeam);
  }

  /** Where the teams stand counts beside other rows only if both were seen. */
  depthRow(shot, besideOthers) {
    const [a, b] = TEAMS.map((team) => this.depth[team]);
    if (a.value === b.value) return [];
    const bothSeen = a.explicit && b.explicit;
    if (besideOthers && !bothSeen) return [];
    const aIsDeeper = DEEPEST_FIRST.indexOf(a.value) < DEEPEST_FIRST.indexOf(b.value);
    return [against("depth", aIsDeeper ? "a" : "b", shot.id, !bothSeen)];
  }
}

function mark(shot, cue, id) {
  if (!shot.marks.has(cue)) shot.marks.set(cue, id);
}

function byCodeThenTeam(left, right) {
  const [one, two] = [left, right].map((row) => `${row.code} ${row.team}`);
  return one < two ? -1 : one > two ? 1 : 0;
}

const against = (code, team, entry, inferred = false) => ({ code, team, entry, inferred });
const isAttackable = (shot) => shot.marks.has("attackable");

/** Whether the striker was hitting: in the air, or with a stroke meant to attack. */
const isHit = (shot) => shot.contact === "air" || ATTACKING_STROKES.includes(shot.stroke);

/** Whether the shot attacks: hit, not to keep the ball in play, and not sitting up itself. */
const attacks = (shot) => isHit(shot) && !PASSIVE_STROKES.includes(shot.stroke) && !isAttackable(shot);

/** What the row about an attacking shot is called. */
const attackCode = (shot) => (shot.contact === "air" ? "air" : "attack");

/** The cue table but for `depth`, row by row: each returns a row, or nothing. */
const CUE_TABLE = [
  function body({ shot, own }) {
    const seen = [...shot.marks.keys()].find((cue) => ["off_balance", "awkward"].includes(cue));
    return seen && against("body", own, shot.marks.get(seen));
  },
  function halfVolley({ shot, own }) {
    return shot.contact === "half_volley" ? against("half_volley", own, shot.id) : undefined;
  },
  function attackableNow({ shot, own }) {
    return isAttackable(shot) ? against("attackable", own, shot.marks.get("attackable")) : undefined;
  },
  function attackableBefore({ shot, previous, other }) {
    if (!previous || !isAttackable(previous) || isAttackable(shot)) return undefined;
    if (LETTING_GO.includes(shot.stroke)) return undefined;
    return against("attackable", other, previous.marks.get("attackable"));
  },
  function attack({ shot, other }) {
    return attacks(shot) ? against(attackCode(shot), other, shot.id) : undefined;
  },
  function attackedWhileHitting({ shot, previous, own }) {
    const both = previous && attacks(previous) && isHit(shot);
    return both ? against(attackCode(previous), own, shot.id) : undefined;
  },
];

/**
 * Who holds, by the rows read after an entry.
 * @param {Row[]} rows
 * @param {Shot} shot the latest one
 * @param {'a'|'b'|null} before who held just before the entry
 */
function judge(rows, shot, before) {
  const againstA = rows.filter((row) => row.team === "a").length;
  const againstB = rows.length - againstA;
  const strength = rows.length === 0 ? 0 : Math.abs(againstA - againstB) / rows.length;
  const contested = againstA > 0 && againstB > 0;
  const lean = (holder, carried = false) => ({ holder, strength, contested, carried });
  if (againstA < againstB) return lean("a");
  if (againstB < againstA) return lean("b");
  if (rows.length > 0 || shot.stroke === "serve") return lean(null);
  const settled = shot.contact !== null && !PASSIVE_STROKES.includes(shot.stroke);
  return settled ? lean(null) : lean(before, true);
}

const NOBODY = { holder: null, strength: 0, contested: false, carried: false };

/**
 * @typedef {object} Event what an entry did to the rally
 * @property {'read'|'ended'|'replayed'|'cut'|'other'} what `read`: the cues were read anew
 * @property {Rally} rally the rally the entry belongs to, also where it is over with it
 * @property {'a'|'b'|null} before who held just before the entry
 * @property {'a'|'b'|null} holder who holds after it
 * @property {Row[]} rows those read, none unless `read`
 * @property {Shot|null} struck the shot this entry recorded
 */

/** Follows a whole match. */
export class InitiativeFollower {
  constructor(header) {
    this.playersPerTeam = header.format.discipline === "singles" ? 1 : 2;
    this.startRally();
  }

  startRally() {
    this.rally = new Rally(this.playersPerTeam);
    this.rows = [];
    this.state = NOBODY;
  }

  /**
   * @param {import('./chart.mjs').EffectiveEntry} effective
   * @param {boolean} endedMatch whether the match is over with this entry
   * @param {import('./players.mjs').Standing} standing who serves to whom just before the entry
   * @returns {Event}
   */
  step(effective, endedMatch, standing) {
    const { id, entry } = effective;
    const rally = this.rally;
    const before = rally.holder;
    const over = howRallyIsOver(entry.kind, endedMatch);
    if (over) {
      this.startRally();
      return { what: over, rally, before, holder: null, rows: [], struck: null };
    }
    let struck = null;
    if (entry.kind === "shot") struck = rally.strike(effective, standing);
    else if (entry.kind === "cue" && rally.latest) rally.notice(id, entry);
    else if (entry.kind === "depth") rally.depth[entry.team].given(entry.depth, entry.player);

    const read = ["shot", "cue", "depth"].includes(entry.kind) && rally.latest !== undefined;
    if (!read) return { what: "other", rally, before, holder: before, rows: [], struck };
    this.rows = rally.rows();
    this.state = judge(this.rows, rally.latest, before);
    rally.holder = this.state.holder;
    return { what: "read", rally, before, holder: rally.holder, rows: this.rows, struck };
  }

  /** @returns {object[]} the current readings `initiative` and `depth` */
  readings() {
    const { holder, strength, contested, carried } = this.state;
    const flags = [contested && "contested", carried && "carried"].filter(Boolean);
    const lean = {
      indicator: "initiative",
      team: null,
      slot: null,
      value: { type: "lean", toward: holder, strength },
      why: this.rows,
      flags,
    };
    const depths = TEAMS.map((team) => {
      const { value, inferred } = this.rally.depth[team].reading();
      return {
        indicator: "depth",
        team,
        slot: null,
        value: { type: "text", text: value },
        flags: inferred ? ["inferred"] : [],
      };
    });
    return [lean, ...depths];
  }
}

function howRallyIsOver(kind, endedMatch) {
  if (kind === "rally_end") return "ended";
  if (kind === "replay") return "replayed";
  return endedMatch ? "cut" : null;
}
