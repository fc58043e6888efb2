/**
 * Random contents for headers and entries: what a charter might have recorded, plausible or odd.
 *
 * Everything made here is acceptable: fields and options appear only where they belong. Whether
 * an entry may stand at a certain place is decided by `random-chart.mjs`.
 */
import { opponentsOf } from "./chart.mjs";

const STROKES = [
  "serve",
  "return",
  "drive",
  "drop",
  "dink",
  "lob",
  "reset",
  "volley",
  "block",
  "speedup",
  "overhead",
  "erne",
  "atp",
  "other",
];

/** What follows what in an ordinary rally, as weights; the keys are the stroke before. */
const USUAL_NEXT = {
  start: { serve: 1 },
  serve: { return: 10, lob: 1, other: 1 },
  return: { drop: 5, drive: 4, lob: 1 },
  drop: { dink: 3, volley: 2, drive: 1, reset: 1, erne: 0.3 },
  drive: { block: 3, volley: 3, reset: 1, drive: 1 },
  dink: { dink: 6, speedup: 2, lob: 1, drop: 0.5, atp: 0.4, erne: 0.4, reset: 0.5 },
  lob: { overhead: 3, lob: 1, drive: 1, drop: 1, volley: 1 },
  reset: { dink: 3, volley: 2, speedup: 1, drop: 1 },
  volley: { block: 3, volley: 3, reset: 2, drive: 1, lob: 0.5 },
  block: { dink: 2, volley: 3, drop: 1, speedup: 1, drive: 1 },
  speedup: { block: 3, volley: 4, reset: 2, speedup: 0.5 },
  overhead: { reset: 2, block: 2, lob: 2, drive: 1 },
  erne: { block: 2, reset: 2, other: 1 },
  atp: { block: 1, volley: 1, dink: 1 },
  other: { dink: 1, drive: 1, volley: 1, drop: 1 },
};

/** Every stroke, those that the cue table tells apart more often. */
const STROKES_OF_ATTACKS = Object.fromEntries(STROKES.map((stroke) => [stroke, 1]));
Object.assign(STROKES_OF_ATTACKS, { speedup: 5, atp: 4, volley: 3, block: 2, reset: 2, dink: 3, drop: 2, lob: 2 });

const CUE_WEIGHTS = { off_balance: 3, awkward: 2, attackable: 5, net_cord: 1 };
const CONTACT_WEIGHTS = { bounce: 4, air: 4, half_volley: 2 };
const DEPTH_WEIGHTS = { back: 3, transition: 3, line: 4 };
const FAULTS = ["serve", "kitchen", "early_volley", "second_bounce", "net_touch", "body", "other"];
const NOTES = ["wind from the left", "long wait", "ball changed", "caf\u00e9 \u2013 \u201cquotes\u201d"];

/** @param {import('./random-values.mjs').Dice} dice @returns {any} a match header */
export function randomHeader(dice, id) {
  const discipline = dice.weighted({ doubles: 3, singles: 1 });
  const scoring = dice.weighted({ side_out: 1, rally: 1 });
  const points = Number(dice.weighted({ 1: 1, 2: 1, 3: 3, 4: 2, 5: 4, 7: 3, 11: 6, 15: 2, 21: 2, 25: 0.5 }));
  const format = {
    discipline,
    scoring,
    points,
    win_by: dice.weighted({ 1: 1, 2: 3 }) === "1" ? 1 : 2,
    games: Number(dice.weighted({ 1: 2, 3: 3, 5: 1 })),
  };
  if (scoring === "rally") {
    const winningPoint = dice.pick(["any", "server", "server", undefined]);
    if (winningPoint) format.winning_point = winningPoint;
    const positions = dice.pick(["swap", "static", "static", undefined]);
    if (discipline === "doubles" && positions) format.positions = positions;
  }
  const size = discipline === "doubles" ? 2 : 1;
  const team = (name, players) => ({ name, players: players.slice(0, size) });
  return {
    kind: "match",
    chart: 1,
    id,
    title: "Random match",
    court: "1",
    teams: { a: team("Alders", ["Ari", "Ash"]), b: team("Birches", ["Bea", "Bo"]) },
    format,
    first_serve: dice.pick(["a", "b"]),
  };
}

/** Makes the contents of entries for one match. */
export class EntryMaker {
  /**
   * @param {import('./random-values.mjs').Dice} dice
   * @param {any} header
   */
  constructor(dice, header) {
    this.dice = dice;
    this.format = header.format;
    this.singles = header.format.discipline === "singles";
    this.numbered = !this.singles && header.format.scoring === "side_out";
  }

  team() {
    return this.dice.pick(["a", "b"]);
  }

  player() {
    return this.singles ? 0 : this.dice.between(0, 1);
  }

  /** @param {string} previous stroke, `start` at the start of a rally */
  nextStroke(previous, odd) {
    return odd ? this.dice.pick(STROKES) : this.dice.weighted(USUAL_NEXT[previous]);
  }

  shot(team, stroke) {
    const { dice } = this;
    const shot = { kind: "shot", team, stroke };
    if (dice.chance(0.25)) shot.contact = dice.weighted(CONTACT_WEIGHTS);
    if (dice.chance(0.3)) shot.player = this.player();
    if (dice.chance(0.2)) shot.cues = this.cues();
    return shot;
  }

