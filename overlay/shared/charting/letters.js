// The letters on the keys of this keyboard: as the browser tells them, as somebody has
// chosen, as the language lets one guess, and as the keys themselves say once they are
// pressed. Every page with keys has one; all share the choice kept in this browser.

/** @import { Layout, Signs } from "./layouts.js" */
import { lasting } from "../memory.js";
import { LAYOUT_WORDS, layoutOf, signsOn } from "./layouts.js";

const KEPT = "rallytide.keyboard.layout";

export class Letters {
  #changed;
  /** @type {Signs | null} */
  #told = null;
  /** @type {Layout | null} */
  #chosen = kept();
  /** @type {Map<string, string>} */
  #learned = new Map();
  /** @type {Signs} */
  #signs;

  /** @param {() => void} changed called when other letters are known */
  constructor(changed) {
    this.#changed = changed;
    this.#signs = this.#reckon();
    this.#ask();
  }

  get signs() {
    return this.#signs;
  }

  /** Whether the browser tells its keyboard by itself. */
  get told() {
    return this.#told !== null;
  }

  /** @returns {Layout | null} what somebody has chosen */
  get chosen() {
    return this.#chosen;
  }

  /** Whether the letters may be others: nobody has said so far. */
  get unsure() {
    return !this.told && this.#chosen === null;
  }

  /** @returns {Layout} what counts where the browser does not tell and nobody has chosen */
  get guess() {
    return layoutOf(this.#learned, guessed(navigator.languages));
  }

  /** @param {Layout | null} layout null: as the browser tells, or as it seems */
  choose(layout) {
    this.#chosen = layout;
    this.#learned.clear();
    if (layout === null) lasting.removeItem(KEPT);
    else lasting.setItem(KEPT, layout);
    this.#renew();
  }

  /**
   * What a key types it also shows. One that contradicts what is known can speak for a whole
   * layout, else for itself alone.
   * @param {Pick<KeyboardEvent, "code" | "key" | "shiftKey" | "ctrlKey" | "altKey" | "metaKey">} event
   */
  learn({ code, key, shiftKey, ctrlKey, altKey, metaKey }) {
    const plain = !shiftKey && !ctrlKey && !altKey && !metaKey && /^[\p{L}\p{P}\p{S}]$/u.test(key);
    // The French digits type other signs than the ones that they are known by.
    if (this.told || !plain || /^(Numpad|Digit)/.test(code)) return;
    const sign = key.toLowerCase();
    if (this.#signs.get(code) === sign) return;
    this.#learned.set(code, sign);
    this.#renew();
  }

  #renew() {
    this.#signs = this.#reckon();
    this.#changed();
  }

  /** @returns {Signs} */
  #reckon() {
    const whole = this.#chosen === null ? (this.#told ?? signsOn(this.guess)) : signsOn(this.#chosen);
    return new Map([...whole, ...this.#learned]);
  }

  /** Only on a trusted address, and not in every browser. */
  #ask() {
    const { keyboard } = /** @type {{ keyboard?: { getLayoutMap(): Promise<Signs> } }} */ (navigator);
    void keyboard?.getLayoutMap().then(
      (signs) => {
        if (signs.size === 0) return;
        this.#told = signs;
        this.#learned.clear();
        this.#renew();
      },
      (error) => console.info(`this browser does not tell its keyboard: ${String(error)}`),
    );
  }
}

/** @returns {Layout | null} */
function kept() {
  const name = lasting.getItem(KEPT);
  return name !== null && name in LAYOUT_WORDS ? /** @type {Layout} */ (name) : null;
}

/** A guess that can be seen and changed: what keyboards are usual where the language is. @param {readonly string[]} languages @returns {Layout} */
export function guessed([first = ""]) {
  if (/^fr(-(FR|BE))?$/i.test(first)) return "azerty";
  return /^de\b/i.test(first) ? "qwertz" : "qwerty";
}
