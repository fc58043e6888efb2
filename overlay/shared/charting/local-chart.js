// Chart and score in the page: the host's own rules, compiled to WebAssembly, so
// that a charter sees the score at once and offline. Holds one match at a time;
// knows nothing of what is kept on disk.

/**
 * @import { MatchHeader, Score, Team, Contact } from "../../types/messages.js"
 */

/** @typedef {Record<string, unknown> & { id: string, at: string, kind: string }} Entry */
/** @typedef {{ id: string, number: number, team: Team, player: number | null, contact: Contact | null, missed_before: boolean }} ShotSeen `player`: as charted, else as the score says */
/** @typedef {{ entry: Entry, shot?: ShotSeen, flags: string[], what?: string }} Seen */
/**
 * @typedef {object} Answer
 * @property {{ code: string, message: string }} [refused] nothing has changed then
 * @property {string[]} flags
 * @property {Score} score
 * @property {boolean} over
 * @property {number} entries
 * @property {ShotSeen[]} rally
 * @property {Seen[]} recent
 */
/**
 * @typedef {object} Exports
 * @property {WebAssembly.Memory} memory
 * @property {(length: number) => number} reserve
 * @property {() => number} open
 * @property {() => number} take
 * @property {() => number} file
 * @property {() => number} ends
 * @property {() => number} answer
 */

/** What keeps a page from starting, in a sentence for whoever has opened it. */
class CannotStart extends Error {
  /** @override */
  name = "CannotStart";
}

/** @param {URL} address @returns {Promise<ArrayBuffer>} the host's own rules, for as many charts as are wanted */
export async function fetchRules(address) {
  if (typeof WebAssembly === "undefined")
    throw new CannotStart(
      "This page could not start: this browser has WebAssembly turned off, and the score is worked out with it. Allow it in the browser's settings, or use another browser, then reload the page.",
    );
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`the host answers ${answer.status} for the score's rules`);
  return answer.arrayBuffer();
}

export class LocalChart {
  #code;

  /** @param {Exports} code */
  constructor(code) {
    this.#code = code;
  }

  /** @param {BufferSource} bytes @returns {Promise<LocalChart>} */
  static async from(bytes) {
    const { instance } = await WebAssembly.instantiate(bytes, {});
    return new LocalChart(/** @type {Exports} */ (/** @type {unknown} */ (instance.exports)));
  }

  /** @param {MatchHeader} header @returns {Answer} */
  open(header) {
    this.#put(header);
    return JSON.parse(this.#text(this.#code.open()));
  }

  /** @param {Entry} entry @returns {Answer} */
  take(entry) {
    this.#put(entry);
    return JSON.parse(this.#text(this.#code.take()));
  }

  /** @returns {string} the chart as a file's text */
  file() {
    return this.#text(this.#code.file());
  }

  /** @returns {Seen[]} every end of a rally of the effective chart, oldest first */
  ends() {
    return JSON.parse(this.#text(this.#code.ends()));
  }

  /** @param {unknown} value */
  #put(value) {
    const bytes = new TextEncoder().encode(JSON.stringify(value));
    const place = this.#code.reserve(bytes.length);
    new Uint8Array(this.#code.memory.buffer, place, bytes.length).set(bytes);
  }

  /** @param {number} length */
  #text(length) {
    return new TextDecoder().decode(new Uint8Array(this.#code.memory.buffer, this.#code.answer(), length));
  }
}
