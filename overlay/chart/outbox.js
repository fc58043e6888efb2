// Brings entries to the host: in order, each until the host says it is durable,
// after a lost connection from the first one not yet accepted. Ids make a second
// sending harmless. The only module of this page that opens a socket. What is on
// disk is the shelf's; what entries mean is nobody's business here.

/**
 * @import { MatchHeader, Score } from "../types/messages.js"
 * @import { Entry } from "./pocket.js"
 */

/** @typedef {"connecting" | "connected" | "lost" | "link_replaced" | "other_match" | "taken_over" | "elsewhere"} Line */
/** @typedef {{ type: "welcome", match: MatchHeader | null, last_seq: number, score: Score | null, ids: string[], charters: string[], seat: string | null }} Welcome */
/**
 * @typedef {object} Listener
 * @property {(line: Line, message?: string) => void} onLine
 * @property {(welcome: Welcome, tookOver: boolean) => Promise<void>} onWelcome done before anything that waits is sent
 * @property {(id: string, seq: number | null) => void} onStored seq: its place with the host, null where that is not told
 * @property {(id: string, code: string, message: string) => void} onRefused
 */

const BEAT_MS = 2_500;
/** Without any word for so long a connection counts as dead, whatever the socket says. */
const SILENCE_MS = 7_000;
/** The same where the browser says that the network is gone: it may, or the host is this laptop. */
const DOUBT_MS = 1_500;
/** How the host closes a connection whose key was replaced (RFC 6455, 7.4.1: against its policy). */
const REPLACED = 1008;
const BATCH = 40;
const FIRST_WAIT_MS = 300;
const LONGEST_WAIT_MS = 5_000;

/** @param {number} tries @param {number} chance 0 to 1 @returns {number} ms to wait before the next try */
export const backOff = (tries, chance) => Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** tries) * (0.5 + chance / 2);

export class Outbox {
  #url;
  #client;
  #listener;
  /** @type {WebSocket | null} */
  #socket = null;
  /** @type {Entry[]} */
  #waiting = [];
  #onTheWay = 0;
  #tries = 0;
  #heard = 0;
  #takeOver = false;
  #welcomed = false;
  #stopped = false;
  /** Whether the key in the page's address was replaced, as far as the host has said. */
  #replaced = false;
  /** @type {MatchHeader | null} */
  header = null;
  /** Whether the header's match may take another one, still being played, off the court. */
  replace = false;

