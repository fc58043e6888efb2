// The cues of one match under somebody's hands: takes presses, watches the court, asks
// `presses.js` what follows, keeps everything on disk and hands entries to the outbox.
// Gives one `View` for the page to draw. Draws nothing itself.

/**
 * @import { MatchHeader, Score } from "../types/messages.js"
 * @import { Connection } from "../types/view.js"
 * @import { Line } from "./outbox.js"
 * @import { Context, Press, Step } from "./presses.js"
 * @import { Shelf } from "./shelf.js"
 * @import { Moment } from "./timeline.js"
 */
import { newId } from "../shared/ids.js";
import { otherWindows } from "../shared/other-windows.js";
import { readingOf } from "../shared/readings.js";
import { CourtWatch } from "./court-watch.js";
import { shiftOf } from "./matching.js";
import { Outbox } from "./outbox.js";
import { advance, lastPress, noted, saidLate, undone } from "./presses.js";
import { timelineOf } from "./timeline.js";
import { noteWords } from "./words.js";

/**
 * @typedef {object} View
 * @property {MatchHeader | null} match
 * @property {Score | null} score
 * @property {Connection["phase"]} feed
 * @property {Line} line
 * @property {string} message the host's latest word
 * @property {number} waiting entries the host does not have yet
 * @property {boolean} kept whether all of it is on this device's disk
 * @property {boolean} keeping whether something is still on its way to that disk
 * @property {number} known the host's entries that are known here
 * @property {readonly Press[]} presses
 * @property {readonly Moment[]} moments
 * @property {Readonly<Record<"a" | "b", string>>} depths where each team is thought to stand
 */

/** How often what waits is looked at. */
const TICK_MS = 200;
/** A depth tapped again so soon after is one tap more, not another depth. */
const AGAIN_MS = 1_500;
const NEXT_DEPTH = /** @type {Record<string, string>} */ ({ back: "transition", transition: "line", line: "back" });

/** Lines on which this page must not send. */
export const STOPPED = new Set(["taken_over", "elsewhere"]);

export class Session {
  #shelf;
  #draw;
  #watch;
  #outbox;
  #windows;
  /** @type {string | null} */
  #matchId = null;
  /** @type {Press[]} */
  #presses = [];
  /** @type {Line} */
  #line = "connecting";
  #message = "";
  #kept = true;
  /** Writes to the disk that have not ended. */
  #keeping = 0;
  #reading = false;

