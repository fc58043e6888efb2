/**
 * A typist who is late and makes mistakes, as a person does: looks, presses keys no faster than a
 * hand can, hits a neighbor's key, leaves a shot out, hits a key twice, takes the wrong arrow; sees
 * some of it and puts it right with the page's keys. All of it is drawn from a seed. The chances
 * are made up, not measured on people; they are meant to be high.
 *
 * It sees the match as it was played, and on the page what a glance shows: whose rally it was.
 * What it does not see stays in the chart.
 */
import { Typist } from "../../overlay/tests/support/typist.js";
import { seeded } from "../../overlay/tests/support/two-people.js";
import { codesOf, strokeIn, USUAL } from "../../overlay/shared/charting/presets.js";

/** Keystroke-Level Model (Card, Moran & Newell 1980): an average non-secretary typist's key, ms. */
export const KEY_MS = 280;
/** From seeing to the first key, mean and standard deviation, ms (made up). */
const DELAY_MS = { mean: 350, spread: 90, least: 150 };
/** Until a mistake is noticed, ms (made up). */
const NOTICE_MS = 700;
/** The second press where one finger presses twice, ms after the first (made up). */
const BOUNCE_MS = 90;
/** Chances of mistakes, and that one is seen at once (made up). */
const CHANCES = { neighbor: 0.03, leftOut: 0.02, twice: 0.01, arrow: 0.04, arrowTwice: 0.04, seen: 0.5 };

/** Keys beside each other on a keyboard, row by row. */
const ROWS = [
  ["KeyQ", "KeyW", "KeyE", "KeyR", "KeyT", "KeyY", "KeyU", "KeyI", "KeyO", "KeyP"],
  ["KeyA", "KeyS", "KeyD", "KeyF", "KeyG", "KeyH", "KeyJ", "KeyK", "KeyL", "Semicolon", "Quote"],
  ["KeyZ", "KeyX", "KeyC", "KeyV", "KeyB", "KeyN", "KeyM", "Comma", "Period", "Slash"],
  ["Numpad7", "Numpad8", "Numpad9"],
  ["Numpad4", "Numpad5", "Numpad6", "NumpadAdd"],
  ["Numpad1", "Numpad2", "Numpad3"],
];

const otherTeam = (team) => (team === "a" ? "b" : "a");

/** @param {{ how?: string, by?: string, won_by?: string }} end @returns {string} the team whose rally it is */
export const winnerOf = ({ how, by, won_by }) => won_by ?? (how === "winner" || how === "ace" ? by : otherTeam(by));

/**
 * @param {any[]} rally what was seen of it, the end last
 * @param {"shots" | "ends" | "score"} detail
 * @param {"all" | "few"} strokes
 * @returns {any[]} what is charted of it at that depth
 */
export function askedFor(rally, detail, strokes) {
  if (detail === "score") return rally.slice(-1);
  // Who struck last, which the end of a fault does not say.
  const struck = rally.findLast(({ kind }) => kind === "shot")?.team;
  const few = strokes === "few";
  const asked = few ? rally.filter(({ kind }) => kind !== "depth").map(({ contact: _, ...entry }) => entry) : rally;
  let latest;
  const named = asked.map((entry) => {
    if (entry.kind === "rally_end") return { ...entry, struck };
    if (entry.kind === "cue") return { shot: latest, ...entry };
    if (entry.kind !== "shot") return entry;
    latest = entry.id;
    return { ...entry, stroke: strokeIn(entry.stroke, strokes) };
  });
  if (detail === "shots") return named;
  // Serve and return have no key there: the end says what there is to say.
  const last = named
    .filter(({ kind }) => kind === "shot")
    .slice(2)
    .slice(-2);
  const about = new Set(last.map(({ id }) => id));
  return named.filter(({ kind, id, shot }) => about.has(id) || about.has(shot) || kind === "rally_end");
}

