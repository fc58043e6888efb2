// How a rally ends, and what else needs a second key: armed by the first one, settled by a
// team's key or by the key that confirms. Pure.

/**
 * @import { Team } from "../../types/messages.js"
 * @import { Answer } from "./local-chart.js"
 * @import { Content, Context, Outcome, State } from "./recorder.js"
 */
import { contentOf } from "./editing.js";
import { endsRally } from "./lines.js";
import { idle, other, record, seen } from "./state.js";
import { together } from "./steps.js";

/** A second press of an arrow within this time is a slip of the same finger, ms. */
export const ONE_PRESS_MS = 500;

/** What is recorded of shots that nobody saw before the end. */
const UNSEEN = "other";

/** @param {State} state @param {string} what @param {Context} context @returns {Outcome} */
export function arm(state, what, { answer }) {
  const over = what === "replay" ? justEnded(answer) : undefined;
  return { state: { ...state, armed: over === undefined ? what : `annul:${over}` }, entries: [] };
}

/** @param {Answer} answer @returns {string | undefined} the end of the rally that is just over, where nothing has been struck since */
function justEnded({ recent }) {
  const last = recent.filter(({ entry }) => entry.kind === "shot" || endsRally(entry.kind)).at(-1)?.entry;
  return last?.kind === "rally_end" ? last.id : undefined;
}

/** @param {State} state @param {Team} team @param {Context} context @returns {Outcome} */
export function settle(state, team, context) {
  const { armed } = state;
  if (armed === null) return lone(state, team, context);
  if (armed === "time_out") return record(state, { kind: "time_out", team }, context);
  if (armed === "replay") return record(state, { kind: "replay" }, context);
  if (armed.startsWith("annul:")) return idle(state, "that is for a rally end: Enter annuls the rally, Escape cancels");
  const [word = "", at = team] = armed.split(":");
  // Either side can fault, whoever struck last: only that needs a word of its own.
  if (state.detail === "ends" && armed === "fault" && context.answer.rally.length > 0)
    return { state: { ...state, armed: `fault:${team}` }, entries: [], say: "who struck last? \u2190 or \u2192" };
  const end = { kind: "rally_end", how: how(word, context), by: at };
  const turning = state.detail === "ends" ? sidesFrom(team, context) : [];
  if (turning.length === 0) return recordEnd(state, end, context);
  const amends = together(turning, context.nextId());
  const done = [...state.done, amends.map(({ id }) => id).join("+")];
  const ended = recordEnd({ ...state, done }, end, context);
  return { ...ended, entries: [...amends, ...ended.entries] };
}

/**
 * An arrow alone is a whole rally, beside the keys that step back: the same one again at
 * once is one press, not two. @param {State} state @param {Team} team @param {Context} context @returns {Outcome}
 */
function lone(state, team, context) {
  const { now } = context;
  const last = state.arrow;
  if (now !== undefined && last?.team === team && now - last.at < ONE_PRESS_MS)
    return idle({ ...state, arrow: { team, at: now } }, "pressed twice at once: counted once");
  return recordEnd(state, { kind: "rally_end", won_by: team }, context);
}

/**
 * Whatever an arrow did, a finger that presses it twice must not end another rally.
 * @param {Outcome} outcome @param {Team} team whose arrow was pressed @param {Context} context @returns {Outcome}
 */
export function pressedOnce(outcome, team, { now }) {
  if (now === undefined || outcome.entries.length === 0) return outcome;
  return { ...outcome, state: { ...outcome.state, arrow: { team, at: now } } };
}

/**
 * After a look away the last shots were not seen: one stands for them, so that the rally
 * counts as charted with a gap. @param {State} state @param {Content} end @param {Context} context @returns {Outcome}
 */
function recordEnd(state, end, context) {
  const last = context.answer.rally.at(-1);
  if (!state.away || last === undefined) return record(state, end, context);
  const unseen = record(state, { kind: "shot", team: last.team, stroke: UNSEEN }, context);
  const ended = record(unseen.state, end, context);
  return { ...ended, entries: [...unseen.entries, ...ended.entries] };
}

/**
 * With rally results and cues alone nobody says whose the first shot charted was, so its side
 * is a guess. The end knows: whoever it names struck last, and the sides follow backwards.
 * @param {Team} team @param {Context} context @returns {Content[]} what turns the shots over; nothing where they are right
 */
function sidesFrom(team, { answer }) {
  if ((answer.rally.at(-1)?.team ?? team) === team) return [];
  return answer.rally.flatMap(({ id, team: guessed }) => {
    const entry = seen(answer, id)?.entry;
    if (entry === undefined) return [];
    // A player's number is one of the team that did not strike it after all.
    const { player: _, ...content } = contentOf(entry);
    return [{ kind: "amend", target: id, with: { ...content, kind: "shot", team: other(guessed) } }];
  });
}

/** A winner with nothing but the serve struck is an ace. @param {string} armed @param {Context} context */
const how = (armed, { answer }) => (armed === "winner" && isServed(answer) ? "ace" : armed);

/** Whether the serve, and nothing else, has been struck. @param {Answer} answer */
export function isServed(answer) {
  const last = answer.rally.at(-1);
  return last?.number === 1 && seen(answer, last.id)?.entry["stroke"] === "serve";
}

/** @param {State} state @param {Context} context @returns {Outcome} */
export function confirm(state, context) {
  const { armed } = state;
  if (armed === null) return idle(state);
  if (armed === "time_out") return idle(state, "a time-out needs a team");
  if (armed === "replay") return settle(state, "a", context);
  if (armed.startsWith("annul:")) return annul(state, armed.slice("annul:".length), context);
  if (armed === "ace") return ace(state, context);
  const last = context.answer.rally.at(-1);
  if (state.detail === "ends") return idle(state, "which team? \u2190 or \u2192");
  if (last === undefined) return idle(state, "no shot was charted: say which team");
  return settle(state, last.team, context);
}

/** An ace is the server's; where the serve has no key yet, it comes along. @param {State} state @param {Context} context @returns {Outcome} */
function ace(state, context) {
  const team = context.answer.score.serving;
  const end = { kind: "rally_end", how: "ace", by: team };
  if (context.answer.rally.length > 0 || state.detail !== "shots") return record(state, end, context);
  const served = record(state, { kind: "shot", team, stroke: "serve" }, context);
  const ended = record(served.state, end, context);
  return { ...ended, entries: [...served.entries, ...ended.entries] };
}

/** The rally that is just over is played again. @param {State} state @param {string} target @param {Context} context @returns {Outcome} */
function annul(state, target, context) {
  const outcome = record(state, { kind: "amend", target, with: { kind: "replay" } }, context);
  return { ...outcome, say: "annulled: the rally is played again" };
}
