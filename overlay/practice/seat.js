// A set of practice for the second seat: plays rallies, takes marks of cues, judges them. The
// strokes are somebody else's, made up (marks.js). Nothing here can reach a court. Gives one
// `View` to draw. Time comes in as a parameter.

/**
 * @import { MatchHeader, Team } from "../types/messages.js"
 * @import { Moment } from "../cues/timeline.js"
 * @import { Plan } from "./choreography.js"
 * @import { MadeUp, Rally } from "./made-up.js"
 * @import { Judged, Mark } from "./marks.js"
 */
import { shiftOf } from "../cues/matching.js";
import { plan } from "./choreography.js";
import { RallyClock } from "./clock.js";
import { judge, momentsOf } from "./marks.js";

/**
 * @typedef {object} View
 * @property {"choose" | "ready" | "playing" | "result" | "done"} phase
 * @property {MatchHeader | null} header
 * @property {Rally | null} rally
 * @property {Plan | null} plan
 * @property {number} number of the rally, from 1
 * @property {number} of
 * @property {boolean} paused
 * @property {number} tempo
 * @property {number} head ms of the rally
 * @property {string} message
 * @property {readonly Mark[]} marks of the rally
 * @property {Judged[]} judged rally by rally, as far as it has come
 */

/** So long after a rally's end marks are still taken, in real seconds. */
const LATEST_S = 2;
/** Between two rallies of the set's own time, ms: no mark reaches over. */
const APART_MS = 60_000;

export class Seat {
  #draw;
  #clock = new RallyClock();
  /** @type {readonly Rally[]} */
  #rallies = [];
  /** Of the set so far: what shifts are learned from. @type {Mark[]} */
  #marks = [];
  /** @type {Moment[]} */
  #moments = [];
  /** @type {View} */
  view = {
    phase: "choose",
    header: null,
    rally: null,
    plan: null,
    number: 0,
    of: 0,
    paused: false,
    tempo: this.#clock.tempo,
    head: 0,
    message: "",
    marks: [],
    judged: [],
  };

  /** @param {(view: View) => void} draw */
  constructor(draw) {
    this.#draw = draw;
  }

  /** @param {MadeUp} match rallies with something to mark are the set @param {number} wanted @param {number} tempo */
  begin({ header, rallies }, wanted, tempo) {
    this.#rallies = rallies.filter(({ shots }) => shots.some(({ cues }) => cues.length > 0)).slice(0, wanted);
    if (this.#rallies.length === 0)
      throw new Error("this made-up match has no cue to mark: start again for another one");
    this.#marks = [];
    this.#moments = [];
    this.#clock.tempo = tempo;
    this.view.judged = [];
    this.#change({ header, of: this.#rallies.length });
    this.#lay(1);
  }

  leave() {
    this.#clock.running = false;
    this.#change({ phase: "choose", rally: null, plan: null, message: "" });
  }

  /** Ends the set with the rallies there were. */
  finish() {
    this.#clock.running = false;
    this.#change({ phase: this.view.judged.length === 0 ? "choose" : "done", message: "" });
  }

  /** @param {Team} team @param {string} cue @param {number} now ms */
  mark(team, cue, now) {
    this.tick(now);
    const { phase, paused } = this.view;
    if (phase !== "playing" || paused)
      return this.#change({ message: phase === "ready" ? "Nothing is played yet" : "" });
    if (cue === "depth") return this.#change({ message: "Depths are not asked for here" });
    this.#change({ marks: [...this.view.marks, { team, cue, at: this.#time() }], message: "" });
  }

  undo() {
    if (this.view.phase === "playing") this.#change({ marks: this.view.marks.slice(0, -1), message: "" });
  }

  /** @param {string} action of the picture @param {number} now ms */
  film(action, now) {
    const { phase, plan: laid, paused, number, of } = this.view;
    if (action === "film:slower" || action === "film:faster") {
      this.#clock.change(action === "film:faster" ? 1 : -1);
      this.#change({ message: "" });
    }
    if (action !== "film:play") return;
    if (phase === "ready" && laid !== null) {
      this.#clock.begin(laid.from, now);
      this.#change({ phase: "playing", paused: false, message: "" });
    } else if (phase === "playing") this.#pause(!paused, now);
    else if (phase === "result" && number < of) {
      this.#lay(number + 1);
      this.film(action, now);
    } else if (phase === "result") this.finish();
  }

  /** @param {number} now ms */
  pause(now) {
    if (this.view.phase === "playing" && !this.view.paused) this.#pause(true, now);
  }

  /** @param {number} now ms */
  tick(now) {
    if (!this.#clock.running) return;
    this.#clock.tick(now);
    const { plan: laid, phase } = this.view;
    if (laid !== null && phase === "playing" && this.#clock.head >= laid.until + LATEST_S * 1000 * this.#clock.tempo)
      this.#result(laid);
    else this.#change({});
  }

  /** @param {boolean} paused @param {number} now ms */
  #pause(paused, now) {
    this.#clock.run(!paused, now);
    this.#change({ paused, message: paused ? "Paused" : "" });
  }

  /** @returns {number} ms of the set by now */
  #time() {
    return this.view.number * APART_MS + this.#clock.active * 1000;
  }

  /** @param {Plan} laid */
  #result(laid) {
    const { rally, number, marks, judged } = this.view;
    if (rally === null) return;
    this.#clock.running = false;
    const timeOf = (/** @type {number} */ ms) => number * APART_MS + this.#clock.activeAt(ms) * 1000;
    const moments = momentsOf(rally.shots, timeOf, number, laid.until);
    this.#moments.push(...moments);
    this.#marks.push(...marks);
    const shift = shiftOf(this.#marks, this.#moments);
    const seenAt = (/** @type {number} */ place, /** @type {string} */ cue) => {
      const tag = laid.tags.find(({ kind, shot, word }) => kind === "cue" && shot === place && word === cue);
      return tag === undefined ? null : timeOf(tag.at);
    };
    this.#change({ phase: "result", judged: [...judged, judge(rally.shots, seenAt, marks, moments, shift)] });
  }

  /** @param {number} number from 1 */
  #lay(number) {
    const rally = this.#rallies[number - 1];
    if (rally === undefined) return;
    const laid = plan(rally);
    this.#clock.head = laid.from;
    this.#change({ phase: "ready", rally, plan: laid, number, marks: [], paused: false, message: "" });
  }

  /** @param {Partial<View>} change */
  #change(change) {
    Object.assign(this.view, change, { tempo: this.#clock.tempo, head: this.#clock.head });
    this.#draw(this.view);
  }
}
