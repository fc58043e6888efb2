// What this device keeps on its disk: every key pressed in a match, with what became of
// it. Where the browser keeps nothing it keeps nothing either, and says so.

/** @import { Press } from "./presses.js" */
import { openDatabase } from "../shared/database.js";

export class Shelf {
  #base;

  /** @param {IDBDatabase | null} base null: this browser keeps nothing */
  constructor(base) {
    this.#base = base;
  }

  /** @returns {Promise<Shelf>} */
  static async open() {
    const base = await openDatabase("rallytide-cues", 1, (made) => {
      made.createObjectStore("presses", { keyPath: ["match", "place"] });
    });
    return new Shelf(base);
  }

  /** Whether anything given to it is still there after the page. */
  get keeps() {
    return this.#base !== null;
  }

  /** @param {string} match @returns {Promise<Press[]>} in the order they were pressed */
  read(match) {
    const base = this.#base;
    if (base === null) return Promise.resolve([]);
    return new Promise((resolve, reject) => {
      const range = IDBKeyRange.bound([match, 0], [match, Infinity]);
      const request = base.transaction("presses", "readonly").objectStore("presses").getAll(range);
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
  }

  /** Done once it is on the disk, not only on its way there. @param {readonly Press[]} presses @returns {Promise<void>} */
  keep(presses) {
    const base = this.#base;
    if (base === null) return Promise.resolve();
    return new Promise((resolve, reject) => {
      const through = base.transaction("presses", "readwrite", { durability: "strict" });
      through.oncomplete = () => resolve();
      through.onerror = () => reject(through.error);
      through.onabort = () => reject(through.error);
      for (const press of presses) through.objectStore("presses").put(press);
    });
  }
}
