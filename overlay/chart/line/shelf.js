// What this laptop keeps on disk, in IndexedDB: for every court the header of the
// match and every entry in the order it was recorded, with whether the host has
// it. Works on plain http, where there is no service worker; where the browser keeps
// nothing it keeps nothing either, and says so. Knows nothing about the network.

/**
 * @import { MatchHeader, Score } from "../../types/messages.js"
 * @import { Entry } from "../../shared/charting/local-chart.js"
 */
import { openDatabase } from "../../shared/database.js";

/** @typedef {{ court: string, header: MatchHeader, joined: Score | null, joinedAt: number, taken: boolean }} KeptMatch `joinedAt`: what the host had then */
/** @typedef {"chart" | "cues"} Seat */
/**
 * @typedef {object} KeptEntry
 * @property {string} court
 * @property {number} place
 * @property {Entry} entry
 * @property {"waiting" | "stored" | "refused"} state
 * @property {number} [seq] its place with the host, where that was told
 * @property {Seat} [seat] it was recorded from; left out: here, or at the desk
 */

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
const result = (request) =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

export class Shelf {
  #base;

  /** @param {IDBDatabase | null} base null: this browser keeps nothing */
  constructor(base) {
    this.#base = base;
  }

  /** @returns {Promise<Shelf>} */
  static async open() {
    const base = await openDatabase("rallytide-chart", 1, (made) => {
      made.createObjectStore("matches", { keyPath: "court" });
      made.createObjectStore("entries", { keyPath: ["court", "place"] });
    });
    return new Shelf(base);
  }

  /** Whether anything given to it is still there after the page. */
  get keeps() {
    return this.#base !== null;
  }

  /** @param {string} court @returns {Promise<{ match: KeptMatch | undefined, entries: KeptEntry[] }>} */
  async read(court) {
    if (this.#base === null) return { match: undefined, entries: [] };
    const through = this.#base.transaction(["matches", "entries"], "readonly");
    const match = result(/** @type {IDBRequest<KeptMatch | undefined>} */ (through.objectStore("matches").get(court)));
    const range = IDBKeyRange.bound([court, 0], [court, Infinity]);
    const entries = result(/** @type {IDBRequest<KeptEntry[]>} */ (through.objectStore("entries").getAll(range)));
    return { match: await match, entries: await entries };
  }

  /** Begins a match: what was kept of another one on this court goes. @param {KeptMatch} match */
  begin(match) {
    return this.#write((matches, entries) => {
      entries.delete(IDBKeyRange.bound([match.court, 0], [match.court, Infinity]));
      matches.put(match);
    });
  }

  /** What was kept of the court goes. @param {string} court */
  forget(court) {
    return this.#write((matches, entries) => {
      entries.delete(IDBKeyRange.bound([court, 0], [court, Infinity]));
      matches.delete(court);
    });
  }

  /** @param {readonly KeptEntry[]} kept */
  keep(kept) {
    return this.#write((_, entries) => {
      for (const one of kept) entries.put(one);
    });
  }

  /**
   * Done once it is on the disk, not only on its way there.
   * @param {(matches: IDBObjectStore, entries: IDBObjectStore) => void} change @returns {Promise<void>}
   */
  #write(change) {
    const base = this.#base;
    if (base === null) return Promise.resolve();
    return new Promise((resolve, reject) => {
      const through = base.transaction(["matches", "entries"], "readwrite", { durability: "strict" });
      through.oncomplete = () => resolve();
      through.onerror = () => reject(through.error);
      through.onabort = () => reject(through.error);
      change(through.objectStore("matches"), through.objectStore("entries"));
    });
  }
}
