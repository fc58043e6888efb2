// A typist for tests: turns a chart into the keys a charter would press for it,
// by the page's own recorder and the local chart. Who is told by position and order
// is not typed; players and kinds of faults are never asked for and left out.
// Every key is pressed when its entry was seen, further keys for it right after, or as
// late and as far apart as somebody's habits say.

import { SCHEME } from "../../shared/charting/scheme.js";
import { freshState, nextStroke, nextTeam, press } from "../../shared/charting/recorder.js";

/** Between two keys for one entry, ms: quicker than the fastest exchange. */
const KEY_GAP_MS = 40;

const USUAL = Object.fromEntries(SCHEME.map(({ action, code }) => [action, code]));
/**
 * @typedef {object} Habits
 * @property {Record<string, string>} [codes] which key does what, as `shared/charting/presets.js` has them
 * @property {"shots" | "ends" | "score"} [detail] how much is charted
 * @property {() => number} [delay] from seeing to the first key for it, ms
 * @property {() => number} [gap] between two keys, ms
 */
/** The arrows go with the ends of the court. */
const FROM_THE_OTHER_END = new Map([
  ["team:a", "team:b"],
  ["team:b", "team:a"],
]);

export class Typist {
  /** The keys pressed. */
  codes = [];
  /** When each of them is pressed, ms since 1970. */
  times = [];
  entries = [];
  /** Entry seen → entry recorded. */
  ids = new Map();
  state;
  now = -Infinity;
  #habits;
  #count = 0;
  /** A return without a cue needs no key: the third shot's brings it along. */
  #pending = null;

  /** @param {Habits} [habits] */
  constructor(localChart, header, { codes = USUAL, detail = "shots", delay = () => 0, gap = () => KEY_GAP_MS } = {}) {
    this.#habits = { codes, delay, gap };
    this.state = { ...freshState(), detail };
    this.localChart = localChart;
    this.header = header;
    this.answer = localChart.open(header);
  }

  #context() {
    const nextId = () => `t${(this.#count += 1)}`;
    return { answer: this.answer, header: this.header, nextId, now: this.now };
  }

  press(action) {
    const { codes, gap } = this.#habits;
    if (codes[action] === undefined) throw new Error(`no key does \`${action}\``);
    const { near } = this.answer.score;
    this.codes.push(codes[(near === "b" ? FROM_THE_OTHER_END.get(action) : undefined) ?? action]);
    const { state, entries } = press(this.state, action, this.#context());
    for (const entry of entries) {
      const stamped = { ...entry, at: new Date(this.now).toISOString() };
      this.answer = this.localChart.take(stamped);
      if (this.answer.refused !== undefined) throw new Error(this.answer.refused.message);
      this.entries.push(stamped);
    }
    this.state = state;
    this.times.push(this.now);
    this.now += gap();
  }

  /** Sees it: what waited for it is pressed first. */
  see(entry) {
    this.now = Math.max(this.now, Date.parse(entry.at) + this.#habits.delay());
    if (this.#pending !== null) {
      const carried = this.#pending;
      const third = entry.kind === "shot" && entry.team !== carried.team;
      if (!third) this.press("next");
      this.#pending = third ? carried : null;
      if (!third) this.ids.set(carried.id, this.answer.rally.at(-1).id);
    }
  }

  type(entry) {
    this.see(entry);
    const follows = entry.kind === "shot" && nextTeam(this.state, this.#context()) === entry.team;
    if (follows && entry.stroke === "return" && nextStroke(this.#context()) === "return" && entry.cues === undefined) {
      this.#pending = entry;
      return;
    }
    if (entry.kind === "shot") this.#shot(entry);
    else if (entry.kind === "cue") this.cue(entry.cue, entry.shot);
    else if (entry.kind === "depth") this.#depth(entry);
    else if (entry.kind === "rally_end") {
      this.press(`end:${entry.how === "ace" ? "winner" : entry.how}`);
      this.press(entry.by === this.answer.rally.at(-1)?.team ? "confirm" : `team:${entry.by}`);
    } else throw new Error(`the typist does not type \`${entry.kind}\``);
  }

  #shot({ id, team, stroke, contact, cues = [] }) {
    const carried = this.#pending;
    this.#pending = null;
    if (carried === null && nextTeam(this.state, this.#context()) !== team) this.press("missed");
    if (carried === null && nextStroke(this.#context()) === stroke) this.press("next");
    else this.stroke(stroke, contact);
    const shot = this.answer.rally.at(-1);
    if (carried !== null) this.ids.set(carried.id, this.answer.rally.at(-2).id);
    const has = this.answer.recent.find((seen) => seen.entry.id === shot.id).entry.contact;
    if (has !== contact) this.press(`contact:${contact ?? has}`);
    this.ids.set(id, shot.id);
    for (const cue of cues) this.cue(cue, id);
  }

  /** The key of a stroke, with its contact in it where there is such a key. */
  stroke(stroke, contact) {
    const { codes } = this.#habits;
    const wished = `stroke:${stroke}${contact === undefined ? "" : `:${contact}`}`;
    const near = Object.keys(codes).find(
      (action) => action === `stroke:${stroke}` || action.startsWith(`stroke:${stroke}:`),
    );
    this.press(codes[wished] !== undefined ? wished : near);
  }

  /** @param {string} cue @param {string} [about] the shot seen, left out: the latest one */
  cue(cue, about) {
    const target = about === undefined ? this.answer.rally.at(-1).id : this.ids.get(about);
    if (!this.answer.rally.slice(-2).some(({ id }) => id === target)) return this.#stepBackFor(target, `cue:${cue}`);
    const { entries } = press(this.state, `cue:${cue}`, this.#context());
    this.#count -= 1;
    if ((entries[0].shot ?? this.answer.rally.at(-1).id) !== target) this.press("before");
    this.press(`cue:${cue}`);
  }

  /** What was seen about a shot before the ball before. */
  #stepBackFor(target, action) {
    for (let steps = 0; this.state.selected !== target; steps += 1) {
      if (steps > 10) throw new Error(`\`${target}\` is out of reach`);
      this.press("older");
    }
    this.press(action);
    this.press("cancel");
  }

  #depth({ team, depth }) {
    for (let taps = 0; taps < 4; taps += 1) {
      const last = this.answer.recent.at(-1)?.entry;
      if (last?.kind === "depth" && last.team === team && last.depth === depth && taps > 0) return;
      this.press(`depth:${team}`);
    }
  }
}

/**
 * What a chart says, without who recorded it when: shots with their cues, depths
 * seen last, ends. Two charts of one match that say the same are equal by this.
 */
export function plain(effective) {
  const ids = new Map();
  const told = [];
  let last;
  for (const entry of effective) {
    if (entry.kind === "shot") {
      last = {
        kind: "shot",
        team: entry.team,
        stroke: entry.stroke,
        contact: entry.contact,
        cues: [...(entry.cues ?? [])],
      };
      ids.set(entry.id, last);
      told.push(last);
    } else if (entry.kind === "cue") (entry.shot === undefined ? last : ids.get(entry.shot)).cues.push(entry.cue);
    else if (entry.kind === "depth") {
      const before = told.at(-1);
      if (before?.kind === "depth" && before.team === entry.team) told.pop();
      told.push({ kind: "depth", team: entry.team, depth: entry.depth });
    } else told.push({ kind: entry.kind, how: entry.how === "ace" ? "winner" : entry.how, by: entry.by });
  }
  for (const { cues } of told) cues?.sort();
  return told;
}
