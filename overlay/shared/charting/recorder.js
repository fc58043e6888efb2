// What an action of the charter means, given the match so far: a pure function
// from state and action to the next state and the entries to record. The match
// itself is the local chart's; only what it cannot know is held here: what is armed,
// which entry is being fixed, what can be undone. Ids come from the caller.

/**
 * @import { MatchHeader, Team } from "../../types/messages.js"
 * @import { Answer, Seen } from "./local-chart.js"
 */
import { nextDepth } from "./depths.js";
import { fix } from "./editing.js";
import { arm, confirm, isServed, pressedOnce, settle } from "./ends.js";
import { NOTHING_ARMED, idle, other, record, seen } from "./state.js";

export { freshState } from "./state.js";

/** @typedef {"score" | "ends" | "shots"} Detail how much is charted */
/** @typedef {Record<string, unknown> & { kind: string }} Content an entry without `id` and `at` */
/**
 * @typedef {object} State
 * @property {Detail} detail
 * @property {string | null} armed what waits for a second key: `winner`, `ace`, `out`, `net`, `fault`, `time_out`, `replay`, `annul:` and an id
 * @property {boolean} sameSide the next shot is by the team of the latest one
 * @property {boolean} before the next cue is about the other ball
 * @property {boolean} away somebody looked away, and nothing has been charted since
 * @property {{ team: Team, at: number } | null} arrow the one that did something last, and when
 * @property {string | null} selected the entry being fixed
 * @property {string | null} fixed the entry that was fixed last, as long as nothing has been charted since
 * @property {boolean} inserting the next stroke is inserted after it
 * @property {{ shot: string, amends: string[] } | null} turned the shot just inserted, and what turned the later ones over
 * @property {string[]} done steps recorded here that can be undone, the ids of each joined by `+`
 * @property {string[]} undone steps undone, each with the step that did it
 * @property {string[]} assumed ids of returns nobody has typed
 */
/** @typedef {{ id: string } & Content} Recorded */
/**
 * @typedef {object} Context
 * @property {Answer} answer
 * @property {MatchHeader} header
 * @property {() => string} nextId
 * @property {number} [now] ms of any clock, where the time between two keys counts
 * @property {() => Seen[]} [ends] every end of a rally of the match, oldest first
 */
/** @typedef {{ state: State, entries: Recorded[], say?: string }} Outcome */

/** Strokes that answer a ball that sat up: an `attackable` right after one means the ball before. */
export const ATTACKS = new Set(["overhead", "speedup", "erne", "atp"]);
const DETAILS = /** @type {const} */ (["shots", "ends", "score"]);

/** @param {State} state @param {string} action @param {Context} context @returns {Outcome} */
export function press(state, action, context) {
  const outcome = act(state, action, context);
  const [verb, team] = action.split(":");
  return verb === "team" ? pressedOnce(outcome, /** @type {Team} */ (team), context) : outcome;
}

/** @param {State} state @param {string} action @param {Context} context @returns {Outcome} */
function act(state, action, context) {
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
      return arm(state, what, context);
    case "replay":
    case "time_out":
      return arm(state, verb, context);
    case "gap":
      return gap(state, context);
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

/** @param {Pick<Context, "answer">} context @returns {string} the stroke that follows from the order */
export function nextStroke({ answer }) {
  const last = answer.rally.at(-1);
  if (last === undefined) return "serve";
  return last.number === 1 ? "return" : "volley";
}

/**
 * With rally results and cues alone, a rally's first key is one of its last shots, and
 * after a look away it is any: no serve. @param {State} state @param {Context} context
 */
const orderedStroke = ({ detail, away }, context) => (detail === "ends" || away ? "volley" : nextStroke(context));

/** @param {Pick<State, "sameSide">} state @param {Pick<Context, "answer">} context @returns {Team} who strikes next */
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

/**
 * One step deeper or nearer than the page thinks the team stands, which it shows.
 * @param {State} state @param {Team} team @param {Context} context @returns {Outcome}
 */
function depth(state, team, context) {
  const last = context.answer.recent.at(-1)?.entry;
  const again = last?.kind === "depth" && last["team"] === team && last["player"] === undefined;
  const content = { kind: "depth", team, depth: nextDepth(context.answer, team) };
  // Tapped again at once it is a choice not yet made: the same entry, changed.
  if (again) return record(state, { kind: "amend", target: last.id, with: content }, context);
  return record(state, content, context);
}

/**
 * Nobody looked: a note says so, and what is charted next does not join what was before,
 * so that this rally counts as charted with a gap.
 * @param {State} state @param {Context} context @returns {Outcome}
 */
function gap(state, context) {
  const noted = record(state, { kind: "note", text: "looked away" }, context);
  return {
    ...noted,
    state: { ...noted.state, sameSide: true, away: true },
    say: "looked away: chart on from what you see",
  };
}

/** @param {State} state @param {Context} context @returns {Outcome} */
function changeDetail(state, { answer }) {
  if (answer.rally.length > 0) return idle(state, "how much is charted changes between rallies");
  const at = DETAILS.indexOf(state.detail);
  return { state: { ...state, detail: DETAILS[(at + 1) % DETAILS.length] ?? "shots" }, entries: [] };
}
