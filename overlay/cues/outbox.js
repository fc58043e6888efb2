// Brings entries to the host from the seat `cues`: in order, each until the host says it
// is durable, after a lost connection from the first one not yet accepted. Ids make a
// second sending harmless. What entries mean is nobody's business here.

/**
 * @import { Phase } from "../shared/line-socket.js"
 * @import { Entry } from "../shared/charting/local-chart.js"
 */
import { INTAKE_MANNERS, IntakeQueue } from "../shared/intake-queue.js";
import { LineSocket } from "../shared/line-socket.js";

/** @typedef {"connecting" | "connected" | "lost" | "link_replaced" | "taken_over" | "elsewhere"} Line */
/**
 * @typedef {object} Listener
 * @property {(line: Line, message: string) => void} onLine
 * @property {(id: string) => void} onStored
 * @property {(id: string, code: string, message: string) => void} onRefused
 */

/** What is refused because of how things are, not for good: it is sent again. */
const PASSING = new Set(["not_stored", "hello_first", "no_match", "other_match"]);

export class Outbox {
  #client;
  #listener;
  #line;
  #queue = new IntakeQueue();
  #takeOver = false;
  #welcomed = false;
  #stopped = true;
  /** The match that what waits is about. @type {string | null} */
  #match = null;

  /** @param {string} url @param {string} client @param {Listener} listener */
  constructor(url, client, listener) {
    this.#client = client;
    this.#listener = listener;
    this.#line = new LineSocket(
      {
        address: () => url,
        onOpen: () => this.#hello(),
        onMessage: (data) => this.#hear(JSON.parse(String(data))),
        onPhase: (phase, _, message) => this.#phase(phase, message),
      },
      INTAKE_MANNERS,
    );
  }

  get waiting() {
    return this.#queue.length;
  }

  /** @param {readonly Entry[]} entries in order */
  add(entries) {
    this.#queue.add(entries);
    this.#send();
  }

  /** Goes to a match, with what waits for it. @param {string | null} match @param {readonly Entry[]} entries */
  open(match, entries) {
    this.#match = match;
    this.#queue.replace(entries);
    this.#takeOver = false;
    if (match === null) this.#close();
    else this.#connect();
  }

  /** The person's own wish; never done by itself. */
  takeOver() {
    this.#takeOver = true;
    this.#connect();
  }

  /** Stops where the person at this device marks in another window. @param {string} message */
  yield(message) {
    this.#stop("elsewhere", message);
  }

  #connect() {
    this.#stopped = false;
    this.#begin();
    this.#listener.onLine("connecting", "");
    this.#line.stop();
    this.#line.start();
  }

  #close() {
    this.#stopped = true;
    this.#begin();
    this.#line.stop();
  }

  /** What was on the way over an older socket counts as not sent. */
  #begin() {
    this.#welcomed = false;
    this.#queue.restart();
  }

  /** @param {Line} line @param {string} message */
  #stop(line, message) {
    this.#takeOver = false;
    this.#close();
    this.#listener.onLine(line, message);
  }

  /** @param {Phase} phase @param {string} message */
  #phase(phase, message) {
    // Connected is said once the host has welcomed this device, not when a socket opens.
    if (phase === "live" || this.#stopped) return;
    this.#begin();
    this.#listener.onLine(phase === "replaced" ? "link_replaced" : "lost", message);
  }

  #hello() {
    const over = this.#takeOver ? { take_over: true } : {};
    this.#say({ type: "hello", client: this.#client, seat: "cues", after: 0, ...over });
  }

  /** @param {unknown} message */
  #say(message) {
    return this.#line.send(JSON.stringify(message));
  }

  /** @param {any} message unknown ones are ignored */
  #hear(message) {
    if (this.#stopped) return;
    if (message.type === "welcome") this.#welcome(message);
    else if (message.type === "accepted") this.#settle(message.id, () => this.#listener.onStored(message.id));
    else if (message.type === "refused") this.#refuse(message);
    else if (message.type === "notice" && message.code === "taken_over") this.#stop("taken_over", message.message);
  }

  /** @param {{ match: { id: string } | null, ids: string[], charters: string[], seat: string | null }} welcome */
  #welcome({ match, ids, charters, seat }) {
    // The feed tells of another match, too, and then this is opened for that one.
    if (match?.id !== this.#match) return this.#line.lose();
    const taken = seat === null ? charters.length > 0 : seat !== this.#client;
    if (taken && !this.#takeOver)
      return this.#stop(
        "elsewhere",
        charters.length > 0 ? "somebody else marks the cues of this court" : "somebody else, away now, has the cues",
      );
    if (seat !== this.#client) {
      // The seat is free: this device takes it, so that it keeps it through a lost connection.
      this.#takeOver = true;
      return this.#hello();
    }
    this.#takeOver = false;
    const known = this.#queue.drop(new Set(ids));
    this.#welcomed = true;
    if (this.#queue.length === 0) this.#line.works();
    this.#listener.onLine("connected", "");
    for (const id of known) this.#listener.onStored(id);
    this.#send();
  }

  /** @param {{ id: string | null, code: string, message: string }} refusal */
  #refuse({ id, code, message }) {
    if (code === "taken_over") this.#stop("taken_over", message);
    else if (PASSING.has(code)) this.#line.lose(message);
    else if (id !== null) this.#settle(id, () => this.#listener.onRefused(id, code, message));
    else this.#listener.onLine("connected", message);
  }

  /** @param {string} id @param {() => void} tell */
  #settle(id, tell) {
    this.#queue.drop(new Set([id]));
    this.#line.works();
    tell();
    this.#send();
  }

  #send() {
    if (!this.#welcomed || this.#stopped) return;
    this.#queue.send((entries) => this.#say({ type: "entries", entries }));
  }
}
