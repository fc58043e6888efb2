// Which team is on which half of the page: the one on the near end on the left, or the
// other way round for somebody who sits across; it follows the ends as they change. Pure.

/** @typedef {"a" | "b"} Team */
/** @typedef {"left" | "right"} Half */

/**
 * @param {string | undefined} near the team on the near end, by the score
 * @param {boolean} swapped whether this person sees the near end on the right
 * @returns {Record<Half, Team>}
 */
export function halves(near, swapped) {
  const left = (near === "b") !== swapped ? "b" : "a";
  return { left, right: left === "a" ? "b" : "a" };
}
