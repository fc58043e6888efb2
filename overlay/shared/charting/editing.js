// Second thoughts: undo, redo, and the entry one has stepped back to. Nothing is
// ever erased; every fix is a `retract`, an `amend` or an `insert`. What one key did is
// undone by one key, however many entries it took (steps.js). Pure, like the recorder,
// which asks here first.

/**
 * @import { Context, Content, Outcome, State } from "./recorder.js"
 * @import { Answer, Entry } from "./local-chart.js"
 * @import { Line } from "./lines.js"
 * @import { Turned } from "./turning.js"
 * @import { Team } from "../../types/messages.js"
 */
import { cuesOn, endsRally, linesOf, ownCues } from "./lines.js";
import { redo, together, undo } from "./steps.js";
import { latestOf, named, namedWords } from "./striker.js";
import { otherTeam, turnAfter, turningWords } from "./turning.js";
import { shortWords } from "./words.js";

/** How many entries one can step back through. */
export const REACH = 10;

/** The id of the word on the score that a chart begins with where another laptop charted before. */
export const JOINED = "joined-here";

/** Fields that are not what an entry says. */
const ASIDE = new Set(["id", "at", "seq", "received", "crc", "client", "seat"]);

/** @param {Entry} entry @returns {Content} */
export function contentOf(entry) {
  return /** @type {Content} */ (Object.fromEntries(Object.entries(entry).filter(([name]) => !ASIDE.has(name))));
}

/**
 * @param {State} state @param {string} action @param {Context} context
 * @returns {Outcome | null} null where the action is none of a fix
 */
export function fix(state, action, context) {
  const [verb = "", what = "", more] = action.split(":");
  if (verb === "undo") return undo(state, context);
  if (verb === "redo") return redo(state, context);
  if (verb === "older" || verb === "newer") return step(state, verb, context);
  if (verb === "lapse") return { state: { ...state, selected: null, inserting: false }, entries: [] };
  const id = state.selected ?? unstepped(verb, context.answer);
  const line = lineOf(id, context);
  if (verb === "next" && !state.inserting) return null;
  if (line === undefined)
    return verb === "remove" || verb === "insert" ? told(state, "step back to an entry first") : null;
  const target = line.seen.entry;
  if (verb === "contact") return amend(state, target, toggled(target, "contact", what), context);
  if (verb === "player") return player(state, line, context);
  if (verb === "cancel")
    return { state: { ...state, selected: null, fixed: null, inserting: false, armed: null }, entries: [] };
  if (verb === "remove") return remove(state, line, context);
  if (verb === "insert" && !context.answer.recent.some(({ entry }) => entry === target))
    return told(state, "this far back only the end of a rally can be changed");
  if (verb === "insert") return { state: { ...state, inserting: !state.inserting }, entries: [] };
  if (verb === "stroke" || verb === "next") return stroke(state, line, verb === "next" ? null : what, more, context);
  if (verb === "cue") return cue(state, line, what, context);
  if (verb === "missed") return turn(state, target, context);
  if (verb === "team") return amend(state, target, teamed(target, /** @type {Team} */ (what)), context);
  if (verb === "end") return amend(state, target, ended(target, what), context);
  return told(state, "this key changes nothing here; Escape cancels");
}

/**
 * What a key is about that needs no step back.
 * @param {string} verb @param {Answer} answer
 */
function unstepped(verb, answer) {
  if (verb === "contact") return answer.rally.at(-1)?.id;
  return verb === "player" ? latestOf(answer) : undefined;
}

/** @param {string | undefined} id @param {Pick<Context, "answer" | "ends">} context @returns {Line | undefined} what is told of that entry */
export function lineOf(id, { answer, ends }) {
  const latest = linesOf(answer.recent).find(({ seen }) => seen.entry.id === id);
  if (latest !== undefined || id === undefined) return latest;
  const end = ends?.().find(({ entry }) => entry.id === id);
  return end === undefined ? undefined : { seen: end, marks: [] };
}

