// A set of mistakes under the volunteer's hands: each is charted in a rally, and is to be put
// right with the keys of a real match. As the trainer's, its chart lives in memory only. Gives
// one `View` to draw. Time comes in as a parameter.

/**
 * @import { MatchHeader } from "../types/messages.js"
 * @import { Answer, LocalChart } from "../shared/charting/local-chart.js"
 * @import { Content, Recorded, State } from "../shared/charting/recorder.js"
 * @import { Mistake, Task } from "./mistakes.js"
 */
import { freshState, press } from "../shared/charting/recorder.js";
import { chartedFrom } from "./as-charted.js";
import { compare } from "./compare.js";

/** @typedef {{ kind: Mistake, fixed: boolean, keys: number, fewest: number, seconds: number, shown: boolean }} Verdict `fewest` 0: a dialog does it; `shown`: the keys were looked up */
/**
 * @typedef {object} View
 * @property {"choose" | "task" | "result" | "done"} phase
 * @property {MatchHeader | null} header
 * @property {Answer | null} answer
 * @property {State} state
 * @property {string} message
 * @property {Task | null} task
 * @property {number} number of the task, from 1
 * @property {number} of
 * @property {boolean} shown whether its keys are
 * @property {Verdict[]} verdicts so far
 */

/** The score a rally begins with: nobody's entry. */
const START = "practice-start";
/** Pressed to look around, not to fix. */
const NO_KEYS = new Set(["lapse", "help"]);

export class Fixer {
  #localChart;
  #draw;
  #ids = 0;
  /** @type {readonly Task[]} */
  #tasks = [];
  #keys = 0;
  #since = 0;
  /** @type {View} */
  view = {
    phase: "choose",
    header: null,
    answer: null,
    state: freshState(),
    message: "",
    task: null,
    number: 0,
    of: 0,
    shown: false,
    verdicts: [],
  };

  /** @param {LocalChart} localChart this one's own @param {(view: View) => void} draw */
  constructor(localChart, draw) {
    this.#localChart = localChart;
    this.#draw = draw;
  }

  /** @param {MatchHeader} header @param {readonly Task[]} tasks @param {number} now ms */
  begin(header, tasks, now) {
    if (tasks.length === 0)
      throw new Error("this made-up match has no rally to practice fixing on: start again for another one");
    this.#tasks = tasks;
    Object.assign(this.view, { header, of: tasks.length, verdicts: [] });
    this.#lay(1, now);
  }

  leave() {
    this.#change({ phase: "choose", task: null, message: "" });
  }

  /** Ends the set with what there was. */
  finish() {
    this.#change({ phase: this.view.verdicts.length === 0 ? "choose" : "done", message: "" });
  }

  /** Shows the keys that would put it right. */
  show() {
    this.#change({ shown: true });
  }

  /** @param {number} now ms */
  skip(now) {
    if (this.view.phase === "task") this.#verdict(false, now);
  }

  /** @param {number} now ms */
  next(now) {
    const { phase, number, of } = this.view;
    if (phase !== "result") return;
    if (number < of) this.#lay(number + 1, now);
    else this.finish();
  }

  /** @param {string} action @param {number} now ms */
  press(action, now) {
    if (action.startsWith("film:")) return action === "film:play" ? this.next(now) : undefined;
    const { phase, header, answer, state } = this.view;
    if (phase !== "task" || header === null || answer === null) return;
    if (!NO_KEYS.has(action)) this.#keys += 1;
    const outcome = press(state, action, { answer, header, nextId: () => this.#nextId(), now });
    const refused = this.#take(outcome.entries);
    this.#change(refused === null ? { state: outcome.state, message: outcome.say ?? "" } : { message: refused });
    this.#judge(now);
  }

  /** What the dialog for the score says. @param {Content} content @param {number} now ms */
  say(content, now) {
    if (this.view.phase !== "task") return;
    const refused = this.#take([{ id: this.#nextId(), ...content }]);
    this.#change({ message: refused ?? "" });
    this.#judge(now);
  }

  #nextId() {
    this.#ids += 1;
    return `practice-${this.#ids}`;
  }

  /** @param {readonly Recorded[]} entries @returns {string | null} why one was refused */
  #take(entries) {
    for (const { id, ...content } of entries) {
      const answer = this.#localChart.take({ id, at: "2000-01-01T00:00:00.000Z", ...content });
      if (answer.refused !== undefined) return answer.refused.message;
      this.view.answer = { ...answer, recent: answer.recent.filter(({ entry }) => entry.id !== START) };
    }
    return null;
  }

  /** @param {number} now ms */
  #judge(now) {
    const { task, answer, state } = this.view;
    if (task === null || answer === null || state.armed !== null || state.inserting) return;
    if (isRight(task, answer)) this.#verdict(true, now);
  }

  /** @param {boolean} fixed @param {number} now ms */
  #verdict(fixed, now) {
    const { task, shown, verdicts } = this.view;
    if (task === null) return;
    const { kind, fix } = task;
    const verdict = { kind, fixed, keys: this.#keys, fewest: fix.length, seconds: (now - this.#since) / 1000, shown };
    this.#change({ phase: "result", verdicts: [...verdicts, verdict], message: "" });
  }

  /** Charts the rally of a task with its mistake. @param {number} number from 1 @param {number} now ms */
  #lay(number, now) {
    const task = this.#tasks[number - 1];
    const { header } = this.view;
    if (task === undefined || header === null) return;
    const { points, serving, server, games } = task.rally.score;
    this.#localChart.open(header);
    const said = task.kind === "server" ? Number(task.instead) : server;
    const score = { id: START, kind: "score_fix", points, serving, games };
    const problem = this.#take([said === null ? score : { ...score, server: said }]);
    if (problem !== null) throw new Error(`the rally to fix cannot begin: ${problem}`);
    let state = freshState();
    for (const action of task.typed) {
      const { answer } = this.view;
      if (answer === null) return;
      const outcome = press(state, action, { answer, header, nextId: () => this.#nextId() });
      const refused = this.#take(outcome.entries);
      if (refused !== null) throw new Error(`the rally to fix cannot be charted: ${refused}`);
      state = outcome.state;
    }
    this.#keys = 0;
    this.#since = now;
    this.#change({ phase: "task", task, number, state, shown: false, message: "" });
  }

  /** @param {Partial<View>} change */
  #change(change) {
    Object.assign(this.view, change);
    this.#draw(this.view);
  }
}

/** @param {Task} task @param {Answer} answer @returns {boolean} whether the chart says what happened */
export function isRight({ kind, rally }, answer) {
  const { points, serving, server } = rally.score;
  if (kind === "server") {
    const { score } = answer;
    return (
      score.server === server && score.serving === serving && score.points.a === points.a && score.points.b === points.b
    );
  }
  const played = { shots: rally.shots.map((shot) => ({ ...shot, at: null })), end: rally.end };
  const { rows, end } = compare(played, chartedFrom(answer.recent, new Map()));
  return end.length === 0 && rows.every(({ findings, swapped }) => findings.length === 0 && !swapped);
}
