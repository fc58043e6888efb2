// One source per address, shared by every element that asks for it: the
// connection, the state folded from it and the calm lean, handed to listeners
// as one View. It runs while somebody listens and rests when the last one goes.
// With a delay everything the line says (messages, corrections, word of the
// connection) is shown that much later and in the same order, while resuming
// and asking again go by what was received, not by what is shown.

/**
 * @import { Action, CalmLean, Clock, Connection, FeedState, View } from "../types/view.js"
 * @import { Position } from "./feed.js"
 */
import { lapseOf } from "./between.js";
import { UNKNOWN, leanOf, settle } from "./calm.js";
import { DelayLine } from "./delay.js";
import { FeedConnection } from "./feed.js";
import { browserClock } from "./line-socket.js";
import { Recording } from "./recorded.js";
import { contradicts } from "./moments.js";
import { hasShots, initialState, reduce } from "./state.js";

/** @typedef {{ start: () => unknown, stop: () => void, resync: () => void }} Line */
/** @typedef {(dispatch: (action: Action) => void, position: () => Position | null) => Line} Connect */

export class Source {
  #line;
  #clock;
  #held;
  /** @type {FeedState} everything that has come */
  #received = initialState();
  /** @type {FeedState} what is shown: the same, or as it was a delay ago */
  #state = this.#received;
  /** @type {CalmLean} */
  #calm = { lean: UNKNOWN, since: 0 };
  /** @type {Set<(view: View) => void>} */
  #listeners = new Set();
  #cancelSettle = () => {};
  /** The entry between rallies that was shown last, and since when. */
  #between = { entry: "", since: 0 };
  #cancelLapse = () => {};

  /**
   * @param {Connect} connect
   * @param {Clock} [clock]
   * @param {number} [delayMs]
   */
  constructor(connect, clock = browserClock, delayMs = 0) {
    this.#clock = clock;
    this.#held = new DelayLine(delayMs, clock, (action) => this.#advance(action));
    this.#line = connect(
      (action) => this.#take(action),
      () => this.#position(),
    );
  }

  /** @returns {View} */
  get view() {
    const { between, moment } = this.#state;
    const shown = this.#calm.lean;
    return {
      ...this.#state,
      between: this.#lapsesIn() === 0 ? null : between,
      moment: moment !== null && contradicts(moment, shown) ? null : moment,
      shown,
    };
  }

  /**
   * @param {(view: View) => void} listener called at once and at every change
   * @returns {() => void} undoes it
   */
  subscribe(listener) {
    this.#listeners.add(listener);
    if (this.#listeners.size === 1) this.#line.start();
    listener(this.view);
    return () => {
      if (!this.#listeners.delete(listener) || this.#listeners.size > 0) return;
      this.#line.stop();
      // What was never shown is asked for again when somebody listens anew.
      this.#held.clear();
      this.#received = this.#state;
      this.#cancelSettle();
      this.#cancelLapse();
    };
  }

  /** @param {Action} action */
  #take(action) {
    const before = this.#received;
    this.#received = reduce(before, action);
    this.#note(before.connection.phase);
    this.#held.put(action);
    if (this.#received.outOfStep && !before.outOfStep) this.#line.resync();
  }

  /**
   * The graphic shows nothing of it on air; the reason must still be findable.
   * @param {Connection["phase"]} before
   */
  #note(before) {
    const { phase, message } = this.#received.connection;
    if (phase === before) return;
    if (phase === "failed") console.error(message);
    if (phase === "replaced")
      console.error("this link was replaced by a new one, which the desk shows; what is shown here stands still");
  }

  /** @param {Action} action its time to be shown has come */
  #advance(action) {
    const before = this.#state;
    this.#state = reduce(before, action);
    const { between } = this.#state;
    if (between !== null && between.entry !== this.#between.entry) {
      this.#between = { entry: between.entry, since: this.#clock.now() };
    }
    if (this.#state !== before) this.#show();
  }

  #show() {
    this.#cancelSettle();
    const { calm, wait } = settle(this.#calm, leanOf(this.#state), this.#clock.now());
    this.#calm = calm;
    this.#cancelSettle = wait === null ? () => {} : this.#clock.after(wait, () => this.#show());
    this.#cancelLapse();
    const left = this.#lapsesIn();
    this.#cancelLapse = left === null || left === 0 ? () => {} : this.#clock.after(left, () => this.#show());
    const view = this.view;
    for (const listener of this.#listeners) listener(view);
  }

  /** @returns {number | null} milliseconds for which it is still said; null: until play goes on */
  #lapsesIn() {
    const { between } = this.#state;
    if (between === null) return null;
    const lapse = lapseOf(between, hasShots(this.#state));
    return lapse === null ? null : Math.max(0, this.#between.since + lapse - this.#clock.now());
  }

  /** @returns {Position | null} */
  #position() {
    const { seq, match, outOfStep } = this.#received;
    return seq === null || outOfStep ? null : { seq, match: match?.id ?? null };
  }
}

/** @type {Map<string, Source>} */
const sources = new Map();

/**
 * @param {string} url address of a feed, http(s) or ws(s), role included
 * @param {number} [delayMs]
 * @returns {Source}
 */
export function liveSource(url, delayMs = 0) {
  const address = socketAddress(url);
  return shared(
    `live ${delayMs} ${address}`,
    delayMs,
    (dispatch, position) => new FeedConnection(address, dispatch, position),
  );
}

/**
 * @param {string} url
 * @param {number} pace
 * @param {number} [delayMs]
 * @returns {Source}
 */
export function recordedSource(url, pace, delayMs = 0) {
  return shared(`recorded ${pace} ${delayMs} ${url}`, delayMs, (dispatch) => new Recording(url, pace, dispatch));
}

/**
 * @param {string} url
 * @returns {string}
 */
export function socketAddress(url) {
  const address = new URL(url);
  if (address.protocol === "http:") address.protocol = "ws:";
  if (address.protocol === "https:") address.protocol = "wss:";
  return address.href;
}

/**
 * @param {string} key
 * @param {number} delayMs
 * @param {Connect} connect
 * @returns {Source}
 */
function shared(key, delayMs, connect) {
  let source = sources.get(key);
  if (source === undefined) {
    source = new Source(connect, browserClock, delayMs);
    sources.set(key, source);
  }
  return source;
}
