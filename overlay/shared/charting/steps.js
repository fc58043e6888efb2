// What one key did is one step, undone and redone as one, however many entries it took.
// A step is the ids of its entries, joined by `+`. The ids of a step show that they
// belong together (`x`, `x_1`, `x_2`), so that it is still one after a reload and on
// the laptop that takes the court over. Pure.

/**
 * @import { Content, Context, Outcome, Recorded, State } from "./recorder.js"
 * @import { Entry } from "./local-chart.js"
 */
import { linesOf } from "./lines.js";
import { shortWords } from "./words.js";

const CORRECTIONS = new Set(["retract", "amend", "insert"]);

/** @param {readonly Content[]} contents @param {string} id of the first @returns {Recorded[]} */
export const together = (contents, id) =>
  contents.map((content, place) => ({ id: place === 0 ? id : `${id}_${place}`, ...content }));

/** @param {State} state @param {Context} context @returns {Outcome} */
export function undo(state, context) {
  if (isArmed(state)) return { state: disarmed(state), entries: [], say: "taken back: nothing was recorded yet" };
  if (state.selected !== null) return { state: { ...state, selected: null }, entries: [], say: "nothing was changed" };
  const step = state.done.at(-1);
  if (step === undefined) return { state, entries: [], say: "nothing to undo" };
  const { step: back, entries } = retracted(step, context);
  const next = {
    ...state,
    done: state.done.slice(0, -1),
    undone: [...state.undone, `${step} ${back}`],
    armed: null,
    selected: null,
    fixed: null,
    turned: null,
  };
  return { state: next, entries, say: `undone: ${whatOf(step, context)}${partsOf(step)}` };
}

/** Whether a key waits for another one: that goes first, never an entry instead. @param {State} state */
const isArmed = ({ armed, sameSide, before, inserting }) => armed !== null || sameSide || before || inserting;

/** @param {State} state @returns {State} */
const disarmed = (state) => ({ ...state, armed: null, sameSide: false, before: false, inserting: false });

/** @param {State} state @param {Context} context @returns {Outcome} */
export function redo(state, context) {
  const [step, retraction] = state.undone.at(-1)?.split(" ") ?? [];
  if (step === undefined || retraction === undefined) return { state, entries: [], say: "nothing to redo" };
  const next = { ...state, done: [...state.done, step], undone: state.undone.slice(0, -1), turned: null };
  return { state: next, entries: retracted(retraction, context).entries, say: `done again${partsOf(step)}` };
}

/** Takes a step back, its last entry first. @param {string} step @param {Context} context */
function retracted(step, context) {
  const contents = step
    .split("+")
    .reverse()
    .map((target) => ({ kind: "retract", target }));
  const entries = together(contents, context.nextId());
  return { step: entries.map(({ id }) => id).join("+"), entries };
}

/** @param {string} step @param {Context} context @returns {string} what it recorded, where that still stands by itself */
function whatOf(step, { answer, header }) {
  const [id] = step.split("+");
  const mark = answer.recent.find(({ entry }) => entry.id === id && entry.kind === "cue");
  const line =
    mark === undefined ? linesOf(answer.recent).find(({ seen }) => seen.entry.id === id) : { seen: mark, marks: [] };
  return line === undefined ? "a fix" : shortWords(header, line);
}

/** @param {string} step */
function partsOf(step) {
  const more = step.split("+").length - 1;
  return more === 0 ? "" : `, with ${more} ${more === 1 ? "change" : "changes"} that went with it`;
}

/**
 * What can be undone and redone after all of these, as if they had just been recorded:
 * what a reload would forget. @param {readonly Entry[]} entries in the order of recording
 * @returns {Pick<State, "done" | "undone">}
 */
export function doneBy(entries) {
  /** @type {string[]} */
  const done = [];
  /** @type {string[]} */
  let undone = [];
  for (const step of stepsOf(entries)) {
    const ids = step.map(({ id }) => id).join("+");
    const retracts = step.every(({ kind }) => kind === "retract")
      ? step
          .map(({ target }) => target)
          .reverse()
          .join("+")
      : null;
    if (retracts !== null && retracts === done.at(-1)) {
      undone.push(`${done.pop()} ${ids}`);
      continue;
    }
    const [again, retraction] = undone.at(-1)?.split(" ") ?? [];
    const redone = retracts !== null && retracts === retraction ? again : undefined;
    done.push(redone ?? ids);
    undone = redone === undefined ? [] : undone.slice(0, -1);
  }
  return { done, undone };
}

/** @param {readonly Entry[]} entries @returns {Entry[][]} */
function stepsOf(entries) {
  /** @type {Entry[][]} */
  const steps = [];
  for (const entry of entries) {
    const step = steps.at(-1);
    const goesOn =
      step !== undefined &&
      entry.id === `${step[0]?.id}_${step.length}` &&
      CORRECTIONS.has(entry.kind) &&
      CORRECTIONS.has(step[0]?.kind ?? "");
    if (goesOn) step.push(entry);
    else steps.push([entry]);
  }
  return steps;
}
