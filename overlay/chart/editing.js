// Second thoughts: undo, redo, and the entry one has stepped back to. Nothing is
// ever erased; every fix is a `retract`, an `amend` or an `insert`. Pure, like
// the recorder, which asks here first.

/**
 * @import { Context, Content, Outcome, State } from "./recorder.js"
 * @import { Entry } from "./pocket.js"
 * @import { Team } from "../types/messages.js"
 */

/** How many entries one can step back through. */
export const REACH = 10;

/** The id of the word on the score that a chart begins with where another laptop charted before. */
export const JOINED = "joined-here";

/** Fields that are not what an entry says. */
const ASIDE = new Set(["id", "at", "seq", "received", "crc", "client"]);

/** @param {Entry} entry @returns {Content} */
export function contentOf(entry) {
  return /** @type {Content} */ (Object.fromEntries(Object.entries(entry).filter(([name]) => !ASIDE.has(name))));
}

/**
 * @param {State} state @param {string} action @param {Context} context
 * @returns {Outcome | null} null where the action is none of a fix
 */
export function fix(state, action, context) {
  const [verb, what = "", more] = action.split(":");
  if (verb === "undo") return undo(state, context);
  if (verb === "redo") return redo(state, context);
  if (verb === "older" || verb === "newer") return step(state, verb, context);
  const lastShot = context.answer.rally.at(-1)?.id;
  const id = state.selected ?? (verb === "contact" ? lastShot : undefined);
  const target = context.answer.recent.find(({ entry }) => entry.id === id)?.entry;
  if (verb === "next" && !state.inserting) return null;
  if (target === undefined) return verb === "remove" || verb === "insert" ? told(state, "step back to an entry first") : null;
  if (verb === "contact") return amend(state, target, toggled(target, "contact", what), context);
  if (verb === "cancel") return { state: { ...state, selected: null, inserting: false, armed: null }, entries: [] };
  if (verb === "remove") return correct({ ...state, selected: null }, { kind: "retract", target: target.id }, context);
  if (verb === "insert") return { state: { ...state, inserting: !state.inserting }, entries: [] };
  if (verb === "stroke" || verb === "next") return stroke(state, target, verb === "next" ? null : what, more, context);
  if (verb === "cue") return amend(state, target, cued(target, what), context);
  if (verb === "team") return amend(state, target, teamed(target, /** @type {Team} */ (what)), context);
  if (verb === "end") return amend(state, target, ended(target, what), context);
  return told(state, "this key fixes nothing: Escape leaves");
}

/** @param {State} state @param {string} say @returns {Outcome} */
const told = (state, say) => ({ state, entries: [], say });

/** @param {State} state @param {Content} content @param {Context} context @returns {Outcome} */
function correct(state, content, context) {
  const id = context.nextId();
  return { state: { ...state, done: [...state.done, id], undone: [] }, entries: [{ id, ...content }] };
}

/** @param {State} state @param {Context} context @returns {Outcome} */
function undo(state, context) {
  const target = state.done.at(-1);
  if (target === undefined) return told(state, "nothing to undo");
  const id = context.nextId();
  const next = { ...state, done: state.done.slice(0, -1), undone: [...state.undone, `${target} ${id}`], armed: null, selected: null };
  return { state: next, entries: [{ id, kind: "retract", target }] };
}

/** @param {State} state @param {Context} context @returns {Outcome} */
function redo(state, context) {
  const [target, retraction] = state.undone.at(-1)?.split(" ") ?? [];
  if (target === undefined || retraction === undefined) return told(state, "nothing to redo");
  const next = { ...state, done: [...state.done, target], undone: state.undone.slice(0, -1) };
  return { state: next, entries: [{ id: context.nextId(), kind: "retract", target: retraction }] };
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
  for (const { id, kind, target } of entries) {
    if (kind === "retract" && target === done.at(-1)) {
      undone.push(`${done.pop()} ${id}`);
      continue;
    }
    const [again, retraction] = undone.at(-1)?.split(" ") ?? [];
    const redone = kind === "retract" && target === retraction ? again : undefined;
    done.push(redone ?? id);
    undone = redone === undefined ? [] : undone.slice(0, -1);
  }
  return { done, undone };
}

