// Owns the one socket to a court's feed: connects, notices silence, comes back
// with a growing, jittered pause, and resumes after the last message seen.
// Invariants: at most one socket open; `stop` undoes all that `start` did.
// It hands messages on unread; what they mean is state.js's business.

/**
 * @import { Action, Clock, Connection } from "../types/view.js"
 */

/** A dead Wi-Fi closes no socket. After so long without a word the page asks
 * for a beat, which also keeps routers from forgetting the connection. */
export const ASK_MS = 5_000;

/** After so long without a word, and asked for one, the socket is dead. */
export const SILENCE_MS = 12_000;

/** `WebSocket.OPEN`, which is not there where tests run. */
const OPEN = 1;

const BEAT = JSON.stringify({ type: "beat" });

const FIRST_PAUSE_MS = 250;
const LONGEST_PAUSE_MS = 8_000;

/**
 * How long to wait before the attempt after `failures` failed ones. Half is
 * fixed and half is chance, so that a hall full of pages does not come back in
 * the same millisecond.
 * @param {number} failures 1, 2, 3 …
 * @param {number} chance 0 ≤ chance < 1
 * @returns {number} milliseconds
 */
export function pauseBefore(failures, chance) {
  const whole = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** Math.min(failures - 1, 16));
  return Math.round(whole / 2 + (whole / 2) * chance);
}

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

/**
 * What the connection needs of the world; tests put in their own.
 * @typedef {object} World
 * @property {(url: string) => WebSocket} open
 * @property {Clock} clock
 * @property {() => number} chance
 * @property {(run: () => void) => () => void} whenOnline
 */

/** @type {Clock} */
export const browserClock = {
  now: () => performance.now(),
  after: (ms, run) => {
    const timer = setTimeout(run, ms);
    return () => clearTimeout(timer);
  },
};

/** @type {World} */
export const browserWorld = {
  open: (url) => new WebSocket(url),
  clock: browserClock,
  chance: Math.random,
  whenOnline: (run) => {
    addEventListener("online", run);
    return () => removeEventListener("online", run);
  },
};

export class FeedConnection {
  #url;
  #dispatch;
  #position;
  #world;
  /** @type {WebSocket | null} */
  #socket = null;
  #failures = 0;
  #lastHeard = 0;
  /** @type {number | null} When a beat was asked for since the last word. */
  #askedAt = null;
  #cancelTimer = () => {};
  #forgetOnline = () => {};
  #waiting = false;
  #running = false;
  /** @type {Connection["phase"] | null} */
  #said = null;

  /**
   * @param {string} url ws or wss, with the role, without `after`
   * @param {(action: Action) => void} dispatch
   * @param {() => Position | null} position read at each attempt; null: from the start
   * @param {World} [world]
   */
  constructor(url, dispatch, position, world = browserWorld) {
    this.#url = url;
    this.#dispatch = dispatch;
    this.#position = position;
    this.#world = world;
  }

  start() {
    if (this.#running) return;
    this.#running = true;
    this.#failures = 0;
    this.#say("connecting");
    this.#forgetOnline = this.#world.whenOnline(() => {
      if (this.#waiting) this.#connect(this.#position());
    });
    this.#connect(this.#position());
  }

  stop() {
    this.#running = false;
    this.#said = null;
    this.#forgetOnline();
    this.#dropSocket();
  }

  /** Asks for a fresh snapshot: what is known does not fit what came. */
  resync() {
    if (!this.#running || this.#waiting) return;
    this.#dropSocket();
    this.#connect(null);
  }

  /** @param {Position | null} position */
  #connect(position) {
    this.#cancelTimer();
    this.#waiting = false;
    let socket;
    try {
      socket = this.#world.open(addressAfter(this.#url, position));
    } catch (error) {
      // A wrong address or one the browser forbids stays so: no second try.
      this.#say("failed", `cannot open the feed \`${this.#url}\`: ${String(error)}`);
      return;
    }
    this.#socket = socket;
    this.#lastHeard = this.#world.clock.now();
    this.#askedAt = null;
    // After a resume the host may have nothing to say for a while, so an open
    // socket counts as live; the pause shrinks only once something was heard.
    socket.onopen = () => this.#say("live");
    socket.onmessage = (event) => this.#hear(event);
    socket.onclose = () => this.#retry();
    this.#watchSilence();
  }

  /** @param {MessageEvent} event */
  #hear(event) {
    this.#lastHeard = this.#world.clock.now();
    this.#askedAt = null;
    this.#failures = 0;
    const action = parse(event.data);
    this.#say("live");
    this.#dispatch(action);
  }

  /**
   * Counts from the asking, not from the last word alone: a browser that lets
   * a hidden page's timers sleep would find every socket dead on waking.
   */
  #watchSilence() {
    const now = this.#world.clock.now();
    if (this.#askedAt === null && now >= this.#lastHeard + ASK_MS) {
      this.#askedAt = now;
      if (this.#socket?.readyState === OPEN) this.#socket.send(BEAT);
    }
    const next = this.#askedAt === null ? this.#lastHeard + ASK_MS : this.#askedAt + SILENCE_MS - ASK_MS;
    if (next <= now) this.#retry();
    else this.#cancelTimer = this.#world.clock.after(next - now, () => this.#watchSilence());
  }

  #retry() {
    this.#dropSocket();
    if (!this.#running) return;
    this.#failures += 1;
    this.#waiting = true;
    this.#say("lost");
    const pause = pauseBefore(this.#failures, this.#world.chance());
    this.#cancelTimer = this.#world.clock.after(pause, () => this.#connect(this.#position()));
  }

  #dropSocket() {
    this.#cancelTimer();
    this.#cancelTimer = () => {};
    this.#waiting = false;
    const socket = this.#socket;
    this.#socket = null;
    if (socket === null) return;
    socket.onopen = null;
    socket.onmessage = null;
    socket.onclose = null;
    socket.close();
  }

  /**
   * @param {Connection["phase"]} phase
   * @param {string} [message]
   */
  #say(phase, message = "") {
    if (phase === this.#said && phase !== "lost") return;
    this.#said = phase;
    this.#dispatch({ type: "connection", connection: { phase, attempt: this.#failures, message } });
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
