// A fix that somebody stepped back for and then left alone ends by itself: eyes go back
// to the court, and the next stroke must be the next shot, not another fix.

/**
 * @import { Clock } from "../../types/view.js"
 * @import { State } from "./recorder.js"
 */

/** So long without a key. */
const LAPSE_MS = 2_000;

export class Lapse {
  #end;
  #after;
  #cancel = () => {};

  /** @param {() => void} end ends the fix @param {Pick<Clock, "after">} [clock] */
  constructor(end, clock = { after: later }) {
    this.#end = end;
    this.#after = clock.after;
  }

  /** After every key. @param {State} state */
  watch({ selected, inserting }) {
    this.#cancel();
    this.#cancel = selected === null && !inserting ? () => {} : this.#after(LAPSE_MS, this.#end);
  }
}

/** @param {number} ms @param {() => void} run */
function later(ms, run) {
  const timer = setTimeout(run, ms);
  return () => clearTimeout(timer);
}
