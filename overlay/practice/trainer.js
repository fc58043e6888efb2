// A set of practice under the volunteer's hands: plays the rallies, takes the same
// actions as a real match and hands them to the same recorder, compares. Its chart
// lives in memory only: nothing here can reach a disk, a court or a host. Gives one
// `View` to draw. Time comes in as a parameter.

/**
 * @import { MatchHeader } from "../types/messages.js"
 * @import { Answer, LocalChart } from "../shared/charting/local-chart.js"
 * @import { Strokes } from "../shared/charting/presets.js"
 * @import { Recorded, State } from "../shared/charting/recorder.js"
 * @import { Comparison } from "./compare.js"
 * @import { Plan } from "./choreography.js"
 * @import { MadeUp, Rally } from "./made-up.js"
 */
import { freshState, press } from "../shared/charting/recorder.js";
import { plan } from "./choreography.js";
import { RallyClock } from "./clock.js";
import { compare } from "./compare.js";
import { chartedFrom } from "./as-charted.js";
import { asked } from "./made-up.js";

/** @typedef {"choose" | "ready" | "playing" | "waiting" | "result" | "done"} Phase `waiting`: played out, its end not charted */
/**
 * @typedef {object} View
 * @property {Phase} phase
 * @property {MatchHeader | null} header
 * @property {Answer | null} answer
 * @property {State} state
 * @property {Strokes} strokes how many are told apart
 * @property {string} message
 * @property {Rally | null} rally
 * @property {Plan | null} plan
 * @property {number} number of the rally, from 1
 * @property {number} of rallies of the set
 * @property {boolean} paused
 * @property {number} tempo
 * @property {number} head ms of the rally
 * @property {Comparison | null} comparison of the rally, once it is over
 * @property {Comparison[]} comparisons of the set so far
 */

/** The score a rally begins with: not the volunteer's entry, so not shown as one. */
const START = "practice-start";
/** Actions that may be wanted when a rally is over. */
const AFTER = new Set(["undo", "redo", "detail", "lapse"]);

export class Trainer {
  #localChart;
  #draw;
  #clock = new RallyClock();
  #ids = 0;
  /** When the key came that is being taken, ms. */
  #pressed = 0;
  /** @type {readonly Rally[]} */
  #rallies = [];
  /** When a shot was shown, by its place; null: stepped to. @type {(number | null)[]} */
  #shown = [];
  /** When an entry's key came; null: while it was paused. @type {Map<string, number | null>} */
  #keyed = new Map();
  /** @type {View} */
  view = {
    phase: "choose",
    header: null,
    answer: null,
    state: freshState(),
    strokes: "all",
    message: "",
    rally: null,
    plan: null,
    number: 0,
    of: 0,
    paused: false,
    tempo: this.#clock.tempo,
    head: 0,
    comparison: null,
    comparisons: [],
  };

  /** @param {LocalChart} localChart this one's own @param {(view: View) => void} draw */
  constructor(localChart, draw) {
    this.#localChart = localChart;
    this.#draw = draw;
  }

  /** @param {MadeUp} match its rallies are the set @param {number} tempo @param {State["detail"]} detail */
  begin({ header, rallies }, tempo, detail) {
    this.#rallies = rallies;
    this.#clock.tempo = tempo;
    Object.assign(this.view, {
      header,
      of: rallies.length,
      number: 0,
      comparisons: [],
      state: { ...freshState(), detail },
    });
    this.#lay(1);
  }

  /** Gives the set up and goes back to choosing. */
  leave() {
    this.#clock.running = false;
    this.#change({ phase: "choose", rally: null, plan: null, message: "" });
  }

  /** Ends the set with the rallies there were. */
  finish() {
    this.#clock.running = false;
    this.#change({ phase: this.view.comparisons.length === 0 ? "choose" : "done", message: "" });
  }

  /** @param {string} action @param {number} now ms */
  press(action, now) {
    this.#pressed = now;
    this.#advance(now);
    if (action.startsWith("film:")) this.#film(action.slice("film:".length), now);
    else this.#chart(action);
  }

  /** @param {number} now ms */
  tick(now) {
    if (!this.#clock.running) return;
    this.#advance(now);
    this.#change({});
  }

  /** @param {number} now ms */
  pause(now) {
    if (this.view.phase === "playing" && !this.view.paused) this.#pause(true, now);
  }

  /** @param {number} now ms */
  #advance(now) {
    const { plan } = this.view;
    this.#clock.tick(now);
    if (plan === null || this.view.phase !== "playing") return;
    this.#show(true);
    if (this.#clock.head >= plan.until) this.#playedOut();
  }

  /** Notes which shots have been seen by now. @param {boolean} timed */
  #show(timed) {
    const shots = this.view.rally?.shots ?? [];
    for (const { at } of shots.slice(this.#shown.length)) {
      if (at > this.#clock.head) break;
      this.#shown.push(timed ? this.#clock.activeAt(at) : null);
    }
  }

  #playedOut() {
    this.view.phase = "waiting";
    this.view.paused = false;
    this.#settle();
  }

  /** @param {string} word @param {number} now */
  #film(word, now) {
    const { phase, plan } = this.view;
    if (word === "slower" || word === "faster") {
      this.#clock.change(word === "faster" ? 1 : -1);
      this.#change({ message: "" });
    } else if (word === "play") this.#play(now);
    else if (plan !== null && (phase === "playing" || phase === "waiting")) this.#step(word, plan, now);
  }