  /** @param {string} url @param {string} client @param {Listener} listener */
  constructor(url, client, listener) {
    this.#url = url;
    this.#client = client;
    this.#listener = listener;
    setInterval(() => this.#beat(), BEAT_MS);
    addEventListener("online", () => this.#again());
    addEventListener("offline", () => this.#doubt());
  }

  get waiting() {
    return this.#waiting.length;
  }

  /** @param {readonly Entry[]} entries recorded, in order */
  add(entries) {
    this.#waiting.push(...entries);
    this.#send();
  }

  connect() {
    this.#listener.onLine("connecting");
    this.#open();
  }

  #open() {
    this.#stopped = false;
    this.#welcomed = false;
    this.#onTheWay = 0;
    this.#socket?.close();
    const socket = new WebSocket(this.#url);
    this.#socket = socket;
    this.#heard = performance.now();
    socket.onopen = () => this.#hello(socket, this.#takeOver);
    socket.onmessage = ({ data }) => {
      if (socket === this.#socket) this.#hear(JSON.parse(String(data)));
    };
    socket.onclose = ({ code }) => {
      if (socket !== this.#socket) return;
      this.#replaced ||= code === REPLACED;
      this.#lose();
    };
  }

  /** @param {WebSocket} socket @param {boolean} takeOver */
  #hello(socket, takeOver) {
    const chart = this.header === null ? {} : { chart: this.header };
    const replace = this.replace && this.header !== null ? { replace: true } : {};
    const over = takeOver ? { take_over: true } : {};
    socket.send(JSON.stringify({ type: "hello", client: this.#client, after: 0, ...chart, ...over, ...replace }));
  }

  /** @returns {Outbox} one for another match; this one says no more */
  successor() {
    this.#stopped = true;
    this.#socket?.close();
    this.#socket = null;
    this.#waiting = [];
    return new Outbox(this.#url, this.#client, this.#listener);
  }

  /** The charter's own wish; never done by itself. */
  takeOver() {
    this.#takeOver = true;
    this.connect();
  }

  /** Stops where the person at this laptop charts in another window. @param {string} message */
  yield(message) {
    this.#stop("elsewhere", message);
  }

  /** Sends these no more. @param {ReadonlySet<string>} ids */
  setAside(ids) {
    this.#waiting = this.#waiting.filter(({ id }) => !ids.has(id));
  }

  /** @param {string} [message] */
  #lose(message) {
    this.#socket = null;
    this.#welcomed = false;
    this.#onTheWay = 0;
    if (this.#stopped) return;
    this.#listener.onLine(this.#replaced ? "link_replaced" : "lost", message);
    setTimeout(() => this.#again(), backOff(this.#tries++, Math.random()));
  }

  #again() {
    // A lost line is lost until a try succeeds: a word that flickers says nothing.
    if (this.#socket === null && !this.#stopped) this.#open();
  }

  #beat() {
    const socket = this.#socket;
    if (socket === null) return;
    if (performance.now() - this.#heard > SILENCE_MS) this.#drop(socket);
    else if (socket.readyState === WebSocket.OPEN)
      socket.send(JSON.stringify({ type: "beat", at: new Date().toISOString() }));
  }

  /** The word `offline` is not proof: a host on this laptop still answers. */
  #doubt() {
    const socket = this.#socket;
    const asked = performance.now();
    this.#beat();
    setTimeout(() => {
      if (socket !== null && socket === this.#socket && this.#heard < asked) this.#drop(socket);
    }, DOUBT_MS);
  }

  /** Takes a socket for dead; its own farewell may take minutes. @param {WebSocket} socket @param {string} [message] */
  #drop(socket, message) {
    if (socket === this.#socket) this.#lose(message);
    socket.close();
  }

  /** @param {Line} line @param {string} message */
  #stop(line, message) {
    this.#stopped = true;
    this.#takeOver = false;
    this.#socket?.close();
    this.#socket = null;
    this.#listener.onLine(line, message);
  }

  /** @param {any} message unknown ones are ignored */
  #hear(message) {
    this.#heard = performance.now();
    if (message.type === "welcome") void this.#welcome(message);
    else if (message.type === "accepted")
      this.#settle(message.id, () => this.#listener.onStored(message.id, message.seq));
    else if (message.type === "refused") this.#refuse(message);
    else if (message.type === "notice" && message.code === "taken_over") this.#stop("taken_over", message.message);
  }

  /** @param {Welcome} message */
  async #welcome(message) {
    this.replace = false;
    this.#replaced = false;
    if (this.header !== null && message.match !== null && message.match.id !== this.header.id) {
      this.#stop("other_match", `this court plays \`${message.match.title ?? message.match.id}\` now`);
      await this.#listener.onWelcome(message, false);
      return;
    }
    // Two laptops must never write one court unnoticed: the later one asks its charter.
    const taken = message.seat === null ? message.charters.length > 0 : message.seat !== this.#client;
    if (taken && !this.#takeOver) {
      this.#stop(
        "elsewhere",
        message.charters.length > 0
          ? "another laptop charts this court"
          : message.last_seq > 0
            ? "another laptop, away now, has charted this court"
            : "another laptop, away now, has set this court up; nothing is charted yet",
      );
      await this.#listener.onWelcome(message, false);
      return;
    }
    if (message.match !== null && message.seat !== this.#client && this.#socket !== null) {
      // The seat is free: this laptop takes it, so that it keeps it through a lost connection.
      this.#hello(this.#socket, true);
      return;
    }
    const stored = new Set(message.ids);
    for (const { id } of this.#waiting.filter((entry) => stored.has(entry.id))) this.#listener.onStored(id, null);
    this.#waiting = this.#waiting.filter(({ id }) => !stored.has(id));
    const tookOver = this.#takeOver;
    this.#takeOver = false;
    const socket = this.#socket;
    await this.#listener.onWelcome(message, tookOver);
    if (socket !== this.#socket || socket === null) return;
    if (this.#waiting.length === 0) this.#tries = 0;
    this.#welcomed = true;
    this.#listener.onLine("connected");
    this.#send();
  }

  /** @param {{ id: string | null, code: string, message: string }} message */
  #refuse({ id, code, message }) {
    if (code === "taken_over") this.#stop("taken_over", message);
    // The host's own words for these tell programs what to send.
    else if (code === "court_busy" || code === "other_match")
      this.#stop("other_match", "the match charted here is not on this court any more");
    // Not stored is not refused for good: what is kept here is sent again.
    else if (code === "not_stored" || code === "hello_first" || code === "no_match") {
      if (this.#socket !== null) this.#drop(this.#socket, message);
    } else if (id !== null) this.#settle(id, () => this.#listener.onRefused(id, code, message));
    else this.#listener.onLine("connected", message);
  }

  /** @param {string} id @param {() => void} tell */
  #settle(id, tell) {
    const before = this.#waiting.length;
    this.#waiting = this.#waiting.filter((entry) => entry.id !== id);
    if (this.#waiting.length < before) this.#onTheWay = Math.max(0, this.#onTheWay - 1);
    this.#tries = 0;
    tell();
    this.#send();
  }

  #send() {
    if (!this.#welcomed || this.#stopped || this.#socket?.readyState !== WebSocket.OPEN) return;
    const entries = this.#waiting.slice(this.#onTheWay, this.#onTheWay + BATCH);
    if (entries.length === 0 || this.#onTheWay > BATCH) return;
    this.#onTheWay += entries.length;
    this.#socket.send(JSON.stringify({ type: "entries", entries }));
  }
}

/** @returns {string} works on plain http, too, where there is no `randomUUID` */
export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
