// The state of the line to the host in words, also aloud. Pure but for the voice, which
// remembers what it said last.

/**
 * @import { MatchHeader } from "../../types/messages.js"
 * @import { CourtNow, Line } from "./outbox.js"
 */
import { versus } from "../../shared/charting/words.js";

/** @typedef {{ line: Line, waiting: number, kept: boolean, refused: number }} LineState */

/** @param {LineState} state @returns {string} */
export function lineWords({ line, waiting, kept, refused }) {
  const lost = refused === 0 ? "" : `; the host refused ${refused}`;
  if (!kept && waiting > 0) return `NOT SAVED: ${entriesOf(waiting)} only in this page. Keep it open${lost}`;
  if (!kept && line === "connected") return `Saved by the host, not on this laptop${lost}`;
  if (line === "taken_over")
    return `Stopped: another laptop has taken over${waiting === 0 ? "" : `; ${entriesOf(waiting)} only here`}`;
  if (line === "elsewhere") return "Stopped: another laptop charts this court";
  if (line === "other_match") return "Stopped: this match is not on this court now";
  if (line === "connected")
    return `${waiting === 0 ? "Connected, all saved" : `Connected, ${waiting} on the way`}${lost}`;
  if (line === "connecting") return `Connecting${waiting === 0 ? "" : `, ${waiting} waiting on this laptop`}${lost}`;
  if (line === "link_replaced")
    return `This link was replaced: ask the desk for the new one and open it here${waiting === 0 ? "" : `; ${entriesOf(waiting)} kept on this laptop`}${lost}`;
  return `Offline, ${waiting === 0 ? "nothing" : waiting} waiting: chart on, do not reload${lost}`;
}

/** @param {number} count */
const entriesOf = (count) => (count === 1 ? "1 entry is" : `${count} entries are`);

/** @typedef {{ line: Line, message: string, waiting: number, header: MatchHeader | null, court: CourtNow | null }} AtGate */

/**
 * What the person at a stopped page needs to know before choosing.
 * @param {AtGate} gate @returns {string[]} heading, then sentences
 */
export function gateWords({ line, message, waiting, header, court }) {
  const here =
    waiting === 0
      ? "Everything charted here is saved with the host."
      : `${entriesOf(waiting)} not with the host yet: download the chart, so that nothing is lost.`;
  if (line === "taken_over")
    return [
      "Another laptop has taken over this court",
      "This one has stopped, so that nothing is counted twice.",
      here,
    ];
  if (line === "other_match") return [...movedOn(header, court), here];
  return [
    `${message.slice(0, 1).toUpperCase()}${message.slice(1)}`,
    "Two at once would count everything twice. Take over only if you chart from now on: the other one is told and stops.",
  ];
}

/** @param {MatchHeader | null} header @param {CourtNow | null} court @returns {string[]} */
function movedOn(header, court) {
  const mine = header === null ? "Your match" : versus(header);
  if (court === null) return ["This match is not on this court now", "Asking which match is."];
  const back = "If the desk brings it back, this page goes on by itself.";
  const moved = movedTo(court);
  if (moved !== null) return [`${mine} has moved to court ${moved}`, back];
  const next = nextMatch(court);
  if (next !== null) return [`Now on this court: ${versus(next)}`, `${mine} is not on this court any more. ${back}`];
  return [
    "No match is on this court now",
    `${mine} is not on it: the desk has taken it off, or has planned another one here. ${back}`,
  ];
}

/** @param {CourtNow | null} court @returns {string | null} the court where the match charted here is now */
export const movedTo = (court) => court?.moved_to ?? null;

/** @param {CourtNow | null} court @returns {MatchHeader | null} the match to go on with */
export const nextMatch = (court) => court?.match ?? null;

/** What the desk has done that no score tells. @param {{ header: MatchHeader | null, court: CourtNow | null, answer: { over: boolean } | null }} view */
export function deskWords({ header, court, answer }) {
  if (header === null || court?.match?.id !== header.id) return "";
  if (court.state === "paused") return "The desk has paused play";
  if (court.state === "finished" && answer?.over === false) return "The desk has ended this match";
  return "";
}

/** @param {string} title of the match that is left @param {number} waiting @returns {string} what becomes of its chart */
export function leavingWords(title, waiting) {
  if (waiting === 0) return `The chart of \u201c${title}\u201d is saved with the host and stays there.`;
  return `${entriesOf(waiting)} not with the host yet: the whole chart of \u201c${title}\u201d is downloaded first.`;
}

/** Said aloud again only after so long, where it is but a number that has changed. */
const AGAIN_MS = { connected: 3_000, else: 10_000 };

/**
 * Says the state of the line to those who do not see it: changes at once, growing
 * numbers now and then, so that typing is not talked over.
 */
export class LineVoice {
  #said = "";
  #kind = "";
  #at = -Infinity;

  /** @param {LineState} state @param {number} now ms @returns {string} what is to be said last */
  say(state, now) {
    const words = lineWords(state);
    const kind = `${state.line} ${state.kept} ${state.refused}`;
    const wait = state.line === "connected" ? AGAIN_MS.connected : AGAIN_MS.else;
    if (words !== this.#said && (kind !== this.#kind || now - this.#at >= wait)) {
      this.#said = words;
      this.#kind = kind;
      this.#at = now;
    }
    return this.#said;
  }
}
