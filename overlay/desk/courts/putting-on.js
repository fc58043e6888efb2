// Puts a planned match on its court, with its undo: from the first steps and from
// the room of the courts.

/** @import { CourtState } from "../../types/desk.js" */
/** @import { Desk } from "../host/desk.js" */

/**
 * Puts a match on a court where nothing is being played.
 * @param {Desk} desk @param {string} id @param {string} court
 */
export function putOn(desk, id, court) {
  const before = desk.court(court);
  return desk.act(() => desk.host.putOn(court, id, false), `It is on court ${court}.`, {
    label: "Undo",
    said: "The court is as it was.",
    run: () => asBefore(desk, court, before),
  });
}

/**
 * Brings a court back to the match it had, paused if it was paused: a host lets
 * every match that is put on be played.
 * @param {Desk} desk @param {string} court @param {CourtState | null} before
 */
export async function asBefore(desk, court, before) {
  if (before === null || before.match === null) return desk.host.takeOff(court);
  await desk.host.putOn(court, before.match, true);
  if (before.state === "paused") await desk.host.pause(court, true);
}
