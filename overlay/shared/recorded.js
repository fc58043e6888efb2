// Plays a recorded feed without a host: JSON Lines, one
// {"at_ms": N, "message": <feed message>} a line, `at_ms` counted from the start
// and never going back. Same face as FeedConnection. It does not loop or seek.

/**
 * @import { Action, Clock, Connection } from "../types/view.js"
 * @import { FeedMessage } from "../types/messages.js"
 */
import { browserClock } from "./line-socket.js";

/** @typedef {{ at_ms: number, message: FeedMessage }} RecordedLine */

/** A recording that cannot be played; the message names the line. */
export class RecordingError extends Error {}

/**
 * @param {string} text
 * @returns {RecordedLine[]}
 */
export function parseRecording(text) {
  /** @type {RecordedLine[]} */
  const lines = [];
  for (const [index, line] of text.split("\n").entries()) {
    if (line.trim() === "") continue;
    lines.push(parseLine(line, index + 1, lines[lines.length - 1]?.at_ms ?? 0));
  }
  if (lines.length === 0) throw new RecordingError("the recording is empty");
  return lines;
}

/**
 * @param {string} line
 * @param {number} number
 * @param {number} earliest
 * @returns {RecordedLine}
 */
function parseLine(line, number, earliest) {
  let value;
  try {
    value = JSON.parse(line);
  } catch (error) {
    throw new RecordingError(`line ${number} is not JSON: ${String(error)}`);
  }
  if (typeof value?.message?.type !== "string") {
    throw new RecordingError(`line ${number} has no \`message\` with a \`type\``);
  }
  if (!Number.isFinite(value.at_ms) || value.at_ms < earliest) {
    throw new RecordingError(
      `line ${number}: \`at_ms\` is \`${String(value.at_ms)}\`, allowed is a number from ${earliest} on`,
    );
  }
  return value;
}

export class Recording {
  #url;
  #pace;
  #dispatch;
  #clock;
  #fetchText;
  #cancelTimer = () => {};
  #run = 0;

  /**
   * @param {string} url
   * @param {number} pace times the recorded tempo; 0: to the end at once
   * @param {(action: Action) => void} dispatch
   * @param {Clock} [clock]
   * @param {(url: string) => Promise<string>} [fetchText]
   */
  constructor(url, pace, dispatch, clock = browserClock, fetchText = fetchFile) {
    this.#url = url;
    this.#pace = pace;
    this.#dispatch = dispatch;
    this.#clock = clock;
    this.#fetchText = fetchText;
  }

  async start() {
    const run = ++this.#run;
    this.#say("connecting");
    let lines;
    try {
      lines = parseRecording(await this.#fetchText(this.#url));
    } catch (error) {
      if (run !== this.#run) return;
      const cause = error instanceof Error ? error.message : String(error);
      this.#say("failed", `cannot play the recording \`${this.#url}\`: ${cause}`);
      return;
    }
    if (run !== this.#run) return;
    this.#say("recorded");
    this.#play(lines, 0, this.#clock.now());
  }

  stop() {
    this.#run += 1;
    this.#cancelTimer();
    this.#cancelTimer = () => {};
  }

  /** A recording has nothing newer to ask for. */
  resync() {}

  /**
   * @param {RecordedLine[]} lines
   * @param {number} next
   * @param {number} begun
   */
  #play(lines, next, begun) {
    for (let at = next; at < lines.length; at += 1) {
      const line = /** @type {RecordedLine} */ (lines[at]);
      const wait = this.#pace === 0 ? 0 : begun + line.at_ms / this.#pace - this.#clock.now();
      if (wait > 0) {
        this.#cancelTimer = this.#clock.after(wait, () => this.#play(lines, at, begun));
        return;
      }
      this.#dispatch(line.message);
    }
  }

  /**
   * @param {Connection["phase"]} phase
   * @param {string} [message]
   */
  #say(phase, message = "") {
    this.#dispatch({ type: "connection", connection: { phase, attempt: 0, message } });
  }
}

/** @param {string} url */
async function fetchFile(url) {
  const response = await fetch(url);
  if (!response.ok) throw new Error(`the server answers ${response.status}`);
  return response.text();
}