/** @param {State} state @param {"older" | "newer"} way @param {Context} context @returns {Outcome} */
function step(state, way, { answer }) {
  const ids = answer.recent.slice(-REACH).map(({ entry }) => entry.id).filter((id) => id !== JOINED);
  if (ids.length === 0) return told(state, "nothing has been charted yet");
  const at = state.selected === null ? ids.length : ids.indexOf(state.selected);
  const place = way === "older" ? Math.max(0, at - 1) : at + 1;
  return { state: { ...state, selected: ids[place] ?? null, inserting: false, armed: null }, entries: [] };
}

/** @param {State} state @param {Entry} target @param {Content | string} content @param {Context} context @returns {Outcome} */
function amend(state, target, content, context) {
  if (typeof content === "string") return told(state, content);
  const assumed = state.assumed.filter((id) => id !== target.id);
  return correct({ ...state, assumed }, { kind: "amend", target: target.id, with: content }, context);
}

/**
 * @param {State} state @param {Entry} target @param {string | null} name of the stroke; null: the one that follows from the order
 * @param {string | undefined} contact @param {Context} context
 */
function stroke(state, target, name, contact, context) {
  const more = contact === undefined ? {} : { contact };
  if (state.inserting) {
    const entry = { kind: "shot", ...missedAfter(target, context), ...(name === null ? {} : { stroke: name }), ...more };
    const outcome = correct({ ...state, inserting: false }, { kind: "insert", after: target.id, entry }, context);
    // What is pressed next is about the shot just put in.
    return { ...outcome, state: { ...outcome.state, selected: outcome.entries[0]?.id ?? null } };
  }
  if (target.kind !== "shot") return told(state, "only a shot has a stroke");
  const { contact: _, ...rest } = contentOf(target);
  return amend(state, target, { ...rest, kind: "shot", ...(name === null ? {} : { stroke: name }), ...more }, context);
}

/**
 * Who struck a shot that was missed, and with what if nobody says: the other team
 * than the one that hit before it, else than the one that hit after it.
 * @param {Entry} target what it came after @param {Context} context @returns {{ team: Team, stroke: string }}
 */
function missedAfter(target, { answer }) {
  const entries = answer.recent.map(({ entry }) => entry);
  const at = entries.indexOf(target);
  const start = entries.slice(0, at + 1).map(({ kind }) => kind === "rally_end" || kind === "replay").lastIndexOf(true) + 1;
  const before = entries.slice(start, at + 1).filter(({ kind }) => kind === "shot");
  const after = entries.slice(at + 1).find(({ kind }) => kind === "shot");
  const neighbour = before.at(-1) ?? after;
  const team = neighbour === undefined ? answer.score.serving : other(neighbour["team"]);
  return { team, stroke: before.length === 0 ? "serve" : before.at(-1)?.["stroke"] === "serve" ? "return" : "volley" };
}

/** @param {unknown} team @returns {Team} */
const other = (team) => (team === "a" ? "b" : "a");

/** @param {Entry} target @param {string} name @param {string} value @returns {Content | string} */
function toggled(target, name, value) {
  if (target.kind !== "shot") return "only a shot has a contact";
  const { [name]: had, ...rest } = contentOf(target);
  const content = /** @type {Content} */ (rest);
  return had === value ? content : { ...content, [name]: value };
}

/** @param {Entry} target @param {string} cue @returns {Content | string} */
function cued(target, cue) {
  if (target.kind === "cue") return { ...contentOf(target), cue };
  if (target.kind !== "shot") return "a cue is about a shot";
  const had = /** @type {string[]} */ (target["cues"] ?? []);
  const cues = had.includes(cue) ? had.filter((one) => one !== cue) : [...had, cue];
  const { cues: _, ...rest } = contentOf(target);
  const content = /** @type {Content} */ (rest);
  return cues.length === 0 ? content : { ...content, cues };
}

/** @param {Entry} target @param {Team} team @returns {Content | string} */
function teamed(target, team) {
  const content = contentOf(target);
  if (target.kind === "rally_end" && content["how"] === undefined) return { kind: "rally_end", won_by: team };
  if (target.kind === "rally_end") {
    const { won_by: _, player: __, ...rest } = content;
    return { ...rest, kind: "rally_end", by: team };
  }
  if ("team" in content) return { ...content, team };
  return "this entry is about no team";
}

/** @param {Entry} target @param {string} how @returns {Content | string} */
function ended(target, how) {
  if (target.kind !== "rally_end") return "this is not the end of a rally";
  const by = target["by"];
  if (by === undefined) return "say first which team: remove this end and enter it again";
  return { kind: "rally_end", how, by };
}
