// The browser's memory, guarded: where it keeps nothing (site data blocked, a private
// window, a full disk) everything here works on and lasts as long as the page. What
// is too much for it has a database (database.js).

/** @typedef {Pick<Storage, "getItem" | "setItem" | "removeItem">} Words what is kept by name */

/** Short words under names, in the form of the browser's own `Storage`, but never in its way. */
export class Memory {
  #open;
  /** What the browser did not take, by name. @type {Map<string, string | null>} */
  #here = new Map();
  #told = false;

  /** @param {() => Words} open the browser's storage; to ask for it may throw already */
  constructor(open) {
    this.#open = open;
  }

  /** @param {string} name @returns {string | null} */
  getItem(name) {
    const here = this.#here.get(name);
    return here !== undefined ? here : this.#try((storage) => storage.getItem(name), null);
  }

  /** @param {string} name @param {string} text */
  setItem(name, text) {
    this.#keep(name, text, (storage) => storage.setItem(name, text));
  }

  /** @param {string} name */
  removeItem(name) {
    this.#keep(name, null, (storage) => storage.removeItem(name));
  }

  /** @param {string} name @param {string | null} text @param {(storage: Words) => void} write */
  #keep(name, text, write) {
    const taken = this.#try((storage) => (write(storage), true), false);
    if (taken) this.#here.delete(name);
    else this.#here.set(name, text);
  }

  /** @template T @param {(storage: Words) => T} act @param {T} otherwise @returns {T} */
  #try(act, otherwise) {
    try {
      return act(this.#open());
    } catch (error) {
      if (!this.#told) console.warn(`this browser keeps nothing for this page: ${String(error)}`);
      this.#told = true;
      return otherwise;
    }
  }
}

/** Kept until somebody takes it out. */
export const lasting = new Memory(() => globalThis.localStorage);
/** Kept as long as this tab. */
export const ofThisTab = new Memory(() => globalThis.sessionStorage);

/**
 * @template T
 * @param {Pick<Words, "getItem">} memory @param {string} name @param {(value: unknown) => value is T} fits @param {T} otherwise
 * @returns {T} what was kept as JSON, where it is still what it should be
 */
export function keptJson(memory, name, fits, otherwise) {
  const text = memory.getItem(name);
  if (text === null) return otherwise;
  try {
    const value = JSON.parse(text);
    if (fits(value)) return value;
    console.warn(`what was kept under \`${name}\` is of another form and is left aside`);
  } catch (error) {
    console.warn(`could not read what was kept under \`${name}\`: ${String(error)}`);
  }
  return otherwise;
}