  /**
   * @param {{ shelf: Shelf, court: string, client: string, url: string }} parts
   * @param {(view: View) => void} draw
   */
  constructor({ shelf, court, client, url }, draw) {
    this.#shelf = shelf;
    this.#draw = draw;
    this.#kept = shelf.keeps;
    this.#watch = new CourtWatch(court, () => void this.#follow());
    const listener = {
      onLine: (/** @type {Line} */ line, /** @type {string} */ message) => {
        this.#line = line;
        this.#message = message;
        this.#show();
      },
      onStored: (/** @type {string} */ id) => this.#stored(id),
      onRefused: (/** @type {string} */ id, /** @type {string} */ code, /** @type {string} */ message) =>
        this.#refused(id, code, message),
    };
    this.#outbox = new Outbox(url, client, listener);
    this.#windows = otherWindows(`rallytide.cues.${court}`, () =>
      this.#outbox.yield("another window of this browser marks cues on this court"),
    );
  }

  start() {
    this.#watch.start();
    setInterval(() => {
      if (this.#presses.some(({ state }) => state === "waiting")) this.#advance();
    }, TICK_MS);
    this.#show();
  }

  /** @param {"a" | "b"} team @param {string} cue */
  cue(team, cue) {
    this.#pressed("cue", team, cue);
  }

  /** The next depth from where the team is thought to stand. @param {"a" | "b"} team */
  depth(team) {
    const before = lastPress(this.#presses);
    const what = NEXT_DEPTH[this.#depthOf(team)] ?? "transition";
    const again = before?.kind === "depth" && before.team === team && before.state === "waiting";
    if (again && Date.now() - before.at < AGAIN_MS)
      this.#take({ press: { ...before, what, at: Date.now() }, entries: [] });
    else this.#pressed("depth", team, what);
  }

  /** Takes the last press back. */
  undo() {
    const press = lastPress(this.#presses);
    if (press !== undefined && !STOPPED.has(this.#line)) this.#take(undone(press, this.#context()));
  }

  /** @param {number} place of a press that found no shot */
  drop(place) {
    const press = this.#presses.find((one) => one.place === place);
    if (press !== undefined) this.#take(undone(press, this.#context()));
  }

  /** @param {number} place of a press that found no shot */
  keepAsNote(place) {
    const press = this.#presses.find((one) => one.place === place);
    const match = this.#watch.state.match;
    if (press !== undefined) this.#take(noted(press, noteWords(match, press), this.#context()));
  }

  /** Goes on here; whoever else sits on this seat is told and stops. */
  takeOver() {
    this.#windows.tell();
    this.#outbox.takeOver();
  }

  /** @param {Press["kind"]} kind @param {"a" | "b"} team @param {string} what */
  #pressed(kind, team, what) {
    if (this.#matchId === null || this.#reading || STOPPED.has(this.#line)) return;
    const place = (this.#presses.at(-1)?.place ?? -1) + 1;
    /** @type {Press} */
    const press = {
      match: this.#matchId,
      place,
      kind,
      what,
      team,
      at: Date.now(),
      state: "waiting",
      lost: false,
      entry: null,
      anchor: null,
      unsent: [],
    };
    this.#take({ press, entries: [] });
    this.#advance();
  }

  /** The court has changed. */
  async #follow() {
    const matchId = this.#watch.state.match?.id ?? null;
    if (matchId !== this.#matchId && !this.#reading) {
      this.#matchId = matchId;
      this.#reading = true;
      this.#presses = matchId === null ? [] : await this.#shelf.read(matchId).catch((error) => this.#notKept(error));
      this.#reading = false;
      if (matchId !== null) this.#windows.tell();
      this.#outbox.open(
        matchId,
        this.#presses.flatMap(({ unsent }) => unsent),
      );
      // Another match may have come while the disk was read.
      return void this.#follow();
    }
    this.#advance();
  }

  #advance() {
    const context = this.#context();
    const steps = this.#presses.map((press) => advance(press, context)).filter((step) => step !== null);
    for (const step of steps) this.#replace(step.press);
    if (steps.length > 0) this.#keepAndSend(steps);
    this.#show();
  }

  /** @returns {Context} */
  #context() {
    const { entries, offset, state } = this.#watch;
    const { moments, behind } = timelineOf(entries);
    const own = moments.map((one) => ({ ...one, at: one.at + offset.ms }));
    const cues = this.#presses.filter(({ kind, state: became }) => kind === "cue" && became !== "undone");
    return {
      timeline: { moments: own, behind },
      shift: shiftOf(cues, own),
      now: Date.now(),
      over: state.score?.winner != null,
      nextId: newId,
    };
  }

  /** @param {Step} step */
  #take(step) {
    this.#replace(step.press);
    this.#keepAndSend([step]);
    this.#show();
  }

  /** @param {Press} press */
  #replace(press) {
    const at = this.#presses.findIndex(({ place }) => place === press.place);
    if (at < 0) this.#presses = [...this.#presses, press];
    else this.#presses = this.#presses.map((one, index) => (index === at ? press : one));
  }

  /** To the disk and to the host at once; ids make a second sending harmless. @param {readonly Step[]} steps */
  #keepAndSend(steps) {
    void this.#keep(steps.map(({ press }) => press));
    this.#outbox.add(steps.flatMap(({ entries }) => entries));
  }

  /** @param {readonly Press[]} presses */
  async #keep(presses) {
    this.#keeping += 1;
    await this.#shelf.keep(presses).catch((error) => void this.#notKept(error));
    this.#keeping -= 1;
    this.#show();
  }

  /** @param {string} id */
  #stored(id) {
    const press = this.#carrying(id);
    if (press === undefined) return;
    const settled = { ...press, unsent: press.unsent.filter((entry) => entry.id !== id) };
    this.#replace(settled);
    void this.#keep([settled]);
    this.#advance();
  }

  /** @param {string} id @param {string} code @param {string} message */
  #refused(id, code, message) {
    const press = this.#carrying(id);
    if (press === undefined) return;
    const late = code === "match_over" && press.entry === id ? saidLate(press, this.#context()) : null;
    if (late !== null) return this.#take(late);
    this.#message = `the host refused what was marked: ${message}`;
    this.#take({ press: { ...press, state: "refused", unsent: [] }, entries: [] });
  }

  /** @param {string} id */
  #carrying(id) {
    return this.#presses.find(({ unsent }) => unsent.some((entry) => entry.id === id));
  }

  /** @param {unknown} error @returns {Press[]} */
  #notKept(error) {
    this.#kept = false;
    this.#message = `this device's disk did not take it: ${String(error)}`;
    this.#show();
    return [];
  }

  /** @param {"a" | "b"} team */
  #depthOf(team) {
    const own = lastPress(this.#presses.filter((one) => one.kind === "depth" && one.team === team));
    if (own?.state === "waiting") return own.what;
    const value = readingOf(this.#watch.state, "depth", team, null)?.value;
    return value?.type === "text" ? value.text : "back";
  }

  #show() {
    const { state, entries } = this.#watch;
    this.#draw({
      match: state.match,
      score: state.score,
      feed: state.connection.phase,
      line: this.#line,
      message: this.#message,
      waiting: this.#outbox.waiting,
      kept: this.#kept,
      keeping: this.#keeping > 0,
      known: this.#watch.known,
      presses: this.#presses,
      moments: timelineOf(entries).moments,
      depths: { a: this.#depthOf("a"), b: this.#depthOf("b") },
    });
  }
}
