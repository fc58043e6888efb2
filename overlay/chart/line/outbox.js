// Brings entries to the host: in order, each until the host says it is durable,
// after a lost connection from the first one not yet accepted. Ids make a second
// sending harmless. What is on disk is the shelf's; what entries mean is nobody's
// business here.

/**
 * @import { MatchHeader, Score } from "../../types/messages.js"
 * @import { Phase } from "../../shared/line-socket.js"
 * @import { Entry } from "../../shared/charting/local-chart.js"
 */
import { INTAKE_MANNERS, IntakeQueue } from "../../shared/intake-queue.js";
import { LineSocket } from "../../shared/line-socket.js";

/** @typedef {"connecting" | "connected" | "lost" | "link_replaced" | "other_match" | "taken_over" | "elsewhere"} Line */
/** @typedef {{ type: "welcome", match: MatchHeader | null, last_seq: number, score: Score | null, ids: string[], charters: string[], seat: string | null }} Welcome */
/**
 * @typedef {object} CourtNow how the court is after the desk, or another charter, has changed it
 * @property {MatchHeader | null} match
 * @property {number} last_seq
 * @property {"empty" | "ready" | "playing" | "paused" | "finished"} state
 * @property {string | null} moved_to the court where the match charted here is now
 */
/**
 * @typedef {object} Listener
 * @property {(line: Line, message?: string) => void} onLine
 * @property {(welcome: Welcome, tookOver: boolean) => Promise<void>} onWelcome done before anything that waits is sent
 * @property {(id: string, seq: number | null) => void} onStored seq: its place with the host, null where that is not told
 * @property {(id: string, code: string, message: string) => void} onRefused
 * @property {(now: CourtNow) => void} onCourt the court is no longer as it was
 * @property {() => void} onTurnedAway the host does not take the match charted here onto this court
 */

export class Outbox {
  #url;
  #client;
  #listener;
  #line;
  #queue = new IntakeQueue();
  #takeOver = false;
  #welcomed = false;
  #stopped = true;
  /** Whether another match has this court: nothing is sent, but the line is kept, to hear when that changes. */
  #standingBy = false;
  /** Which socket it is: what was asked over an older one is not answered to a newer one. */
  #opened = 0;
  /** @type {MatchHeader | null} */
  header = null;
  /** Whether the header's match may take another one, still being played, off the court. */
  replace = false;

  /** @param {string} url @param {string} client @param {Listener} listener */
  constructor(url, client, listener) {
    this.#url = url;
    this.#client = client;
    this.#listener = listener;
    this.#line = new LineSocket(
      {
        address: () => url,
        onOpen: () => this.#hello(this.#takeOver),
        onMessage: (data) => this.#hear(JSON.parse(String(data))),
        onPhase: (phase, _, message) => this.#phase(phase, message),
      },
      INTAKE_MANNERS,
    );
  }

  get waiting() {
    return this.#queue.length;
  }

  /** @param {readonly Entry[]} entries recorded, in order */
  add(entries) {
    this.#queue.add(entries);
    this.#send();
  }

  /** A line, or a new one in place of the one there is. */
  connect() {
    this.#stopped = false;
    this.#standingBy = false;
    this.#begin();
    this.#listener.onLine("connecting");
    this.#line.stop();
    this.#line.start();
  }

  /** Asks over the line there is how the court stands; what comes is a new welcome. */
  again() {
    if (this.#stopped) return;
    this.#begin();
    this.#hello(false);
  }

  /** Sends nothing more, and listens on, until the court has this match again. */
  standBy() {
    if (this.#stopped) return;
    this.#begin();
    this.#standingBy = true;
    this.#listener.onLine("other_match");
  }

  /** What was on the way over an older socket counts as not sent. */
  #begin() {
    this.#welcomed = false;
    this.#queue.restart();
    this.#opened += 1;
  }

  /** @param {Phase} phase @param {string} message */
  #phase(phase, message) {
    // Connected is said once the host has welcomed this laptop, not when a socket opens.
    if (phase === "live" || this.#stopped) return;
    this.#begin();
    if (this.#standingBy) return;
    this.#listener.onLine(phase === "replaced" ? "link_replaced" : "lost", message === "" ? undefined : message);
  }

  /** @param {boolean} takeOver */
  #hello(takeOver) {
    const chart = this.header === null ? {} : { chart: this.header };
    const replace = this.replace && this.header !== null ? { replace: true } : {};
    const over = takeOver ? { take_over: true } : {};
    this.#say({ type: "hello", client: this.#client, after: 0, ...chart, ...over, ...replace });
  }

  /** @param {unknown} message */
  #say(message) {
    return this.#line.send(JSON.stringify(message));
  }

  /** @returns {Outbox} one for another match; this one says no more */
  successor() {
    this.#stopped = true;
    this.#line.stop();
    this.#queue.replace([]);
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
    this.#queue.drop(ids);
  }

  /** @param {Line} line @param {string} message */
  #stop(line, message) {
    this.#stopped = true;
    this.#takeOver = false;
    this.#line.stop();
    this.#listener.onLine(line, message);
  }

  /** @param {any} message unknown ones are ignored */
  #hear(message) {
    if (this.#stopped) return;
    if (message.type === "welcome") void this.#welcome(message);
    else if (message.type === "accepted")
      this.#settle(message.id, () => this.#listener.onStored(message.id, message.seq));
    else if (message.type === "refused") this.#refuse(message);
    else if (message.type === "notice" && message.code === "taken_over") this.#stop("taken_over", message.message);
    else if (message.type === "notice" && message.code === "court_changed") this.#listener.onCourt(message);
  }

  /** @param {Welcome} message */
  async #welcome(message) {
    this.replace = false;
    if (this.header !== null && message.match !== null && message.match.id !== this.header.id) {
      this.#listener.onCourt({ match: message.match, last_seq: message.last_seq, state: "playing", moved_to: null });
      return;
    }
    this.#standingBy = false;
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
    if (message.match !== null && message.seat !== this.#client) {
      // The seat is free: this laptop takes it, so that it keeps it through a lost connection.
      this.#hello(true);
      return;
    }
    for (const id of this.#queue.drop(new Set(message.ids))) this.#listener.onStored(id, null);
    const tookOver = this.#takeOver;
    this.#takeOver = false;
    const opened = this.#opened;
    await this.#listener.onWelcome(message, tookOver);
    if (opened !== this.#opened || this.#stopped) return;
    if (this.#queue.length === 0) this.#line.works();
    this.#welcomed = true;
    this.#listener.onLine("connected");
    this.#send();
  }

  /** @param {{ id: string | null, code: string, message: string }} message */
  #refuse({ id, code, message }) {
    if (code === "taken_over") this.#stop("taken_over", message);
    // The host's own words for these tell programs what to send.
    else if (code === "court_busy" || code === "other_match") {
      if (this.#standingBy && id !== null) return;
      if (!this.#standingBy) this.standBy();
      this.#listener.onTurnedAway();
    }
    // Not stored is not refused for good: what is kept here is sent again.
    else if (code === "not_stored" || code === "hello_first" || code === "no_match") this.#line.lose(message);
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