  /** @param {number} now */
  #play(now) {
    const { phase, plan, number, of, paused } = this.view;
    if (phase === "ready" && plan !== null) {
      this.#clock.begin(plan.from, now);
      this.#change({ phase: "playing", paused: false, message: "" });
    } else if (phase === "playing") this.#pause(!paused, now);
    else if (phase === "waiting") this.#result();
    else if (phase === "result" && number < of) {
      this.#lay(number + 1);
      this.#play(now);
    } else if (phase === "result") this.finish();
  }

  /** @param {boolean} paused @param {number} now */
  #pause(paused, now) {
    this.#clock.run(!paused, now);
    this.#change({ paused, message: paused ? "Paused" : "" });
  }

  /** To the next or the last moment, to the beginning or the end; from then on it stands. @param {string} word @param {Plan} plan @param {number} now */
  #step(word, plan, now) {
    if (word === "on" && this.view.phase === "waiting") return;
    const { head } = this.#clock;
    const to = {
      on: plan.moments.find((at) => at > head + 1),
      back: plan.moments.filter((at) => at < head - 1).at(-1),
      far_on: plan.until,
      far_back: plan.from,
    }[word];
    this.#clock.run(false, now);
    this.#clock.head = to ?? (word === "on" ? plan.until : plan.from);
    this.#show(false);
    this.#change({ phase: "playing", paused: true, message: "Paused: step forward, or play on" });
    if (this.#clock.head >= plan.until) this.#playedOut();
  }

  /** @param {string} action */
  #chart(action) {
    const { phase, header, answer, state } = this.view;
    if (header === null || answer === null || phase === "choose" || phase === "done") return;
    if (phase === "ready" && action !== "detail") {
      this.#change({ message: "Nothing is played yet" });
      return;
    }
    if (phase === "result" && !AFTER.has(action)) {
      this.#change({ message: "This rally is over; undo takes its end back" });
      return;
    }
    const nextId = () => `practice-${(this.#ids += 1)}`;
    const outcome = press(state, action, { answer, header, nextId, now: this.#pressed });
    const refused = this.#take(outcome.entries);
    this.#change(refused === null ? { state: outcome.state, message: outcome.say ?? "" } : { message: refused });
    this.#settle();
  }

  /** @param {readonly Recorded[]} entries @returns {string | null} why one was refused */
  #take(entries) {
    const key = this.#clock.running ? this.#clock.active : null;
    // A return that was assumed has no key of its own.
    const assumed = entries.length === 2 ? entries[0]?.id : undefined;
    for (const { id, ...content } of entries) {
      const answer = this.#localChart.take({
        id,
        at: new Date(Date.UTC(2000, 0, 1) + this.#clock.active * 1000).toISOString(),
        ...content,
      });
      if (answer.refused !== undefined) return answer.refused.message;
      this.#keyed.set(id, content.kind === "shot" && id !== assumed ? key : null);
      this.view.answer = withoutStart(answer);
    }
    return null;
  }

  /** What follows once a rally is played out: its result, when its end is charted; waiting again, when that is undone. */
  #settle() {
    const { phase, answer } = this.view;
    if (phase !== "waiting" && phase !== "result") return;
    const last = answer?.recent
      .filter(({ entry }) => entry.kind === "rally_end" || entry.kind === "replay" || entry.kind === "shot")
      .at(-1);
    const ended = last !== undefined && last.entry.kind !== "shot";
    if (ended) this.#result();
    else if (phase === "result") {
      this.#clock.running = true;
      this.view.comparisons.pop();
      this.#change({ phase: "waiting", comparison: null });
    } else this.#change({});
  }

  #result() {
    const { rally, answer, state, strokes, comparisons, phase } = this.view;
    if (rally === null || answer === null) return;
    this.#clock.running = false;
    const shots = asked(rally.shots, strokes).map((shot, place) => ({ ...shot, at: this.#shown[place] ?? null }));
    const comparison = compare({ shots, end: rally.end }, chartedFrom(answer.recent, this.#keyed), state.detail);
    const before = phase === "result" ? comparisons.slice(0, -1) : comparisons;
    this.#change({ phase: "result", comparison, comparisons: [...before, comparison], message: "" });
  }

  /** Opens an empty chart that stands where the rally begins. @param {number} number from 1 */
  #lay(number) {
    const rally = this.#rallies[number - 1];
    const { header } = this.view;
    if (rally === undefined || header === null) return;
    const { points, serving, server, games } = rally.score;
    this.#localChart.open(header);
    const fix = { id: START, at: "2000-01-01T00:00:00.000Z", kind: "score_fix", points, serving, games };
    const answer = this.#localChart.take(server === null ? fix : { ...fix, server });
    if (answer.refused !== undefined) throw new Error(`the practice rally cannot begin: ${answer.refused.message}`);
    this.#shown = [];
    this.#keyed.clear();
    const { detail } = this.view.state;
    const laid = plan(rally);
    this.#clock.head = laid.from;
    this.#change({
      phase: "ready",
      rally,
      plan: laid,
      number,
      answer: withoutStart(answer),
      state: { ...freshState(), detail },
      comparison: null,
      paused: false,
      message: "",
    });
  }

  /** @param {Partial<View>} change */
  #change(change) {
    Object.assign(this.view, change, { tempo: this.#clock.tempo, head: this.#clock.head });
    this.#draw(this.view);
  }
}

/** @param {Answer} answer @returns {Answer} */
const withoutStart = (answer) => ({ ...answer, recent: answer.recent.filter(({ entry }) => entry.id !== START) });