  /** Any stroke met in any way, every third one marked: all rows of the cue table, side by side. */
  shotOfAttacks(team) {
    const { dice } = this;
    const shot = { kind: "shot", team, stroke: dice.weighted(STROKES_OF_ATTACKS) };
    if (dice.chance(0.7)) shot.contact = dice.pick(Object.keys(CONTACT_WEIGHTS));
    if (dice.chance(0.5)) shot.player = this.player();
    if (dice.chance(0.35)) shot.cues = this.cues();
    return shot;
  }

  cues() {
    const kinds = Object.keys(CUE_WEIGHTS);
    if (this.dice.chance(0.7)) return [this.dice.weighted(CUE_WEIGHTS)];
    return this.dice.some(kinds, this.dice.between(0, 3));
  }

  /** @param {string|null} shot id of the shot meant, null for the latest */
  cue(shot) {
    const cue = { kind: "cue", cue: this.dice.weighted(CUE_WEIGHTS) };
    return shot === null ? cue : { ...cue, shot };
  }

  depth() {
    const { dice } = this;
    const depth = { kind: "depth", team: this.team(), depth: dice.weighted(DEPTH_WEIGHTS) };
    return dice.chance(0.35) ? { ...depth, player: this.player() } : depth;
  }

  /** In all the forms a rally's end may be recorded in. */
  rallyEnd(winner) {
    const { dice } = this;
    const kind = "rally_end";
    const form = dice.weighted({ won: 4, how: 6, all: 2, unknown: 1, unsaid: 1 });
    if (form === "won") return { kind, won_by: winner };
    if (form === "unknown") return { kind, won_by: winner, how: "unknown" };
    const how = dice.weighted({ winner: 3, ace: 1, net: 3, out: 3, fault: 2 });
    const by = ["winner", "ace"].includes(how) ? winner : opponentsOf(winner);
    const fault = how === "fault" && dice.chance(0.7) ? { fault: dice.pick(FAULTS) } : {};
    if (form === "unsaid") return { kind, won_by: winner, how, ...fault };
    const player = dice.chance(0.4) ? { player: this.player() } : {};
    const end = { kind, how, by, ...player, ...fault };
    return form === "all" ? { ...end, won_by: winner } : end;
  }

  replay() {
    return this.dice.chance(0.5) ? { kind: "replay" } : { kind: "replay", reason: "ball on court" };
  }

  timeOut() {
    const timeOut = { kind: "time_out", team: this.team() };
    if (!this.dice.chance(0.4)) return timeOut;
    return { ...timeOut, medical: this.dice.chance(0.7) };
  }

  penalty() {
    return { kind: "penalty", team: this.team() };
  }

  lineup() {
    return { kind: "lineup", team: this.team(), starting_server: this.player() };
  }

  retire() {
    return { kind: "retire", team: this.team() };
  }

  note() {
    return { kind: "note", text: this.dice.pick(NOTES) };
  }

  /** @param {import('./scoring.mjs').Match} match as it stands */
  scoreFix(match) {
    const { dice } = this;
    const fix = {
      kind: "score_fix",
      points: this.fixedPoints(match),
      serving: dice.chance(0.5) ? match.serving : this.team(),
    };
    if (this.numbered && dice.chance(0.5)) fix.server = dice.between(1, 2);
    if (dice.chance(0.3)) {
      const most = (this.format.games - 1) / 2;
      fix.games = { a: dice.between(0, most), b: dice.between(0, most) };
    }
    return fix;
  }

  /** Points that play can lead to. */
  fixedPoints(match) {
    const { dice } = this;
    const { points: target, win_by: winBy } = this.format;
    const clamp = (value) => Math.min(Math.max(value, 0), target - 1);
    switch (dice.weighted({ same: 2, near: 4, any: 4, half: 2, even: winBy === 2 ? 1 : 0, over: 1 })) {
      case "same":
        return { ...match.points };
      case "near":
        return {
          a: clamp(match.points.a + dice.between(-2, 2)),
          b: clamp(match.points.b + dice.between(-2, 2)),
        };
      case "half":
        return { a: clamp(Math.ceil(target / 2)), b: clamp(Math.ceil(target / 2) - 1) };
      case "even": {
        const level = target - 1 + dice.between(0, 3);
        return { a: level, b: level + dice.between(0, 1) };
      }
      case "over": {
        const lost = dice.between(0, Math.max(target - winBy, 0));
        return dice.chance(0.5) ? { a: target, b: lost } : { a: lost, b: target };
      }
      default:
        return { a: dice.between(0, target - 1), b: dice.between(0, target - 1) };
    }
  }

  /**
   * Contents for a correction: an entry of any kind.
   * @param {import('./scoring.mjs').Match} match as it stands
   * @param {string|null} shot id of a shot recorded before
   * @param {boolean} withShots whether shots and what belongs to them are charted
   */
  anything(match, shot, withShots) {
    const { dice } = this;
    const kind = dice.weighted({
      shot: withShots ? 8 : 0,
      cue: withShots ? 3 : 0,
      depth: withShots ? 2 : 0,
      rally_end: 6,
      replay: 1,
      time_out: 1,
      penalty: 1,
      score_fix: 0.7,
      lineup: 0.7,
      retire: 0.15,
      note: 1,
    });
    switch (kind) {
      case "shot":
        return this.shot(this.team(), dice.pick(STROKES));
      case "cue":
        return this.cue(shot);
      case "depth":
        return this.depth();
      case "rally_end":
        return this.rallyEnd(this.team());
      case "replay":
        return this.replay();
      case "time_out":
        return this.timeOut();
      case "penalty":
        return this.penalty();
      case "score_fix":
        return this.scoreFix(match);
      case "lineup":
        return this.lineup();
      case "retire":
        return this.retire();
      default:
        return this.note();
    }
  }
}
