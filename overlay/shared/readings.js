// How a reading is found: by indicator, team, player and slot together.

/**
 * @import { FeedState, Side } from "../types/view.js"
 * @import { Reading, ReadingKey } from "../types/messages.js"
 */

/**
 * @param {ReadingKey} key
 * @returns {string}
 */
export function readingKey({ indicator, team, player, slot }) {
  return [indicator, team ?? "", player ?? "", slot ?? ""].join("|");
}

/**
 * @param {FeedState} state
 * @param {string} indicator
 * @param {Side | null} [team]
 * @param {string | null} [slot]
 * @returns {Reading | null}
 */
export function readingOf(state, indicator, team = null, slot = null) {
  return state.readings[readingKey({ indicator, team, player: null, slot })] ?? null;
}
