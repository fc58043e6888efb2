// What one page on one machine keeps over a reload: short lists of words under a
// name, apart for every court. Where the browser keeps nothing (private mode, a
// full store) the page works on and forgets; the console says so once.

/** The most words kept under one name; the oldest go. */
const MOST = 200;

export class Remembered {
  #key;
  /** @type {string[]} */
  #words;
  #storage;

  /**
   * @param {string} name
   * @param {Storage} [storage]
   * @param {string} [place] what keeps courts apart
   */
  constructor(name, storage = globalThis.localStorage, place = location.pathname) {
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

  #read() {
    try {
      const kept = JSON.parse(this.#storage.getItem(this.#key) ?? "[]");
      if (Array.isArray(kept)) return kept.filter((word) => typeof word === "string").slice(-MOST);
      console.warn(`what was kept under \`${this.#key}\` is no list and is left aside`);
    } catch (error) {
      console.warn(`could not read what was kept under \`${this.#key}\`: ${String(error)}`);
    }
    return [];
  }

  /** @param {string[]} words */
  #write(words) {
    this.#words = words;
    try {
      this.#storage.setItem(this.#key, JSON.stringify(words));
    } catch (error) {
      console.warn(`could not keep \`${this.#key}\`, it lasts until the page is closed: ${String(error)}`);
    }
  }
}
