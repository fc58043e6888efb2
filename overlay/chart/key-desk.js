// The keys in use, and the dialog in which a charter changes them. Every page that
// is charted on has one; all share the choice kept in this browser. Decides which
// key presses are meant for charting. Knows nothing about a match.

/** @import { Keys } from "./keys.js" */
import { make } from "../shared/dom.js";
import { offer } from "./files.js";
import { KeyCard } from "./key-card.js";
import { SCHEME, actionFor, defaultKeys, keepKeys, keysText, parseKeys, readKeys, remap } from "./keys.js";

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

  /** @param {() => void} redraw called when other keys are in use */
  constructor(redraw) {
    this.#redraw = redraw;
    this.#card.show(this.keys, this.layout);
    this.#dialog = make("dialog", { class: "keys", "aria-label": "Keys" }, this.#form());
    // The button that opened it would take the next space bar for itself.
    this.#dialog.addEventListener("close", leaveFocus);
    document.body.append(this.#dialog);
    this.#askForLayout();
  }

  show() {
    this.#dialog.showModal();
  }

  /** @param {KeyboardEvent} event @returns {string | null} what it means for the chart, null: nothing */
  actionOf(event) {
    if (this.#remapping !== null) {
      this.#remap(event, this.#remapping);
      return null;
    }
    if (!this.keys.on || event.ctrlKey || event.metaKey || event.altKey || document.querySelector("dialog[open]") !== null) return null;
    const { target } = event;
    if (target instanceof HTMLInputElement || target instanceof HTMLSelectElement) return null;
    if (target instanceof HTMLButtonElement && (event.code === "Enter" || event.code === "Space")) return null;
    return actionFor(this.keys, event.code);
  }

  /** @param {KeyboardEvent} event @param {string} action */
  #remap(event, action) {
    event.preventDefault();
    this.#remapping = null;
    if (event.code === "Escape") this.#words.textContent = "Nothing changed";
    else {
      this.#choose(remap(this.keys, action, event.code));
      this.#words.textContent = `Now ${event.code}`;
    }
  }

  /** @param {Keys} keys */
  #choose(keys) {
    this.keys = keys;
    keepKeys(keys);
    this.#changed();
  }

  #changed() {
    this.#card.show(this.keys, this.layout);
    this.#redraw();
  }

  #form() {
    const single = make("input", { type: "checkbox", name: "on" });
    single.checked = this.keys.on;
    single.addEventListener("change", () => this.#choose({ ...this.keys, on: single.checked }));
    const choice = make("select", { name: "action" });
    for (const { action, words } of SCHEME) {
      choice.append(make("option", { value: action }, words.replace("{a}", "first team").replace("{b}", "second team")));
    }
    const file = make("input", { name: "file", type: "file", accept: ".json" });
    file.addEventListener("change", () => void this.#load(file));
    return make("form", { method: "dialog" },
      make("label", {}, single, " Single keys work (off: buttons only)"),
      make("label", {}, "Action ", choice),
      button("Press its new key …", "remap", () => {
        this.#remapping = choice.value;
        this.#words.textContent = "Press the key now; Escape changes nothing";
      }),
      this.#words,
      button("Save keys as a file", "keys-save", () => offer("keys.json", keysText(this.keys))),
      make("label", {}, "Keys from a file ", file),
      button("As they were made", "keys-default", () => this.#choose(defaultKeys())),
      button("Print the key card", "print", () => {
        this.#dialog.close();
        print();
      }),
      make("button", { value: "" }, "Close"));
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
    const { keyboard } = /** @type {{ keyboard?: { getLayoutMap(): Promise<ReadonlyMap<string, string>> } }} */ (navigator);
    void keyboard?.getLayoutMap().then((map) => {
      this.layout = map;
      this.#changed();
    }, (error) => console.info(`this browser does not tell its keyboard: ${String(error)}`));
  }
}

/** Gives no part of the page the focus, so that the next key is one for the chart. */
export function leaveFocus() {
  if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
}

/** @param {string} words @param {string} name @param {() => void} act */
function button(words, name, act) {
  const made = make("button", { type: "button", "data-do": name }, words);
  made.addEventListener("click", act);
  return made;
}
