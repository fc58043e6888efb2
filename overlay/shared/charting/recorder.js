// What an action of the charter means, given the match so far: a pure function
// from state and action to the next state and the entries to record. The match
// itself is the local chart's; only what it cannot know is held here: what is armed,
// which entry is being fixed, what can be undone. Ids come from the caller.

/**
 * @import { MatchHeader, Team } from "../../types/messages.js"
 * @import { Answer, Seen } from "./local-chart.js"
 */
import { contentOf, fix } from "./editing.js";
import { together } from "./steps.js";

/** @typedef {"score" | "ends" | "shots"} Detail how much is charted */
/** @typedef {Record<string, unknown> & { kind: string }} Content an entry without `id` and `at` */
/**
 * @typedef {object} State
 * @property {Detail} detail
 * @property {string | null} armed what waits for a team: `winner`, `out`, `net`, `fault`, `time_out`, `replay`
 * @property {boolean} sameSide the next shot is by the team of the latest one
 * @property {boolean} before the next cue is about the other ball
 * @property {string | null} selected the entry being fixed
 * @property {string | null} fixed the entry that was fixed last, as long as nothing has been charted since
 * @property {boolean} inserting the next stroke is inserted after it
 * @property {{ shot: string, amends: string[] } | null} turned the shot just inserted, and what turned the later ones over
 * @property {string[]} done steps recorded here that can be undone, the ids of each joined by `+`
 * @property {string[]} undone steps undone, each with the step that did it
 * @property {string[]} assumed ids of returns nobody has typed
 */
/** @typedef {{ id: string } & Content} Recorded */
/** @typedef {{ answer: Answer, header: MatchHeader, nextId: () => string }} Context */
/** @typedef {{ state: State, entries: Recorded[], say?: string }} Outcome */