/** @param {State} state @param {string} say @returns {Outcome} */
const told = (state, say) => ({ state, entries: [], say });

/**
 * One change, and the fix is over: whatever is typed next is charted. The entry can be
 * stepped to again at once. @param {State} state @param {readonly Content[]} contents @param {Context} context @param {string} [say] @returns {Outcome}
 */
function correct(state, contents, context, say) {
  const entries = together(contents, context.nextId());
  const done = [...state.done, entries.map(({ id }) => id).join("+")];
  const over = { selected: null, fixed: state.selected, inserting: false };
  return {
    state: { ...state, ...over, done, undone: [], turned: null },
    entries,
    ...(say === undefined ? {} : { say }),
  };
}

/**
 * Through the last entries one by one, and from the oldest of them from rally end to rally
 * end, as far back as the match. @param {State} state @param {"older" | "newer"} way @param {Context} context @returns {Outcome}
 */
function step(state, way, context) {
  const latest = linesOf(context.answer.recent)
    .slice(-REACH)
    .map(({ seen }) => seen.entry.id)
    .filter((id) => id !== JOINED);
  if (latest.length === 0) return told(state, "nothing has been charted yet");
  const ids = reachesFurther(state, way, latest) ? [...earlierEnds(latest, context), ...latest] : latest;
  // What was fixed last is the first to come back to.
  const again = state.selected === null && state.fixed !== null ? ids.indexOf(state.fixed) : -1;
  const at = state.selected === null ? ids.length : ids.indexOf(state.selected);
  const place = again !== -1 ? again : way === "older" ? Math.max(0, at - 1) : at + 1;
  return { state: { ...state, selected: ids[place] ?? null, inserting: false, armed: null }, entries: [] };
}

/** @param {State} state @param {"older" | "newer"} way @param {string[]} latest */
function reachesFurther({ selected, fixed }, way, latest) {
  const from = selected ?? fixed;
  return from !== null && (!latest.includes(from) || (way === "older" && selected === latest[0]));
}

/** @param {string[]} latest @param {Context} context @returns {string[]} the rally ends before these entries */
function earlierEnds(latest, { ends, answer }) {
  const all = ends?.() ?? [];
  const first = answer.recent.findIndex(({ entry }) => entry.id === latest[0]);
  const later = new Set(answer.recent.slice(first).map(({ entry }) => entry.id));
  return all.map(({ entry }) => entry.id).filter((id) => !later.has(id));
}

/** @param {State} state @param {Entry} target @param {Content | string} content @param {Context} context @param {string} [say] @returns {Outcome} */
function amend(state, target, content, context, say) {
  if (typeof content === "string") return told(state, content);
  const assumed = state.assumed.filter((id) => id !== target.id);
  return correct({ ...state, assumed }, [amendment(target.id, content)], context, say);
}

/** @param {State} state @param {Line} line @param {Context} context @returns {Outcome} */
function player(state, { seen }, context) {
  const { answer, header } = context;
  const content = named(seen, contentOf(seen.entry), answer, header);
  const say = typeof content === "string" ? undefined : namedWords(header, seen.entry, content);
  const outcome = amend(state, seen.entry, content, context, say);
  // Tapped again it is a choice not yet made: the fix is not over.
  return { ...outcome, state: { ...outcome.state, selected: state.selected } };
}

/** @param {string} target @param {Content} content @returns {Content} */
const amendment = (target, content) => ({ kind: "amend", target, with: content });

/** @param {string} target @returns {Content} */
const retraction = (target) => ({ kind: "retract", target });

/** @param {readonly Turned[]} turned */
const amendments = (turned) => turned.map(({ target, content }) => amendment(target, content));

/** @param {Answer} answer @param {string} id @returns {Entry[]} what stands after that entry */
function after({ recent }, id) {
  const entries = recent.map(({ entry }) => entry);
  return entries.slice(entries.findIndex((entry) => entry.id === id) + 1);
}

/**
 * One key too many: the shot goes with what was marked on it, and the later ones are
 * turned over where they would now follow a shot of their own side.
 * @param {State} state @param {Line} line @param {Context} context
 */
