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

/** How the host closes a feed whose key was replaced (RFC 6455, 7.4.1: against its policy). */
const REPLACED = 1008;

/** Between attempts with a key that was replaced: only a host that is put back
 * with its old keys lets it in again. */
export const REPLACED_PAUSE_MS = 60_000;

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
 * @property {(url: string) => Promise<boolean>} isRefused whether the host says
 *   that the key in a feed's address does not fit (any more)
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
  // A browser does not tell why a socket did not open; an answer over HTTP does.
  isRefused: async (url) => {
    const address = url.replace(/^ws/, "http");
    const answer = await fetch(address, { cache: "no-store" }).catch(() => null);
    return answer?.status === 403;
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
  /** Whether the key was replaced, as far as the host has said. */
  #replaced = false;
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
    this.#replaced = false;
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
    let isOpened = false;
    socket.onopen = () => {
      isOpened = true;
      if (!this.#replaced) this.#say("live");
    };
    socket.onmessage = (event) => this.#hear(event);
    socket.onclose = ({ code }) => {
      this.#replaced ||= code === REPLACED;
      this.#retry();
      if (!isOpened && !this.#replaced) void this.#askWhy();
    };
    this.#watchSilence();
  }

  /** @param {MessageEvent} event */
  #hear(event) {
    this.#lastHeard = this.#world.clock.now();
    this.#askedAt = null;
    this.#failures = 0;
    this.#replaced = false;
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
    this.#wait();
  }

  #wait() {
    this.#waiting = true;
    this.#say(this.#replaced ? "replaced" : "lost");
    const pause = this.#replaced ? REPLACED_PAUSE_MS : pauseBefore(this.#failures, this.#world.chance());
    this.#cancelTimer();
    this.#cancelTimer = this.#world.clock.after(pause, () => this.#connect(this.#position()));
  }

  /** A page that slept while its key was replaced was never told: it is turned away. */
  async #askWhy() {
    const attempt = this.#failures;
    if (!new URL(this.#url).searchParams.has("key") || !(await this.#world.isRefused(this.#url))) return;
    if (!this.#running || !this.#waiting || this.#failures !== attempt) return;
    this.#replaced = true;
    this.#wait();
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
