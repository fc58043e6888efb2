// Leads from a reason to the shot it was seen on. Pure.

/**
 * @import { FeedState, OneRally } from "../types/view.js"
 * @import { Reason, ShotView } from "../types/messages.js"
 */

/**
 * The shot a reason speaks of, in the rally it belongs to.
 * @param {FeedState} state
 * @param {Reason} reason
 * @returns {{ rally: OneRally, shot: ShotView } | null}
 */
export function shotBehind(state, reason) {
  if (state.rally === null) return null;
  for (const rally of [state.rally, ...state.rally.earlier]) {
    const shot = rally.shots.find((one) => one.entry === reason.entry) ?? shotByReading(rally, reason);
    if (shot !== undefined) return { rally, shot };
  }
  return null;
}

/**
 * The rallies that reasons speak of, newest first, each with the numbers of the
 * shots meant; a reason may also name how a rally ended.
 * @param {FeedState} state
 * @param {readonly Reason[]} reasons
 * @returns {{ rally: OneRally, meant: Set<number> }[]}
 */
export function ralliesBehind(state, reasons) {
  if (state.rally === null) return [];
  return [state.rally, ...state.rally.earlier].flatMap((rally) => {
    const found = reasons.map((reason) => shotBehind(state, reason)).filter((one) => one?.rally === rally);
    const isNamed = found.length > 0 || reasons.some((reason) => rally.end?.entry === reason.entry);
    return isNamed
      ? [{ rally, meant: new Set(found.map((one) => /** @type {{ shot: ShotView }} */ (one).shot.n)) }]
      : [];
  });
}

/**
 * A reason may name the entry of a cue, which is no shot. The shot it was read
 * at still lists the same reason; a ball that sat up for the other team is the
 * one before it, everything else is about that shot itself.
 * @param {OneRally} rally
 * @param {Reason} reason
 * @returns {ShotView | undefined}
 */
function shotByReading(rally, reason) {
  const at = rally.shots.findIndex((shot) =>
    shot.why.some((one) => one.code === reason.code && one.team === reason.team && one.entry === reason.entry),
  );
  const read = rally.shots[at];
  const isOlder = reason.code === "attackable" && read !== undefined && read.team !== reason.team;
  return isOlder ? rally.shots[at - 1] : read;
}
