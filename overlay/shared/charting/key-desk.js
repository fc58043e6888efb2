// The keys in use, and the dialog in which a charter changes them. Every page that
// is charted on has one; all share the choice kept in this browser. Decides which
// key presses are meant for charting. Knows nothing about a match.

/** @import { Keys } from "./keys.js" */
import { make } from "../dom.js";
import { offer } from "./files.js";
import { KeyCard } from "./key-card.js";
import {
  SCHEME,
  actionFor,
  defaultKeys,
  keepKeys,
  keySign,
  keysText,
  mayMean,
  parseKeys,
  readKeys,
  remap,
} from "./keys.js";

export class KeyDesk {
  /** @type {Keys} */
  keys = readKeys();
  /** The browser's own map of the keyboard, where it tells. @type {ReadonlyMap<string, string> | null} */
  layout = null;
  #redraw;
  #card = new KeyCard(document.body);
  #dialog;
  #words = make("p", { class: "keys-words", role: "status" });
  /** The action whose new key is awaited. @type {string | null} */
  #remapping = null;
  /** Whether the browser tells its keyboard by itself. */
  #told = false;
  #single = make("input", { type: "checkbox", name: "on" });

  /** @param {() => void} redraw called when other keys are in use */
  constructor(redraw) {
    this.#redraw = redraw;
    this.#card.show(this.keys, this.layout);
    this.#dialog = make("dialog", { class: "keys", "aria-labelledby": "keys-heading" }, this.#form());
    // The button that opened it would take the next space bar for itself.
    this.#dialog.addEventListener("close", () => {
      this.#remapping = null;
      leaveFocus();
    });
    document.body.append(this.#dialog);
    this.#askForLayout();
  }

  show() {
    this.#words.textContent = "";
    this.#dialog.showModal();
  }

  /** @param {KeyboardEvent} event @returns {string | null} what it means for the chart, null: nothing */
  actionOf(event) {
    this.#learn(event);
    if (this.#remapping !== null) {
      this.#remap(event, this.#remapping);
      return null;
    }
    if (
      !this.keys.on ||
      event.ctrlKey ||
      event.metaKey ||
      event.altKey ||
      document.querySelector("dialog[open]") !== null
    )
      return null;
    const { target } = event;
    if (target instanceof HTMLInputElement || target instanceof HTMLSelectElement) return null;
    if (target instanceof HTMLButtonElement && (event.code === "Enter" || event.code === "Space")) return null;
    return actionFor(this.keys, event.code);
  }

  /** Where the browser does not tell its keyboard, every key tells its own letter. @param {KeyboardEvent} event */
  #learn({ code, key, shiftKey, ctrlKey, altKey }) {
    if (this.#told || shiftKey || ctrlKey || altKey || !/^[\p{L}\p{N}\p{P}\p{S}]$/u.test(key)) return;
    if (this.layout?.get(code) === key || keySign(code, this.layout) === key.toUpperCase()) return;
    this.layout = new Map([...(this.layout ?? []), [code, key]]);
    this.#changed();
  }

  /** @param {KeyboardEvent} event @param {string} action */
  #remap(event, action) {
    event.preventDefault();
    if (event.code === "Escape") {
      this.#remapping = null;
      this.#words.textContent = "Nothing has changed";
      return;
    }
    const sign = keySign(event.code, this.layout);
    if (!mayMean(event.code)) {
      this.#words.textContent = `${sign} has to stay as it is: press another key, or Escape`;
      return;
    }
    this.#remapping = null;
    const other = actionFor(this.keys, event.code);
    const had = keySign(this.keys.codes[action] ?? "", this.layout);
    this.#choose(remap(this.keys, action, event.code));
    const exchanged = other === null || other === action ? "" : `; \u201c${wordsOf(other)}\u201d has ${had} now`;
    this.#words.textContent = `\u201c${wordsOf(action)}\u201d has ${sign} now${exchanged}`;
  }

  /** @param {Keys} keys */
  #choose(keys) {
    this.keys = keys;
    this.#single.checked = keys.on;
    keepKeys(keys);
    this.#changed();
  }

  #changed() {
    this.#card.show(this.keys, this.layout);
    this.#redraw();
  }

  #form() {
    this.#single.checked = this.keys.on;
    this.#single.addEventListener("change", () => this.#choose({ ...this.keys, on: this.#single.checked }));
    const choice = make("select", { name: "action" });
    for (const { action } of SCHEME) choice.append(make("option", { value: action }, wordsOf(action)));
    const file = make("input", { name: "file", type: "file", accept: ".json" });
    file.addEventListener("change", () => void this.#load(file));
    return make(
      "form",
      { method: "dialog" },
      make("h2", { id: "keys-heading" }, "Keys"),
      make("label", { class: "tick" }, this.#single, " Single keys work (off: buttons only)"),
      make("label", {}, "Action ", choice),
      button("Press its new key …", "remap", () => {
        this.#remapping = choice.value;
        this.#words.textContent = "Press the key now; Escape changes nothing";
      }),
      this.#words,
      button("Save keys as a file", "keys-save", () => offer("keys.json", keysText(this.keys))),
      make("label", {}, "Keys from a file ", file),
      button("Back to the keys as they came", "keys-default", () => {
        this.#choose(defaultKeys());
        this.#words.textContent = "The keys are as they came";
      }),
      button("Print the key card", "print", () => {
        this.#dialog.close();
        print();
      }),
      make("button", { value: "" }, "Close"),
    );
  }

  /** @param {HTMLInputElement} file */
  async #load(file) {
    try {
      this.#choose(parseKeys((await file.files?.[0]?.text()) ?? ""));
      this.#words.textContent = "These keys are in use now";
    } catch (error) {
      this.#words.textContent = error instanceof Error ? error.message : String(error);
    }
  }

  /** Only on a trusted address, and not in every browser. */
  #askForLayout() {
    const { keyboard } = /** @type {{ keyboard?: { getLayoutMap(): Promise<ReadonlyMap<string, string>> } }} */ (
      navigator
    );
    void keyboard?.getLayoutMap().then(
      (map) => {
        this.#told = true;
        this.layout = map;
        this.#changed();
      },
      (error) => console.info(`this browser does not tell its keyboard: ${String(error)}`),
    );
  }
}

/** Gives no part of the page the focus, so that the next key is one for the chart. */
export function leaveFocus() {
  if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
}

/** @param {string} action */
const wordsOf = (action) =>
  (SCHEME.find((key) => key.action === action)?.words ?? action)
    .replace("{a}", "first team")
    .replace("{b}", "second team");

/** @param {string} words @param {string} name @param {() => void} act */
function button(words, name, act) {
  const made = make("button", { type: "button", "data-do": name }, words);
  made.addEventListener("click", act);
  return made;
}
