// What is recorded here and not yet safe with the host: in the order it was recorded,
// which of it is on its way over the connection there is, and what may follow it.
// Nothing leaves the queue before the host has said that it is durable or refused; what
// was on its way when a connection ended is on its way no more, and goes again: ids make
// a second sending harmless. What is said over the connection, and what entries mean,
// is the business of who uses it.

/**
 * @import { Manners } from "./line-socket.js"
 * @import { Entry } from "./charting/local-chart.js"
 */

/** How many entries a message holds at most: a backlog of corrections is one run of the chart. */
export const BATCH = 40;

/** How a page that records keeps its line to the host. @type {Manners} */
export const INTAKE_MANNERS = {
  ask: 2_500,
  silence: 7_000,
  firstPause: 300,
  longestPause: 5_000,
  // The host tells the desk by it how late a device is and how its clock goes.
  beat: () => JSON.stringify({ type: "beat", at: new Date().toISOString() }),
};

export class IntakeQueue {
  /** @type {Entry[]} */
  #waiting = [];
  #onTheWay = 0;

  /** How many are not yet safe. */
  get length() {
    return this.#waiting.length;
  }

  /** @param {readonly Entry[]} entries recorded, in order */
  add(entries) {
    this.#waiting.push(...entries);
  }

  /** Holds these and nothing else. @param {readonly Entry[]} entries in order */
  replace(entries) {
    this.#waiting = [...entries];
    this.#onTheWay = 0;
  }

  /** What was on its way over an older connection counts as not sent. */
  restart() {
    this.#onTheWay = 0;
  }

  /**
   * Takes these out: the host has them, has refused them for good, or they are to be sent no more.
   * @param {ReadonlySet<string>} ids
   * @returns {string[]} those that were here, in order
   */
  drop(ids) {
    const goes = (/** @type {Entry} */ { id }) => ids.has(id);
    const dropped = this.#waiting.filter(goes);
    this.#onTheWay -= this.#waiting.slice(0, this.#onTheWay).filter(goes).length;
    this.#waiting = this.#waiting.filter((entry) => !goes(entry));
    return dropped.map(({ id }) => id);
  }

  /**
   * Sends what may go now, at most a message's worth; while much is on its way, nothing.
   * @param {(entries: Entry[]) => boolean} say whether they have left
   */
  send(say) {
    const entries = this.#waiting.slice(this.#onTheWay, this.#onTheWay + BATCH);
    if (entries.length === 0 || this.#onTheWay > BATCH) return;
    if (say(entries)) this.#onTheWay += entries.length;
  }
}
