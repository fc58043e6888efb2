// One socket to the host that comes back by itself: notices silence, tries again after
// a growing pause that is half chance, knows a link whose key was replaced. Invariants:
// at most one socket open; `stop` undoes all that `start` did. What is said over it is
// the business of who uses it.

/** @import { Clock } from "../types/view.js" */

/** @typedef {"live" | "lost" | "replaced" | "failed"} Phase `failed`: the address is wrong or forbidden, no second try */
/**
 * @typedef {object} Manners how a line is kept, in ms
 * @property {number} ask after so long without a word, a beat is sent, which also keeps routers from forgetting the line
 * @property {number} silence after so long without a word, and asked for one, the socket is dead
 * @property {number} firstPause before the second try; doubles
 * @property {number} longestPause
 * @property {() => string} beat what asks the host for a word
 */
/**
 * @typedef {object} User
 * @property {() => string} address read at each try
 * @property {(data: unknown) => void} onMessage
 * @property {(phase: Phase, failures: number, message: string) => void} onPhase `lost` is said again at every failure
 * @property {(socket: WebSocket) => void} [onOpen] before anything is heard
 */
/**
 * What it needs of the world; tests put in their own.
 * @typedef {object} World
 * @property {(url: string) => WebSocket} open
 * @property {Clock} clock
 * @property {() => number} chance
 * @property {(run: (online: boolean) => void) => () => void} whenOnline the browser's word that the network has come or gone
 * @property {(url: string) => Promise<boolean>} isRefused whether the host says that the key in an address does not fit (any more)
 */

/** How the host closes a line whose key was replaced (RFC 6455, 7.4.1: against its policy). */
const REPLACED = 1008;

/** Between tries with a key that was replaced: only a host that is put back with its
 * old keys lets it in again. */
const REPLACED_PAUSE_MS = 60_000;

/** The browser's word that the network is gone is no proof: the host may be this machine. It is asked, and has so long to answer. */
export const DOUBT_MS = 1_500;

/** `WebSocket.OPEN`, which is not there where tests run. */
const OPEN = 1;

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
    const come = () => run(true);
    const gone = () => run(false);
    addEventListener("online", come);
    addEventListener("offline", gone);
    return () => {
      removeEventListener("online", come);
      removeEventListener("offline", gone);
    };
  },
  // A browser does not tell why a socket did not open; an answer over HTTP does.
  isRefused: async (url) => {
    const address = url.replace(/^ws/, "http");
    const answer = await fetch(address, { cache: "no-store" }).catch(() => null);
    return answer?.status === 403;
  },
};

/**
 * How long to wait before the try after `failures` failed ones. Half is fixed and half
 * is chance, so that a hall full of pages does not come back in the same millisecond.
 * @param {Pick<Manners, "firstPause" | "longestPause">} manners
 * @param {number} failures 1, 2, 3 …
 * @param {number} chance 0 ≤ chance < 1
 * @returns {number} milliseconds
 */
export function pauseBefore({ firstPause, longestPause }, failures, chance) {
  const whole = Math.min(longestPause, firstPause * 2 ** Math.min(failures - 1, 16));
  return Math.round(whole / 2 + (whole / 2) * chance);
}

export class LineSocket {
  #user;
  #manners;
  #world;
  /** @type {WebSocket | null} */
  #socket = null;
  #failures = 0;
  /** How often in a row its user has taken a socket that spoke for no good. */
  #lost = 0;
  #lastHeard = 0;
  /** When a beat was asked for since the last word. @type {number | null} */
  #askedAt = null;
  #cancelTimer = () => {};
  #cancelDoubt = () => {};
  #forgetOnline = () => {};
  #waiting = false;
  #running = false;
  #replaced = false;

  /** @param {User} user @param {Manners} manners @param {World} [world] */
  constructor(user, manners, world = browserWorld) {
    this.#user = user;
    this.#manners = manners;
    this.#world = world;
  }

  start() {
    if (this.#running) return;
    this.#running = true;
    this.#failures = 0;
    this.#replaced = false;
    this.#forgetOnline = this.#world.whenOnline((online) => {
      if (!online) this.#doubt();
      else if (this.#waiting) this.#connect();
    });
    this.#connect();
  }

  stop() {
    this.#running = false;
    this.#forgetOnline();
    this.#dropSocket();
  }

