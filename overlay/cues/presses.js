// What becomes of a key that was pressed: it waits for its shot, goes to the host as an
// entry, is looked after until it stands right behind its shot, can be taken back. Pure:
// (press, context) → press and the entries that say so.

/**
 * @import { Entry } from "../shared/charting/local-chart.js"
 * @import { Moment, Timeline } from "./timeline.js"
 */
import { matchOf, placeOf } from "./matching.js";

/**
 * @typedef {object} Press
 * @property {string} match the id of the match
 * @property {number} place counted through the match
 * @property {"cue" | "depth"} kind
 * @property {string} what which cue, or which depth
 * @property {"a" | "b"} team whose shot, or whose depth
 * @property {number} at ms since 1970
 * @property {"waiting" | "sent" | "noted" | "undone" | "refused"} state
 * @property {boolean} lost the strokes have gone past it, and none was its own
 * @property {string | null} entry the one that says it
 * @property {string | null} anchor the shot it is about; of a depth, the moment it stands behind
 * @property {Entry[]} unsent what the host may not have yet
 */
/**
 * @typedef {object} Context
 * @property {Timeline} timeline with the times of this device's clock
 * @property {number} shift how much later strokes are recorded than cues are marked, ms
 * @property {number} now
 * @property {boolean} over the match is
 * @property {() => string} nextId
 */
/** @typedef {{ press: Press, entries: Entry[] }} Step */

/** What stands longer than this is left as it is. */
const LOOK_AFTER_MS = 10 * 60_000;

/**
 * @param {Press} press @param {Context} context
 * @returns {Step | null} null: nothing changes
 */
export function advance(press, context) {
  if (press.state === "waiting") return sent(press, context);
  const settled = press.state === "sent" && press.unsent.length === 0 && press.entry !== null;
  if (!settled || context.now - press.at > LOOK_AFTER_MS) return null;
  return lookedAfter(press, context);
}

/** @param {Press} press @param {Context} context @returns {Step | null} */
function sent(press, context) {
  const { moments } = context.timeline;
  if (press.kind === "depth") {
    const { after, final } = placeOf(press, moments, context.shift, context.now);
    return final ? carried(press, after, context) : null;
  }
  const { shot, final } = matchOf(press, moments, context.shift);
  if (!final) return null;
  if (shot !== null) return carried(press, shot, context);
  return press.lost ? null : { press: { ...press, lost: true }, entries: [] };
}

/**
 * As one person would have charted it: directly while its shot is the latest, else put in
 * right behind it. @param {Press} press @param {Moment | null} anchor @param {Context} context @returns {Step}
 */
function carried(press, anchor, { timeline, over, nextId }) {
  const isLatest = (anchor?.id ?? null) === (timeline.moments.at(-1)?.id ?? null);
  const content = contentOf(press, anchor);
  const direct = (isLatest && !over) || anchor === null;
  const id = nextId();
  const said = direct ? content : { kind: "insert", after: anchor.id, entry: content };
  const entry = { id, at: new Date(press.at).toISOString(), ...said };
  return {
    press: { ...press, state: "sent", lost: false, entry: id, anchor: anchor?.id ?? null, unsent: [entry] },
    entries: [entry],
  };
}

/** @param {Press} press @param {Moment | null} anchor */
const contentOf = ({ kind, what, team }, anchor) =>
  kind === "cue" ? { kind, cue: what, shot: anchor?.id ?? "" } : { kind, team, depth: what };

/**
 * Between the press and the host's word another stroke may have come first, or the shot
 * has been taken back or given to the other side since.
 * @param {Press} press @param {Context} context @returns {Step | null}
 */
function lookedAfter(press, context) {
  const { moments, behind } = context.timeline;
  if (press.entry === null || !behind.has(press.entry)) return null;
  const anchor = moments.find(({ id }) => id === press.anchor) ?? null;
  if (press.kind === "depth" || (anchor !== null && anchor.team === press.team)) {
    const standsRight = behind.get(press.entry) === press.anchor || anchor === null;
    return standsRight ? null : moved(press, anchor, context);
  }
  const { shot, final } = matchOf(press, moments, context.shift);
  if (!final) return null;
  if (shot !== null) return moved(press, shot, context);
  return press.lost ? null : { press: { ...press, lost: true }, entries: [] };
}

/** @param {Press} press @param {Moment} anchor @param {Context} context @returns {Step} */
function moved(press, anchor, { now, nextId }) {
  const at = new Date(now).toISOString();
  const id = nextId();
  const entries = [
    { id: nextId(), at, kind: "retract", target: press.entry },
    { id, at: new Date(press.at).toISOString(), kind: "insert", after: anchor.id, entry: contentOf(press, anchor) },
  ];
  return { press: { ...press, lost: false, entry: id, anchor: anchor.id, unsent: entries }, entries };
}

/**
 * The host took it no more as it was said, because the match is over by now.
 * @param {Press} press @param {Context} context @returns {Step | null} null where it cannot be put in either
 */
export function saidLate(press, { timeline, nextId }) {
  const anchor = timeline.moments.find(({ id }) => id === press.anchor);
  if (anchor === undefined) return null;
  const id = nextId();
  const at = new Date(press.at).toISOString();
  const entry = { id, at, kind: "insert", after: anchor.id, entry: contentOf(press, anchor) };
  return { press: { ...press, entry: id, unsent: [entry] }, entries: [entry] };
}

/** @param {Press} press @param {Context} context @returns {Step} taken back */
export function undone(press, { now, nextId }) {
  if (press.entry === null) return { press: { ...press, state: "undone" }, entries: [] };
  const entry = { id: nextId(), at: new Date(now).toISOString(), kind: "retract", target: press.entry };
  return { press: { ...press, state: "undone", unsent: [...press.unsent, entry] }, entries: [entry] };
}

/** @param {Press} press @param {string} text @param {Context} context @returns {Step} kept as free text instead */
export function noted(press, text, { nextId }) {
  const id = nextId();
  const at = new Date(press.at).toISOString();
  const note = { kind: "note", text };
  const entry = press.entry === null ? { id, at, ...note } : { id, at, kind: "amend", target: press.entry, with: note };
  return {
    press: { ...press, state: "noted", lost: false, entry: press.entry ?? id, unsent: [...press.unsent, entry] },
    entries: [entry],
  };
}

/** @param {readonly Press[]} presses @returns {Press | undefined} what undo would take back */
export function lastPress(presses) {
  return [...presses].reverse().find(({ state }) => state !== "undone" && state !== "refused");
}