function remove(state, { seen, marks }, context) {
  const { entry } = seen;
  const gone = [entry, ...marks.map((mark) => mark.entry)];
  const later = after(context.answer, entry.id).filter((one) => !gone.includes(one));
  const turning =
    entry.kind === "shot"
      ? turnAfter(later, shotBefore(context.answer, entry.id) ?? otherTeam(entry["team"]), contentOf)
      : { turned: [], end: undefined };
  const contents = [...gone.map(({ id }) => retraction(id)), ...amendments(turning.turned)];
  return correct(
    { ...state, selected: null },
    contents,
    context,
    turningWords(context.header, `removed: ${shortWords(context.header, { seen, marks })}`, turning),
  );
}

/** @param {Answer} answer @param {string} id @returns {Team | undefined} who struck the shot before, in the same rally */
function shotBefore({ recent }, id) {
  const before = recent
    .slice(
      0,
      recent.findIndex(({ entry }) => entry.id === id),
    )
    .reverse();
  const last = before.find(({ entry }) => entry.kind === "shot" || endsRally(entry.kind))?.entry;
  return last?.kind === "shot" ? /** @type {Team} */ (last["team"]) : undefined;
}

/**
 * The key that says "the same side again", about the shot stepped to: it and the later
 * ones are turned over. Right after an insert it takes back, or does again, what the
 * insert turned: the shot itself stays.
 * @param {State} state @param {Entry} target @param {Context} context @returns {Outcome}
 */
function turn(state, target, context) {
  if (target.kind !== "shot") return told(state, "only a shot has a side to switch");
  const { answer, header } = context;
  const { turned } = state;
  if (turned?.shot === target.id && turned.amends.length > 0) {
    const back = correct(state, turned.amends.map(retraction), context, "the later shots are back with their teams");
    return { ...back, state: { ...back.state, turned: { ...turned, amends: [] } } };
  }
  const inserted = turned?.shot === target.id;
  const turning = inserted
    ? turnAfter(after(answer, target.id), /** @type {Team} */ (target["team"]), contentOf)
    : turnAfter([target, ...after(answer, target.id)], undefined, contentOf);
  const {
    turned: [first],
    end,
  } = turning;
  if (first === undefined) return told(state, "no later shot to switch");
  const did = inserted
    ? "as inserted"
    : `other side: ${shortWords(header, { seen: { entry: { ...target, ...first.content }, flags: [] }, marks: [] })}`;
  const outcome = correct(
    state,
    amendments(turning.turned),
    context,
    turningWords(header, did, { turned: inserted ? turning.turned : turning.turned.slice(1), end }),
  );
  const amends = outcome.entries.map(({ id }) => id);
  return inserted ? { ...outcome, state: { ...outcome.state, turned: { shot: target.id, amends } } } : outcome;
}

/**
 * @param {State} state @param {Line} line @param {string | null} name of the stroke; null: the one that follows from the order
 * @param {string | undefined} contact @param {Context} context
 */
function stroke(state, line, name, contact, context) {
  const { entry: target } = line.seen;
  const more = contact === undefined ? {} : { contact };
  if (state.inserting) return insert(state, line, { ...(name === null ? {} : { stroke: name }), ...more }, context);
  if (target.kind !== "shot") return told(state, "only a shot has a stroke");
  const { contact: _, ...rest } = contentOf(target);
  return amend(state, target, { ...rest, kind: "shot", ...(name === null ? {} : { stroke: name }), ...more }, context);
}

/**
 * One key too few: the shot is put in, and the later ones are turned over where they
 * would now follow a shot of their own side.
 * @param {State} state @param {Line} line it comes after @param {Record<string, string>} said of it @param {Context} context
 */