  /** A new socket at once, in place of the one there is. @returns {boolean} false where it waits for the next try anyway */
  again() {
    if (!this.#running || this.#waiting) return false;
    this.#dropSocket();
    this.#connect();
    return true;
  }

  /** Gives up a socket that speaks but does not do what it is for. @param {string} [message] */
  lose(message = "") {
    if (!this.#running || this.#waiting) return;
    this.#lost += 1;
    this.#failures = this.#lost - 1;
    this.#retry(message);
  }

  /** It does what it is for: the pauses begin small again. */
  works() {
    this.#lost = 0;
  }

  /** @param {string} text @returns {boolean} whether there was a socket to take it */
  send(text) {
    if (this.#socket?.readyState !== OPEN) return false;
    this.#socket.send(text);
    return true;
  }

  #connect() {
    this.#cancelTimer();
    this.#waiting = false;
    const url = this.#user.address();
    let socket;
    try {
      socket = this.#world.open(url);
    } catch (error) {
      // A wrong address or one the browser forbids stays so.
      this.#user.onPhase("failed", this.#failures, `cannot open \`${url}\`: ${String(error)}`);
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
      this.#user.onOpen?.(socket);
      if (!this.#replaced) this.#user.onPhase("live", this.#failures, "");
    };
    socket.onmessage = (event) => this.#hear(event.data);
    socket.onclose = ({ code }) => {
      this.#replaced ||= code === REPLACED;
      this.#retry("");
      if (!isOpened && !this.#replaced) void this.#askWhy(url);
    };
    this.#watchSilence();
  }

  /** @param {unknown} data */
  #hear(data) {
    this.#lastHeard = this.#world.clock.now();
    this.#askedAt = null;
    this.#failures = 0;
    this.#replaced = false;
    this.#user.onPhase("live", 0, "");
    this.#user.onMessage(data);
  }

  /**
   * Counts from the asking, not from the last word alone: a browser that lets
   * a hidden page's timers sleep would find every socket dead on waking.
   */
  #watchSilence() {
    const { ask, silence } = this.#manners;
    const now = this.#world.clock.now();
    if (this.#askedAt === null && now >= this.#lastHeard + ask) {
      this.#askedAt = now;
      this.send(this.#manners.beat());
    }
    const next = this.#askedAt === null ? this.#lastHeard + ask : this.#askedAt + silence - ask;
    if (next <= now) this.#retry("");
    else this.#cancelTimer = this.#world.clock.after(next - now, () => this.#watchSilence());
  }

  #doubt() {
    const socket = this.#socket;
    if (socket === null) return;
    const asked = this.#world.clock.now();
    this.send(this.#manners.beat());
    this.#cancelDoubt();
    this.#cancelDoubt = this.#world.clock.after(DOUBT_MS, () => {
      if (socket === this.#socket && this.#lastHeard < asked) this.#retry("");
    });
  }

  /** @param {string} message */
  #retry(message) {
    this.#dropSocket();
    if (!this.#running) return;
    this.#failures += 1;
    this.#wait(message);
  }

  /** @param {string} message */
  #wait(message) {
    this.#waiting = true;
    this.#user.onPhase(this.#replaced ? "replaced" : "lost", this.#failures, message);
    if (!this.#waiting) return;
    const pause = this.#replaced ? REPLACED_PAUSE_MS : pauseBefore(this.#manners, this.#failures, this.#world.chance());
    this.#cancelTimer();
    this.#cancelTimer = this.#world.clock.after(pause, () => this.#connect());
  }

  /** A page that slept while its key was replaced was never told: it is turned away. @param {string} url */
  async #askWhy(url) {
    const attempt = this.#failures;
    if (!new URL(url).searchParams.has("key") || !(await this.#world.isRefused(url))) return;
    if (!this.#running || !this.#waiting || this.#failures !== attempt) return;
    this.#replaced = true;
    this.#wait("");
  }

  #dropSocket() {
    this.#cancelTimer();
    this.#cancelTimer = () => {};
    this.#cancelDoubt();
    this.#cancelDoubt = () => {};
    this.#waiting = false;
    const socket = this.#socket;
    this.#socket = null;
    if (socket === null) return;
    socket.onopen = null;
    socket.onmessage = null;
    socket.onclose = null;
    socket.close();
  }
}
