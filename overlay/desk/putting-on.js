// Puts a planned match on its court, with its undo: from the first steps and from
// the room of the courts.

/** @import { Desk } from "./desk.js" */

/**
 * Puts a match on a court where nothing is being played.
 * @param {Desk} desk @param {string} id @param {string} court
 */
export function putOn(desk, id, court) {
  const before = desk.court(court)?.match ?? null;
  return desk.act(() => desk.host.putOn(court, id, false), `It is on court ${court}.`, {
    label: "Undo", said: "The court is as it was.", run: () => (before === null ? desk.host.takeOff(court) : desk.host.putOn(court, before, true)),
  });
}
