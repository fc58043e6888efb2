// How the last sets went, kept in this browser so that a volunteer sees progress.

/** @import { Tally } from "./tally.js" */
import { keptJson } from "../shared/memory.js";

const KEPT = "rallytide.practice.sets";
const AT_MOST = 6;

/** @param {Pick<Storage, "getItem" | "setItem">} storage @param {Tally} sum */
export function keepSet(storage, { shots, right }) {
  if (shots > 0) storage.setItem(KEPT, JSON.stringify([...read(storage), [right, shots]].slice(-AT_MOST)));
}

/** @param {Pick<Storage, "getItem">} storage @returns {string} */
export function lastSetsWords(storage) {
  const sets = read(storage).map(([right, shots]) => `${right} of ${shots}`);
  return sets.length === 0
    ? "How your sets went is kept in this browser alone."
    : `Your last sets, shots right: ${sets.join(" · ")}`;
}

/** @param {Pick<Storage, "getItem">} storage @returns {[number, number][]} right, of */
const read = (storage) => keptJson(storage, KEPT, Array.isArray, []);
