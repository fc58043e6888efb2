// Holds what the feed says until a delayed video has caught up with it.
// Invariants: order is kept, nothing is dropped or merged, nothing is let out
// early; without a delay everything passes at once and no timer is ever set.

/**
 * @import { Action, Clock } from "../types/view.js"
 */

/** The longest delay taken, in milliseconds. */
export const LONGEST_DELAY_MS = 300_000;

export class DelayLine {
  #delayMs;
  #clock;
  #pass;
  /** @type {{ due: number, action: Action }[]} oldest first */
  #waiting = [];
  #cancelTimer = () => {};

  /**
   * @param {number} delayMs
   * @param {Clock} clock
   * @param {(action: Action) => void} pass
   */
  constructor(delayMs, clock, pass) {
    this.#delayMs = delayMs;
    this.#clock = clock;
    this.#pass = pass;
  }

  /** @param {Action} action */
  put(action) {
    if (this.#delayMs === 0) {
      this.#pass(action);
      return;
    }
    this.#waiting.push({ due: this.#clock.now() + this.#delayMs, action });
    if (this.#waiting.length === 1) this.#wakeAtNext();
  }

  /** Forgets what still waits. */
  clear() {
    this.#cancelTimer();
    this.#waiting = [];
  }

  #wakeAtNext() {
    const next = this.#waiting[0];
    if (next === undefined) return;
    this.#cancelTimer = this.#clock.after(Math.max(0, next.due - this.#clock.now()), () => this.#letOut());
  }

  #letOut() {
    // A timer may come a fraction early; the next one is then a moment away.
    while (this.#waiting[0] !== undefined && this.#waiting[0].due <= this.#clock.now()) {
      const { action } = /** @type {{ action: Action }} */ (this.#waiting.shift());
      this.#pass(action);
    }
    this.#wakeAtNext();
  }
}

/**
 * @param {string} text `2.5s` or `2500ms`
 * @returns {number | null} milliseconds, or null if it is no delay that can be kept
 */
export function parseDelay(text) {
  const found = /^(\d+(?:\.\d+)?)(ms|s)$/.exec(text.trim());
  if (found === null) return null;
  const delay = Number(found[1]) * (found[2] === "s" ? 1000 : 1);
  return delay <= LONGEST_DELAY_MS ? delay : null;
}
