// What is done to a court from the desk, each with its undo or a question that says
// what will happen.

/**
 * @import { CourtState, MatchState } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 */
import { COURT_NAME_WORDS, isCourtName } from "../../shared/match-form/values.js";
import { versus } from "../page/telling.js";
import { courtOf, matchOf } from "../state.js";
import { stillPlaying } from "./clashes.js";
import { notKnownYet } from "./places.js";

/** @param {Desk} desk @param {string} title @param {string} words @param {string} label */
const confirms = async (desk, title, words, label) =>
  (await desk.ask({ title, words, answers: [{ value: "yes", label }] })) === "yes";

/**
 * Starts a match on a court; asks where another is being played, or where a team is
 * not known yet or still playing elsewhere.
 * @param {Desk} desk @param {string} id @param {string} name of the court
 */
export async function start(desk, id, name) {
  const match = matchOf(desk.state, id);
  if (match === null) return false;
  const before = courtOf(desk.state, name);
  const busy = before !== null && before.match !== null && (before.state === "playing" || before.state === "paused");
  const against = [...notKnownYet(match), ...stillPlaying(match, desk.state.host?.matches ?? [])];
  if (busy) {
    const words = `A match is being played on court ${name}. It is kept as interrupted, with everything charted so far, and can be started again; its charter changes to the new match. ${against.join(" ")}`;
    if (!(await confirms(desk, `Replace the match on court ${name}?`, words.trim(), `Start ${versus(match.header)}`)))
      return false;
  } else if (against.length > 0) {
    if (!(await confirms(desk, "Start this match now?", against.join(" "), `Start ${versus(match.header)}`)))
      return false;
  }
  return desk.act(() => desk.host.putOn(name, id, busy), `${versus(match.header)} is on court ${name}.`, {
    said: "The court is as it was.",
    run: () => asBefore(desk, name, before),
  });
}

/**
 * Brings a court back to the match it had, paused if it was paused: a host lets every
 * match that is started be played.
 * @param {Desk} desk @param {string} name @param {CourtState | null} before
 */
async function asBefore(desk, name, before) {
  if (before === null || before.match === null) return desk.host.takeOff(name);
  await desk.host.putOn(name, before.match, true);
  if (before.state === "paused") await desk.host.pause(name, true);
}

/** @param {Desk} desk @param {string} name @param {boolean} paused */
export function pause(desk, name, paused) {
  const words = paused
    ? "The graphic says that play is paused; the charter can keep charting."
    : "The match is resumed.";
  return desk.act(() => desk.host.pause(name, paused), words, {
    said: paused ? "The match is resumed." : "Play is paused again.",
    run: () => desk.host.pause(name, !paused),
  });
}

/** @param {Desk} desk @param {string} name */
export async function removeMatch(desk, name) {
  const court = courtOf(desk.state, name);
  if (court === null || court.match === null) return;
  const words = `The graphic of court ${name} becomes empty and its charter is told. Everything charted is kept, and the match can be started again.`;
  const title = `Remove the match from court ${name}?`;
  if (court.state !== "finished" && !(await confirms(desk, title, words, "Remove it"))) return;
  await desk.act(() => desk.host.takeOff(name), `Court ${name} is empty.`, {
    said: "The match is back on its court.",
    run: () => asBefore(desk, name, court),
  });
}

/** @param {Desk} desk @param {string} name */
export async function removeCourt(desk, name) {
  const words = `Court ${name} leaves this list. No match is lost: those planned for it stay in the room Matches, and the court is back as soon as one is started on it.`;
  if (!(await confirms(desk, `Remove court ${name}?`, words, "Remove it"))) return;
  await desk.act(() => desk.host.removeCourt(name), `Court ${name} is removed.`);
}

/** @param {Desk} desk @param {string} name */
export async function end(desk, name) {
  const match = matchOf(desk.state, courtOf(desk.state, name)?.match ?? null);
  if (match === null) return;
  const { a, b } = match.header.teams;
  const answer = await desk.ask({
    title: "How did the match end?",
    words:
      "If it was played to its end, the charter's last rally ends it and there is nothing to do here. Otherwise say which it was; both can be undone.",
    answers: [
      { value: "a", label: `${a.name} retired: ${b.name} wins` },
      { value: "b", label: `${b.name} retired: ${a.name} wins` },
      { value: "open", label: "Stopped early: no winner" },
    ],
  });
  if (answer === "") return;
  const undo = { said: "The match goes on.", run: () => desk.host.finish(name, { finished: false }) };
  if (answer === "open")
    return desk.act(() => desk.host.finish(name, { finished: true }), "The match is over, without a winner.", undo);
  const retired = answer === "a" ? "a" : "b";
  const words = `${match.header.teams[retired].name} retired; the match is over.`;
  return desk.act(() => desk.host.finish(name, { finished: true, retired }), words, undo);
}

/** @param {Desk} desk @param {string} name */
export function reopen(desk, name) {
  const winner = courtOf(desk.state, name)?.score?.winner ?? null;
  // Only a retirement is reopened with a winner; the undo has to say it again.
  /** @type {{ finished: boolean, retired?: "a" | "b" }} */
  const again = winner === null ? { finished: true } : { finished: true, retired: winner === "a" ? "b" : "a" };
  return desk.act(() => desk.host.finish(name, { finished: false }), "The match goes on.", {
    said: "The match is over again.",
    run: () => desk.host.finish(name, again),
  });
}

/** @param {Desk} desk @param {string} from @param {string} to */
export function move(desk, from, to) {
  const { courtForm } = desk.state;
  const match = matchOf(desk.state, courtOf(desk.state, from)?.match ?? null);
  const fault = !isCourtName(to) ? COURT_NAME_WORDS : to === from ? `The match is on court ${to} already.` : "";
  desk.change({ courtForm: { ...courtForm, fault } });
  if (fault !== "" || match === null) return;
  desk.change({ courtDialog: null });
  return desk.act(() => desk.host.move(match.id, to), `${versus(match.header)} is on court ${to} now.`, {
    said: `The match is back on court ${from}.`,
    run: () => desk.host.move(match.id, from),
  });
}

/** Matches that can be started on a court, its own first, finished ones last. @param {readonly MatchState[]} matches @param {CourtState} court */
export function startable(matches, { court, match }) {
  const free = matches.filter((one) => one.state !== "on" && one.id !== match);
  const weight = (/** @type {MatchState} */ one) =>
    Number(one.state === "finished") * 2 + Number(one.header.court !== court);
  return free
    .map((one, at) => ({ one, at }))
    .sort((x, y) => weight(x.one) - weight(y.one) || x.at - y.at)
    .map(({ one }) => one);
}
