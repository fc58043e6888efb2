// What happened between two rallies that a viewer wants to know: a time-out, a
// technical foul, a rally to be played again, a score put right. Pure. It lasts
// until the next shot or the end of the next rally. Where no shots are charted
// nothing tells when play goes on, so there it also lapses by itself.

/**
 * @import { Between, FeedState, Side } from "../types/view.js"
 * @import { MatchHeader, Update } from "../types/messages.js"
 */
import { teamName } from "./words.js";

/** How long a time-out is said where no shots are charted. A standard one lasts
 * a minute (USA Pickleball Official Rulebook 2025, 10.A). */
const TIME_OUT_MS = 60_000;
/** How long anything else is said there. */
const NOTICE_MS = 15_000;

const KINDS = new Set(["time_out", "penalty", "replay", "score_fix"]);

/**
 * @param {unknown} entry as the host keeps it for pages that open later, or as
 *   it came with an update
 * @returns {Between | null}
 */
export function betweenOf(entry) {
  if (typeof entry !== "object" || entry === null) return null;
  const { id, kind, team, medical } = /** @type {Record<string, unknown>} */ (entry);
  if (typeof id !== "string" || typeof kind !== "string" || !KINDS.has(kind)) return null;
  return {
    entry: id,
    kind: /** @type {Between["kind"]} */ (kind),
    team: (kind === "time_out" || kind === "penalty") && (team === "a" || team === "b") ? team : null,
    isMedical: kind === "time_out" && medical === true,
  };
}

/**
 * What lasts after an update.
 * @param {Between | null} before
 * @param {Update} update
 * @returns {Between | null}
 */
export function betweenAfter(before, update) {
  const happened = betweenOf(update.entry);
  if (happened !== null) return happened;
  const goesOn = update.rally !== undefined && (update.rally.shots.length > 0 || update.rally.end !== undefined);
  const kind = update.entry?.["kind"];
  return goesOn || kind === "rally_end" || kind === "shot" || kind === "retire" ? null : before;
}

/**
 * How long it may be said, in milliseconds; null: until play goes on.
 * @param {Between} between
 * @param {boolean} withShots
 */
export function lapseOf({ kind, isMedical }, withShots) {
  if (withShots || isMedical) return null;
  return kind === "time_out" ? TIME_OUT_MS : NOTICE_MS;
}

/**
 * The team whose row carries the mark of a time-out.
 * @param {FeedState} state
 * @returns {Side | null}
 */
export function timeOutOf({ between }) {
  return between?.kind === "time_out" ? between.team : null;
}

/**
 * "Time-out, Okafor / Lind"; empty where there is nothing to say.
 * @param {Between | null} between
 * @param {MatchHeader | null} match
 * @param {string} [glue] what stands between the event and the team
 */
export function betweenWords(between, match, glue = ", ") {
  if (between === null) return "";
  const whose = between.team === null ? "" : `${glue}${teamName(match, between.team)}`;
  switch (between.kind) {
    case "time_out":
      return `${between.isMedical ? "Medical time-out" : "Time-out"}${whose}`;
    case "penalty":
      return `Technical foul${whose}`;
    case "replay":
      return "Replay";
    case "score_fix":
      return "Score corrected";
  }
}