export class SlippingTypist extends Typist {
  /** What went wrong, how often: seen and put right, or not seen. @type {Record<string, number>} */
  slips = {};
  /** Rallies that stood with the wrong team until the score was looked at. */
  wrongAtFirst = 0;
  /** How late the last key of each entry was, ms. @type {number[]} */
  lateness = [];
  #detail;
  #codes;
  #chance;
  /** Shots of the rally that were left out and not missed: a shot, and the one charted before it. */
  #lost = [];
  #leftOut = new Set();
  /** Whoever believes the page shows the right side presses Enter, and no key for "same side". */
  #believes = false;
  #isMistaken = false;

  /** @param {{ seed: number, detail?: "shots" | "ends" | "score", hand?: "right" | "left" | "pad", strokes?: "all" | "few" }} who */
  constructor(localChart, header, { seed, detail = "shots", hand = USUAL.hand, strokes = USUAL.strokes }) {
    const chance = seeded(seed);
    // Box and Muller's way to a normal distribution.
    const normal = () => Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());
    const delay = () => Math.max(DELAY_MS.least, Math.round(DELAY_MS.mean + DELAY_MS.spread * normal()));
    const codes = codesOf({ hand, strokes });
    super(localChart, header, { codes, detail, delay, gap: () => KEY_MS });
    this.#detail = detail;
    this.#codes = codes;
    this.#chance = chance;
  }

  /** @param {any[]} rally as `askedFor` gives it */
  typeRally(rally) {
    const end = rally.at(-1);
    for (const entry of rally) {
      // Only the end says which shots were the last.
      const seen = this.#detail === "ends" ? end.at : entry.at;
      this.#entry({ ...entry, at: seen });
      this.lateness.push(this.times.at(-1) - Date.parse(seen));
    }
    this.#lost = [];
    this.#leftOut.clear();
    this.#believes = false;
  }

  #entry(entry) {
    if (entry.kind === "rally_end") return this.#end(entry);
    const isLeftOut = entry.kind === "shot" && this.#mayLeaveOut() && this.#happens("leftOut");
    if (isLeftOut) return this.#leaveOut(entry);
    if (entry.kind === "cue" && this.#leftOut.has(entry.shot)) return;
    if (this.#detail === "ends") this.#lastShot(entry);
    else this.type(entry);
  }

  /** Of serve and return the order tells; a shot left out there is another stroke for the page. */
  #mayLeaveOut() {
    return this.#detail === "ends" || this.answer.rally.length >= 3;
  }

  #leaveOut({ id, stroke }) {
    this.#leftOut.add(id);
    const isSeen = this.#detail === "shots" && this.#chance() < CHANCES.seen;
    this.#count("shot left out", isSeen);
    if (isSeen || this.#detail === "ends") return;
    this.#believes = true;
    this.#lost.push({ stroke, after: this.answer.rally.at(-1).id });
  }

  /** One of the last shots, once the end is known: its side is the end's business. */
  #lastShot(entry) {
    this.see(entry);
    if (entry.kind === "cue") return this.cue(entry.cue, entry.shot);
    if (entry.stroke === "volley") this.press("next");
    else this.stroke(entry.stroke, entry.contact);
    this.ids.set(entry.id, this.answer.rally.at(-1).id);
    for (const cue of entry.cues ?? []) this.cue(cue, entry.id);
  }

  #end(end) {
    this.see(end);
    const truth = winnerOf(end);
    if (this.#believes && end.how !== "fault") this.#endAsBelieved(end);
    else this.#endRightly(end);
    if (winnerOf(this.#charted()) !== truth) this.#putRight(end);
    if (this.#lost.length === 1 && this.#chance() < CHANCES.seen) this.#putIn(this.#lost[0]);
  }

  #charted = () => this.answer.recent.findLast(({ entry }) => entry.kind === "rally_end").entry;

  /** Enter, for whoever hit last: on the page that may be the other side. */
  #endAsBelieved(end) {
    this.press(`end:${end.how === "ace" ? "winner" : end.how}`);
    this.press("confirm");
  }

  #endRightly(end) {
    const wrong = this.#happens("arrow");
    const by = wrong ? otherTeam(this.#arrow(end)) : this.#arrow(end);
    if (wrong) this.#count("wrong arrow", true);
    if (this.#detail !== "score") this.press(`end:${end.how === "ace" ? "winner" : end.how}`);
    const isLast = by === this.answer.rally.at(-1)?.team;
    this.press(this.#detail === "shots" && isLast && !wrong ? "confirm" : `team:${by}`);
    if (this.state.armed?.startsWith("fault:")) return this.press(`team:${end.struck}`);
    if (this.codes.at(-1).startsWith("Arrow") && this.#happens("arrowTwice")) this.#twice(`team:${by}`);
  }

  /** @returns {string} the team whose arrow it is */
  #arrow = (end) => (this.#detail === "score" ? winnerOf(end) : end.by);

  /** The score shows another rally than was seen. */
  #putRight(end) {
    this.wrongAtFirst += 1;
    this.now += NOTICE_MS;
    this.press("undo");
    if (this.#detail !== "score") this.press(`end:${end.how === "ace" ? "winner" : end.how}`);
    this.press(`team:${this.#arrow(end)}`);
    if (this.state.armed?.startsWith("fault:")) this.press(`team:${end.struck}`);
  }

  /** Steps back between two rallies and puts in the shot that was left out. */
  #putIn({ stroke, after }) {
    this.now += NOTICE_MS;
    for (let steps = 0; this.state.selected !== after; steps += 1) {
      // Too far back to step to: it stays out.
      if (steps === 10) return this.press("cancel");
      this.press("older");
    }
    this.press("insert");
    this.#isMistaken = true;
    this.stroke(stroke);
    this.#isMistaken = false;
    this.#count("shot left out, put in after the rally", true);
  }

  /** A stroke's key goes wrong now and then; while something is put right, nothing does. */
  press(action) {
    if (action === "missed" && this.#believes) return;
    const isStroke = action === "next" || action.startsWith("stroke:");
    const isSafe = this.#isMistaken || (this.#detail === "shots" && this.answer.rally.length < 2);
    if (!isStroke || isSafe) return this.#contact(action);
    if (this.#happens("neighbor")) return this.#neighbor(action);
    super.press(action);
    if (this.#happens("twice")) this.#twice(action);
  }

  /** Whoever has not seen the wrong key does not see its contact either. */
  #contact(action) {
    if (action.startsWith("contact:") && this.#unseen === this.answer.rally.at(-1)?.id) return;
    super.press(action);
  }

  #unseen = null;

  #neighbor(action) {
    const code = this.#codes[action];
    const row = ROWS.find((keys) => keys.includes(code)) ?? [];
    const beside = [row[row.indexOf(code) - 1], row[row.indexOf(code) + 1]];
    const wrong = Object.keys(this.#codes).filter(
      (other) => other.startsWith("stroke:") && other !== action && beside.includes(this.#codes[other]),
    );
    // Beside the thumb's key there is none of a stroke.
    if (wrong.length === 0) return super.press(action);
    const isSeen = this.#chance() < CHANCES.seen;
    this.#count("wrong stroke", isSeen);
    super.press(wrong[Math.floor(this.#chance() * wrong.length)]);
    if (!isSeen) {
      this.#unseen = this.answer.rally.at(-1).id;
      return;
    }
    this.now += NOTICE_MS - KEY_MS;
    super.press("undo");
    super.press(action);
  }

  /** One finger, the same key at once again; between two rallies it is seen. */
  #twice(action) {
    const before = this.entries.length;
    this.now += BOUNCE_MS - KEY_MS;
    super.press(action);
    const isTaken = this.entries.length > before;
    const isSeen = isTaken && (action.startsWith("team:") || this.#detail !== "shots" || this.#chance() < CHANCES.seen);
    this.#count(`${action.startsWith("team:") ? "arrow" : "stroke"} twice`, isSeen || !isTaken);
    if (isSeen) {
      this.now += NOTICE_MS - KEY_MS;
      super.press("undo");
    } else if (isTaken) this.#believes = true;
  }

  #happens = (what) => this.#chance() < CHANCES[what];

  #count(what, isSeen) {
    const name = `${what}${isSeen ? "" : ", not seen"}`;
    this.slips[name] = (this.slips[name] ?? 0) + 1;
  }
}
