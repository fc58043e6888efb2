// A court's feed: where to go on after a break, and what a message is before anybody
// reads it. The line itself is `line-socket.js`; what messages mean is state.js's.

/**
 * @import { Action, Connection } from "../types/view.js"
 * @import { Manners, World } from "./line-socket.js"
 */
import { browserWorld, LineSocket } from "./line-socket.js";

const BEAT = JSON.stringify({ type: "beat" });

/** @type {Manners} */
export const FEED_MANNERS = {
  ask: 5_000,
  silence: 12_000,
  firstPause: 250,
  longestPause: 8_000,
  beat: () => BEAT,
};

/**
 * @typedef {object} Position where to go on after
 * @property {number} seq
 * @property {string | null} match
 */

/**
 * @param {string} url
 * @param {Position | null} position
 * @returns {string}
 */
export function addressAfter(url, position) {
  if (position === null) return url;
  const address = new URL(url);
  address.searchParams.set("after", String(position.seq));
  if (position.match !== null) address.searchParams.set("match", position.match);
  return address.href;
}

export class FeedConnection {
  #dispatch;
  #line;
  /** Whether the next try asks for everything anew. */
  #anew = false;
  #running = false;
  /** @type {Connection["phase"] | null} */
  #said = null;

  /**
   * @param {string} url ws or wss, with the role, without `after`
   * @param {(action: Action) => void} dispatch
   * @param {() => Position | null} position read at each try; null: from the start
   * @param {World} [world]
   */
  constructor(url, dispatch, position, world = browserWorld) {
    this.#dispatch = dispatch;
    this.#line = new LineSocket(
      {
        address: () => {
          const address = addressAfter(url, this.#anew ? null : position());
          this.#anew = false;
          return address;
        },
        onMessage: (data) => dispatch(parse(data)),
        onPhase: (phase, failures, message) => this.#say(phase, failures, message),
      },
      FEED_MANNERS,
      world,
    );
  }

  start() {
    if (this.#running) return;
    this.#running = true;
    this.#say("connecting", 0, "");
    this.#line.start();
  }

  stop() {
    this.#running = false;
    this.#said = null;
    this.#line.stop();
  }

  /** Asks for a fresh snapshot: what is known does not fit what came. */
  resync() {
    this.#anew = true;
    if (!this.#line.again()) this.#anew = false;
  }

  /**
   * @param {Connection["phase"]} phase
   * @param {number} attempt
   * @param {string} message
   */
  #say(phase, attempt, message) {
    if (phase === this.#said && phase !== "lost") return;
    this.#said = phase;
    this.#dispatch({ type: "connection", connection: { phase, attempt, message } });
  }
}

/**
 * @param {unknown} data
 * @returns {Action}
 */
function parse(data) {
  if (typeof data !== "string") return { type: "unreadable" };
  try {
    const message = JSON.parse(data);
    return isWireMessage(message) ? message : { type: "unreadable" };
  } catch {
    return { type: "unreadable" };
  }
}

/**
 * Word from the connection itself never comes over the wire.
 * @param {any} message
 */
function isWireMessage(message) {
  return typeof message?.type === "string" && message.type !== "connection";
}
