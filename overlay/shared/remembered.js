// What one page on one machine keeps over a reload: short lists of words under a
// name, apart for every court.

/** @import { Words } from "./memory.js" */
import { keptJson, lasting } from "./memory.js";

/** The most words kept under one name; the oldest go. */
const MOST = 200;

export class Remembered {
  #key;
  /** @type {string[]} */
  #words;
  #storage;

  /**
   * @param {string} name
   * @param {Words} [storage]
   * @param {string} [place] what keeps courts apart
   */
  constructor(name, storage = lasting, place = location.pathname) {
    this.#storage = storage;
    this.#key = `rallytide ${place} ${name}`;
    this.#words = this.#read();
  }

  /** @returns {readonly string[]} oldest first */
  get words() {
    return this.#words;
  }

  /** @param {string} word */
  has(word) {
    return this.#words.includes(word);
  }

  /** @param {string} word */
  add(word) {
    this.#write([...this.#words.filter((one) => one !== word), word].slice(-MOST));
  }

  /** @param {string} word */
  remove(word) {
    this.#write(this.#words.filter((one) => one !== word));
  }

  /** @returns {string[]} */
  #read() {
    const kept = keptJson(this.#storage, this.#key, Array.isArray, []);
    return kept.filter((word) => typeof word === "string").slice(-MOST);
  }

  /** @param {string[]} words */
  #write(words) {
    this.#words = words;
    this.#storage.setItem(this.#key, JSON.stringify(words));
  }
}