/** @returns {State} */
export const freshState = () => ({
  detail: "shots",
  armed: null,
  sameSide: false,
  before: false,
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

/** Strokes that answer a ball that sat up: an `attackable` right after one means the ball before. */
export const ATTACKS = new Set(["overhead", "speedup", "erne", "atp"]);
const DETAILS = /** @type {const} */ (["shots", "ends", "score"]);
const DEPTHS = ["transition", "line", "back"];

/** @param {State} state @param {string} action @param {Context} context @returns {Outcome} */
export function press(state, action, context) {
  const fixed = fix(state, action, context);
  if (fixed !== null) return fixed;
  const [verb, what = "", more] = action.split(":");
  switch (verb) {
    // Eyes on the court, a fix is soon forgotten: the space bar always charts on.
    case "next":
      return state.detail !== "score"
        ? shot({ ...state, selected: null }, orderedStroke(state, context), undefined, context)
        : idle(state, "shots are not charted now");
    case "stroke":
      return state.detail !== "score" ? stroke(state, what, more, context) : idle(state, "shots are not charted now");
    case "cue":
      return cue(state, what, context);
    case "before":
      return { state: { ...state, before: !state.before }, entries: [] };
    case "missed":
      return { state: { ...state, sameSide: !state.sameSide }, entries: [] };
    case "contact":
    case "player":
      return idle(state, "there is no shot yet");
    case "depth":
      return depth(state, /** @type {Team} */ (what), context);
    case "end":
      return { state: { ...state, armed: what }, entries: [] };
    case "replay":
      return { state: { ...state, armed: "replay" }, entries: [] };
    case "time_out":
      return { state: { ...state, armed: "time_out" }, entries: [] };
    case "team":
      return settle(state, /** @type {Team} */ (what), context);
    case "confirm":
      return confirm(state, context);
    case "cancel":
      return { state: { ...state, ...NOTHING_ARMED, fixed: null }, entries: [] };
    case "detail":
      return changeDetail(state, context);
    default:
      return idle(state);
  }
}

/** @param {State} state @param {string} [say] @returns {Outcome} */
export const idle = (state, say) => (say === undefined ? { state, entries: [] } : { state, entries: [], say });

const NOTHING_ARMED = { armed: null, sameSide: false, before: false };

/** @param {State} state @param {Content} content @param {Context} context @returns {Outcome} */
export function record(state, content, context) {
  const id = context.nextId();
  const next = { ...state, ...NOTHING_ARMED, fixed: null, done: [...state.done, id], undone: [] };
  return { state: next, entries: [{ id, ...content }] };
}

/** @param {Context} context @returns {string} the stroke that follows from the order */
export function nextStroke({ answer }) {
  const last = answer.rally.at(-1);
  if (last === undefined) return "serve";
  return last.number === 1 ? "return" : "volley";
}

/** With ends and cues alone, a rally's first key is one of its last shots: no serve. @param {State} state @param {Context} context */
const orderedStroke = ({ detail }, context) => (detail === "ends" ? "volley" : nextStroke(context));

/** @param {State} state @param {Context} context @returns {Team} who strikes next */
export function nextTeam(state, { answer }) {
  const last = answer.rally.at(-1);
  if (last === undefined) return state.sameSide ? other(answer.score.serving) : answer.score.serving;
  return state.sameSide ? last.team : other(last.team);
}

/** @param {State} state @param {string} stroke @param {string | undefined} contact @param {Context} context */
function shot(state, stroke, contact, context) {
  const content = { kind: "shot", team: nextTeam(state, context), stroke };
  return record(state, contact === undefined ? content : { ...content, contact }, context);
}

/**
 * A stroke key right after the serve is the third shot: the serve has to be
 * returned first (two-bounce rule), so the return is recorded with it.
 * @param {State} state @param {string} name @param {string | undefined} contact @param {Context} context @returns {Outcome}
 */
function stroke(state, name, contact, context) {
  const { answer } = context;
  const last = answer.rally.at(-1);
  if (last === undefined || !isServed(answer) || state.sameSide || state.detail === "ends")
    return shot(state, name, contact, context);
  const returned = shot(state, "return", undefined, context);
  const content = { kind: "shot", team: last.team, stroke: name };
  const third = record(returned.state, contact === undefined ? content : { ...content, contact }, context);
  const assumed = [...third.state.assumed, ...returned.entries.map(({ id }) => id)];
  return {
    state: { ...third.state, assumed },
    entries: [...returned.entries, ...third.entries],
    say: "return assumed",
  };
}

/** @param {Answer} answer @param {string} id @returns {Seen | undefined} */
const seen = (answer, id) => answer.recent.find(({ entry }) => entry.id === id);

/** @param {Answer} answer @param {string} id whether the ball is marked as one that sits up */
function isMarked(answer, id) {
  if (/** @type {unknown[]} */ (seen(answer, id)?.entry["cues"] ?? []).includes("attackable")) return true;
  const at = answer.recent.findIndex(({ entry }) => entry.id === id);
  return answer.recent.slice(at + 1).some(({ entry }, index, later) => {
    if (entry.kind !== "cue" || entry["cue"] !== "attackable") return false;
    if (entry["shot"] !== undefined) return entry["shot"] === id;
    return !later.slice(0, index).some(({ shot: between }) => between !== undefined);
  });
}

/** @param {State} state @param {string} name @param {Context} context @returns {Outcome} */
function cue(state, name, context) {
  const { answer } = context;
  const last = answer.rally.at(-1);
  if (last === undefined) return idle(state, "a cue is about a shot, and there is none yet");
  const previous = answer.rally.at(-2);
  const answered =
    name === "attackable" &&
    previous !== undefined &&
    ATTACKS.has(String(seen(answer, last.id)?.entry["stroke"])) &&
    !isMarked(answer, previous.id);
  const content = { kind: "cue", cue: name };
  const older = answered !== state.before;
  return record(state, older && previous !== undefined ? { ...content, shot: previous.id } : content, context);
}

/** @param {State} state @param {Team} team @param {Context} context @returns {Outcome} */
function depth(state, team, context) {
  const last = context.answer.recent.at(-1)?.entry;
  const again = last?.kind === "depth" && last["team"] === team && last["player"] === undefined;
  const place = again ? DEPTHS.indexOf(String(last["depth"])) + 1 : 0;
  const content = { kind: "depth", team, depth: DEPTHS[place % DEPTHS.length] };
  // Tapped again at once it is a choice not yet made: the same entry, changed.
  if (again) return record(state, { kind: "amend", target: last.id, with: content }, context);
  return record(state, content, context);
}

/** @param {State} state @param {Team} team @param {Context} context @returns {Outcome} */
function settle(state, team, context) {
  if (state.armed === null) return record(state, { kind: "rally_end", won_by: team }, context);
  if (state.armed === "time_out") return record(state, { kind: "time_out", team }, context);
  if (state.armed === "replay") return record(state, { kind: "replay" }, context);
  const [armed = "", at = team] = state.armed.split(":");
  // Either side can fault, whoever struck last: only that needs a word of its own.
  if (state.detail === "ends" && state.armed === "fault" && context.answer.rally.length > 0)
    return { state: { ...state, armed: `fault:${team}` }, entries: [], say: "who struck last? \u2190 or \u2192" };
  const end = { kind: "rally_end", how: how(armed, context), by: at };
  const turning = state.detail === "ends" ? sidesFrom(team, context) : [];
  if (turning.length === 0) return record(state, end, context);
  const amends = together(turning, context.nextId());
  const done = [...state.done, amends.map(({ id }) => id).join("+")];
  const ended = record({ ...state, done }, end, context);
  return { ...ended, entries: [...amends, ...ended.entries] };
}

/**
 * With ends and cues alone nobody says whose the first shot charted was, so its side is
 * a guess. The end knows: whoever it names struck last, and the sides follow backwards.
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
function isServed(answer) {
  const last = answer.rally.at(-1);
  return last?.number === 1 && seen(answer, last.id)?.entry["stroke"] === "serve";
}

/** @param {State} state @param {Context} context @returns {Outcome} */
function confirm(state, context) {
  if (state.armed === null) return idle(state);
  if (state.armed === "time_out") return idle(state, "a time-out needs a team");
  const last = context.answer.rally.at(-1);
  if (state.armed !== "replay" && state.detail === "ends") return idle(state, "which team? \u2190 or \u2192");
  if (state.armed !== "replay" && last === undefined) return idle(state, "no shot was charted: say which team");
  return settle(state, last?.team ?? "a", context);
}

/** @param {State} state @param {Context} context @returns {Outcome} */
function changeDetail(state, { answer }) {
  if (answer.rally.length > 0) return idle(state, "how much is charted changes between rallies");
  const at = DETAILS.indexOf(state.detail);
  return { state: { ...state, detail: DETAILS[(at + 1) % DETAILS.length] ?? "shots" }, entries: [] };
}
