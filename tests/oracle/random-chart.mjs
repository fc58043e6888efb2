#!/usr/bin/env node
/**
 * Random charts that are acceptable from the first line to the last, for comparing two
 * implementations. The same seed gives the same chart.
 *
 *   node random-chart.mjs SEED [--kind score|shots|mixed|attacks]
 *   node random-chart.mjs SEED [--kind …] --many N --out DIR     seeds SEED to SEED + N - 1
 *
 * The score is kept along the way, so that after the end of the match only corrections and notes
 * follow, unless a correction brings the match back. Odd charts are wanted: shots out of turn,
 * missing serves, cues about nothing, corrections of corrections.
 */
import { mkdirSync, realpathSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { CORRECTION_KINDS, effectiveChart, opponentsOf } from "./chart.mjs";
import { EntryMaker, randomHeader } from "./random-entries.mjs";
import { Dice } from "./random-values.mjs";
import { Match } from "./scoring.mjs";

const KINDS = ["score", "shots", "mixed", "attacks"];

/** A chart being recorded. */
class Recorder {
  constructor(seed, kind) {
    this.dice = new Dice(seed);
    this.kind = kind;
    this.header = randomHeader(this.dice, `random-${seed}`);
    this.make = new EntryMaker(this.dice, this.header);
    this.match = new Match(this.header);
    this.clock = Date.UTC(2025, 4, 3, 10);
    /** Dice of its own, so that a seed's chart is the same whether its clock is ever set back or not. */
    this.clockDice = new Dice(seed ^ 0x0c10c4);
    this.setBackRate = this.clockDice.pick([0, 0, 0.01, 0.1]);
    this.idStyle = this.dice.pick(["e", "Tablet-1_", "x"]);
    /** @type {import('./chart.mjs').FileEntry[]} */
    this.entries = [];
    /** Ids by what may be said about them; an insert is a plain entry and a correction as well. */
    this.ids = { plain: [], corrections: [], shots: [] };
    this.correctionRate = this.dice.pick([0, 0.01, 0.03, 0.08]);
    this.room = Number(this.dice.weighted({ 20: 1, 60: 3, 150: 4, 400: 2, 900: 0.5 }));
  }

  get over() {
    return this.match.winner !== null;
  }

  get full() {
    return this.entries.length >= this.room;
  }

  /** @returns {string} the id of the new entry */
  record(content, least = 0, most = 3000) {
    this.clock += this.dice.between(least, most);
    if (this.clockDice.chance(this.setBackRate)) this.clock -= this.clockDice.between(1, 6000);
    const seq = this.entries.length + 1;
    const id = `${this.idStyle}${seq}`;
    const at = new Date(this.clock).toISOString();
    const extra = this.dice.chance(0.02) ? { x_source: "tablet" } : {};
    const entry = { id, at, ...content, ...extra };
    this.entries.push({ id, at, seq, entry });
    const correction = CORRECTION_KINDS.includes(content.kind);
    if (correction) this.ids.corrections.push(id);
    if (!correction || content.kind === "insert") this.ids.plain.push(id);
    if ((content.entry ?? content).kind === "shot") this.ids.shots.push(id);
    if (correction) this.keepScoreAnew();
    else this.match.apply(content);
    return id;
  }

  /** A new plain entry always comes last, but a correction may change anything before. */
  keepScoreAnew() {
    this.match = new Match(this.header);
    for (const { entry } of effectiveChart(this.entries)) this.match.apply(entry);
  }

  /** One of them, a late one more likely than an early one; null if there is none. */
  lately(ids) {
    if (ids.length === 0) return null;
    if (this.dice.chance(0.3)) return this.dice.pick(ids);
    return ids[Math.max(ids.length - this.dice.between(1, 8), 0)];
  }

  correct() {
    const { dice, ids } = this;
    const act = dice.weighted({ retract: 3, undo: 2, amend: 4, insert: 4 });
    const any = this.lately(ids.plain);
    if (act === "insert") {
      const after = any === null || dice.chance(0.06) ? null : this.insertPlace(any);
      this.record({ kind: "insert", after, entry: this.content() });
    } else if (any !== null && act === "amend") {
      this.record({ kind: "amend", target: any, with: this.content() });
    } else if (act === "undo" && ids.corrections.length > 0) {
      this.record({ kind: "retract", target: this.lately(ids.corrections) });
    } else if (any !== null) {
      this.record({ kind: "retract", target: any });
    }
  }

  /** Often where something was inserted before, or after what was inserted. */
  insertPlace(any) {
    const { dice } = this;
    const inserts = this.entries.filter(({ entry }) => entry.kind === "insert");
    if (inserts.length === 0 || !dice.chance(0.4)) return any;
    const earlier = dice.pick(inserts);
    return dice.chance(0.5) ? earlier.entry.after : earlier.id;
  }

  content() {
    const shot = this.dice.chance(0.5) ? this.lately(this.ids.shots) : null;
    return this.make.anything(this.match, shot, this.kind !== "score");
  }

  maybeCorrect() {
    while (this.dice.chance(this.correctionRate)) this.correct();
  }

  /** Records with this probability, and never after the end of the match. */
  maybe(probability, makeContent) {
    if (this.over || !this.dice.chance(probability)) return;
    this.record(makeContent());
    this.maybeCorrect();
  }

  /** What may happen at any time, in a rally or between two. */
  incidents(scale) {
    const { make } = this;
    this.maybe(0.05 * scale, () => make.timeOut());
    this.maybe(0.04 * scale, () => make.penalty());
    this.maybe(0.03 * scale, () => make.scoreFix(this.match));
    this.maybe(0.04 * scale, () => make.lineup());
    this.maybe(0.002 * scale, () => make.retire());
    this.maybe(0.03 * scale, () => make.note());
  }

  betweenRallies() {
    this.incidents(1);
    if (this.kind === "score") return;
    this.maybe(0.06, () => this.make.depth());
    this.maybe(0.03, () => this.make.depth());
    this.maybe(0.02, () => this.make.cue(this.dice.chance(0.5) ? this.lately(this.ids.shots) : null));
  }

  rally() {
    const { dice } = this;
    const style =
      this.kind === "mixed"
        ? dice.weighted({ score: 2, usual: 4, odd: 1 })
        : this.kind === "score" || this.kind === "attacks"
          ? this.kind
          : dice.weighted({ score: 0.2, usual: 5, odd: 1 });
    if (style !== "score") this.shots(style);
    else if (this.kind !== "score") this.maybe(0.1, () => this.make.depth());
    if (this.over || this.full) return;
    const winner = dice.pick(["a", "b"]);
    this.record(dice.chance(0.05) ? this.make.replay() : this.make.rallyEnd(winner), 100, 2500);
    this.maybeCorrect();
  }

  shots(style) {
    const { dice, make } = this;
    const odd = style === "odd";
    const length = dice.weighted({ short: 2, usual: 5, long: 1 });
    const most = { short: 3, usual: 9, long: 25 }[length];
    const wanted = dice.between(1, most);
    let team = dice.chance(0.93) ? this.match.serving : opponentsOf(this.match.serving);
    let stroke = dice.chance(0.9) ? "start" : "serve";
    const own = [];
    for (let count = 0; count < wanted && !this.over; count += 1) {
      stroke = make.nextStroke(stroke, odd && dice.chance(0.6));
      const shot = style === "attacks" && count > 0 ? make.shotOfAttacks(team) : make.shot(team, stroke);
      const id = this.record(shot, dice.chance(0.05) ? 0 : 250, 1800);
      own.push(id);
      this.maybeCorrect();
      if (dice.chance(0.25)) this.aside(own);
      if (!dice.chance(odd ? 0.15 : 0.04)) team = opponentsOf(team);
    }
  }

  /** What is recorded between two shots. */
  aside(shotsOfRally) {
    const { dice, make } = this;
    const meant = () => {
      const which = dice.weighted({ unsaid: 5, latest: 3, older: 3, elsewhere: 0.5 });
      if (which === "unsaid") return null;
      if (which === "latest") return shotsOfRally.at(-1);
      return which === "older" ? dice.pick(shotsOfRally) : this.lately(this.ids.shots);
    };
    this.maybe(0.6, () => make.cue(meant()));
    this.maybe(0.3, () => make.cue(meant()));
    this.maybe(0.25, () => make.depth());
    this.incidents(0.3);
  }

  /** After the match only corrections and notes; a correction may bring the match back. */
  afterMatch() {
    for (let left = this.dice.between(0, 3); left > 0; left -= 1) {
      if (this.over && this.dice.chance(0.4)) this.record(this.make.note());
      else if (this.over && this.dice.chance(0.3)) this.takeBackTheEnd();
      else this.correct();
    }
  }

  takeBackTheEnd() {
    const target = this.ids.plain.at(-1);
    this.record({ kind: "retract", target });
  }

  run() {
    let endings = 0;
    while (!this.full && endings < 3) {
      if (this.over) {
        endings += 1;
        this.afterMatch();
      } else {
        this.betweenRallies();
        if (!this.over) this.rally();
      }
    }
    if (this.correctionRate > 0 && this.dice.chance(0.3)) this.correct();
    return this;
  }

  /** @returns {string} the file: without `seq`, with it, or with it and out of order */
  text() {
    const shape = this.dice.weighted({ recorded: 17, stored: 2, disordered: 1 });
    const lines = this.entries.map(({ at, seq, entry }) =>
      shape === "recorded" ? entry : { ...entry, seq, received: at },
    );
    const ordered = shape === "disordered" ? this.dice.some(lines, lines.length) : lines;
    return [this.header, ...ordered].map((line) => `${JSON.stringify(line)}\n`).join("");
  }
}

/**
 * @param {number} seed
 * @param {'score'|'shots'|'mixed'|'attacks'} kind
 * @returns {string} a chart file
 */
export function randomChart(seed, kind = "mixed") {
  return new Recorder(seed, kind).run().text();
}

function parseArguments(argv) {
  const options = { kind: "mixed", many: null, out: null };
  const words = [];
  for (let index = 0; index < argv.length; index += 1) {
    const name = argv[index].replace(/^--/, "");
    if (name === argv[index]) words.push(name);
    else if (name in options) options[name] = argv[(index += 1)];
    else return null;
  }
  const seed = Number(words[0]);
  const valid =
    words.length === 1 &&
    Number.isInteger(seed) &&
    KINDS.includes(options.kind) &&
    (options.many === null) === (options.out === null);
  return valid ? { seed, ...options } : null;
}

function main() {
  const parsed = parseArguments(process.argv.slice(2));
  if (parsed === null) {
    process.stderr.write("usage: random-chart.mjs SEED [--kind score|shots|mixed|attacks] [--many N --out DIR]\n");
    return 2;
  }
  const { seed, kind, many, out } = parsed;
  if (many === null) {
    process.stdout.write(randomChart(seed, kind));
    return 0;
  }
  mkdirSync(out, { recursive: true });
  for (let each = seed; each < seed + Number(many); each += 1) {
    writeFileSync(join(out, `chart-${each}.jsonl`), randomChart(each, kind));
  }
  return 0;
}

const startedDirectly =
  process.argv[1] !== undefined && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url);
if (startedDirectly) process.exitCode = main();
