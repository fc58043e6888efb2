// The state that a charter's keys leave, and how an entry is recorded into it. Pure.

/**
 * @import { Team } from "../../types/messages.js"
 * @import { Answer, Seen } from "./local-chart.js"
 * @import { Content, Context, Outcome, State } from "./recorder.js"
 */

/** @returns {State} */
export const freshState = () => ({
  detail: "shots",
  armed: null,
  sameSide: false,
  before: false,
  away: false,
  arrow: null,
  selected: null,
  fixed: null,
  inserting: false,
  turned: null,
  done: [],
  undone: [],
  assumed: [],
});

/** @param {Team} team @returns {Team} */
export const other = (team) => (team === "a" ? "b" : "a");

/** @param {State} state @param {string} [say] @returns {Outcome} */
export const idle = (state, say) => (say === undefined ? { state, entries: [] } : { state, entries: [], say });

/** What a recorded entry leaves waiting: nothing. */
export const NOTHING_ARMED = { armed: null, sameSide: false, before: false, away: false };

/** @param {State} state @param {Content} content @param {Context} context @returns {Outcome} */
export function record(state, content, context) {
  const id = context.nextId();
  const next = { ...state, ...NOTHING_ARMED, fixed: null, done: [...state.done, id], undone: [] };
  return { state: next, entries: [{ id, ...content }] };
}

/** @param {Answer} answer @param {string} id @returns {Seen | undefined} */
export const seen = (answer, id) => answer.recent.find(({ entry }) => entry.id === id);