function insert(state, line, said, context) {
  const { answer, header } = context;
  const entry = { kind: "shot", ...missedAfter(line.seen.entry, context), ...said };
  // Marks that name no shot are about the latest one: they stay with theirs.
  const { id: place } = line.marks.filter((mark) => mark.entry["shot"] === undefined).at(-1)?.entry ?? line.seen.entry;
  const turning = turnAfter(after(answer, place), entry.team, contentOf);
  const words = shortWords(header, { seen: { entry: { id: "", at: "", ...entry }, flags: [] }, marks: [] });
  const contents = [{ kind: "insert", after: place, entry }, ...amendments(turning.turned)];
  const outcome = correct(state, contents, context, turningWords(header, `inserted: ${words}`, turning));
  const [shot = "", ...amends] = outcome.entries.map(({ id }) => id);
  return { ...outcome, state: { ...outcome.state, fixed: shot, turned: { shot, amends } } };
}

/**
 * Who struck a shot that was missed, and with what if nobody says: the other team
 * than the one that hit before it, else than the one that hit after it.
 * @param {Entry} target what it came after @param {Context} context @returns {{ team: Team, stroke: string }}
 */
function missedAfter(target, { answer }) {
  const entries = answer.recent.map(({ entry }) => entry);
  const at = entries.indexOf(target);
  const start =
    entries
      .slice(0, at + 1)
      .map(({ kind }) => endsRally(kind))
      .lastIndexOf(true) + 1;
  const before = entries.slice(start, at + 1).filter(({ kind }) => kind === "shot");
  const after = entries.slice(at + 1).find(({ kind }) => kind === "shot");
  const neighbour = before.at(-1) ?? after;
  const team = neighbour === undefined ? answer.score.serving : otherTeam(neighbour["team"]);
  return { team, stroke: before.length === 0 ? "serve" : before.at(-1)?.["stroke"] === "serve" ? "return" : "volley" };
}

/** @param {Entry} target @param {string} name @param {string} value @returns {Content | string} */
function toggled(target, name, value) {
  if (target.kind !== "shot") return "only a shot has a contact";
  const { [name]: had, ...rest } = contentOf(target);
  const content = /** @type {Content} */ (rest);
  return had === value ? content : { ...content, [name]: value };
}

/** @param {State} state @param {Line} line @param {string} cue @param {Context} context @returns {Outcome} */
function cue(state, line, cue, context) {
  const { entry } = line.seen;
  if (entry.kind === "cue") return amend(state, entry, { ...contentOf(entry), cue }, context);
  if (entry.kind !== "shot") return told(state, "a cue is about a shot");
  const { cues: _, ...rest } = contentOf(entry);
  const content = /** @type {Content} */ (rest);
  const own = ownCues(line.seen);
  if (!cuesOn(line).includes(cue)) return amend(state, entry, { ...content, cues: [...own, cue] }, context);
  const kept = own.filter((one) => one !== cue);
  const amended =
    kept.length === own.length ? [] : [amendment(entry.id, kept.length === 0 ? content : { ...content, cues: kept })];
  const gone = line.marks.filter((mark) => mark.entry["cue"] === cue).map((mark) => retraction(mark.entry.id));
  return correct(state, [...amended, ...gone], context);
}

/** @param {Entry} target @param {Team} team @returns {Content | string} */
function teamed(target, team) {
  const content = contentOf(target);
  if (target.kind === "rally_end" && content["how"] === undefined) return { kind: "rally_end", won_by: team };
  if (target.kind === "rally_end") {
    const { won_by: _, player: __, ...rest } = content;
    return { ...rest, kind: "rally_end", by: team };
  }
  if ("team" in content) {
    // A player's number is one of the team that it was not after all.
    const { player: _, ...rest } = content;
    return { ...rest, kind: content.kind, team };
  }
  return "this entry is about no team";
}

/** @param {Entry} target @param {string} how @returns {Content | string} */
function ended(target, how) {
  if (target.kind !== "rally_end") return "this is not the end of a rally";
  const by = target["by"];
  if (by === undefined) return "say first which team: remove this end and enter it again";
  return { kind: "rally_end", how, by, ...(target["player"] === undefined ? {} : { player: target["player"] }) };
}
