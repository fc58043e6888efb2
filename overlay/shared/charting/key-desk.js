// The keys in use, and the dialogs in which a charter changes them and looks them up. Every
// page that is charted on has one; all share the choice kept in this browser. Decides which
// key presses are meant for charting. Knows nothing about a match.

/**
 * @import { Score } from "../../types/messages.js"
 * @import { Hands } from "./court-view.js"
 * @import { Keys } from "./keys.js"
 * @import { Settings } from "./settings.js"
 */
import { make } from "../dom.js";
import { html, live, render } from "../html.js";
import { offer } from "./files.js";
import { keyCard, lessons } from "./key-card.js";
import {
  SCHEME,
  actionFor,
  defaultKeys,
  keepKeys,
  keySign,
  keysAt,
  keysText,
  mayMean,
  parseKeys,
  readKeys,
  remap,
} from "./keys.js";
import { keepSettings, readSettings } from "./settings.js";

export class KeyDesk {
  /** @type {Keys} */
  keys = readKeys();
  /** @type {Settings} */
  settings = readSettings();
  /** The browser's own map of the keyboard, where it tells. @type {ReadonlyMap<string, string> | null} */
  layout = null;
  #redraw;
  #card = make("div", { class: "card-place" });
  #dialog = make("dialog", { class: "keys", "aria-labelledby": "keys-heading" });
  #help = make("dialog", { class: "key-help", "aria-labelledby": "key-help-heading" });
  #words = "";
  #chosen = SCHEME[0]?.action ?? "";
  /** The action whose new key is awaited. @type {string | null} */
  #remapping = null;
  /** Whether the browser tells its keyboard by itself. */
  #told = false;

  /** @param {() => void} redraw called when other keys are in use */
  constructor(redraw) {
    this.#redraw = redraw;
    document.body.append(this.#dialog, this.#help, this.#card);
    // The button that opened it would take the next space bar for itself.
    for (const dialog of [this.#dialog, this.#help]) {
      dialog.addEventListener("close", () => {
        this.#remapping = null;
        leaveFocus();
      });
    }
    // The key that opened the help closes it, too.
    this.#help.addEventListener("keydown", (event) => {
      if (event.code !== this.keys.codes["help"]) return;
      event.preventDefault();
      event.stopPropagation();
      this.#help.close();
    });
    this.#draw();
    this.#askForLayout();
  }

  show() {
    this.#say("");
    this.#dialog.showModal();
  }

  /** What every key and sign means. */
  help() {
    this.#help.showModal();
  }

  /** @param {Partial<Settings>} change */
  set(change) {
    this.settings = { ...this.settings, ...change };
    keepSettings(this.settings);
    this.#changed();
  }

  /** @param {Pick<Score, "near"> | undefined} [score] where the teams change ends and the arrows go with them @returns {Hands} */
  hands(score) {
    const changed = this.settings.arrowsFollow && score?.near === "b";
    const { keysShown } = this.settings;
    return { keys: keysAt(this.keys, changed), layout: this.layout, left: changed ? "b" : "a", keysShown };
  }

  /** @param {KeyboardEvent} event @param {Hands} hands @returns {string | null} what it means for the chart, null: nothing */
  actionOf(event, hands) {
    this.#learn(event);
    if (this.#remapping !== null) {
      this.#remap(event, this.#remapping);
      return null;
    }
    if (
      !hands.keys.on ||
      event.ctrlKey ||
      event.metaKey ||
      event.altKey ||
      document.querySelector("dialog[open]") !== null
    )
      return null;
    const { target } = event;
    if (target instanceof HTMLInputElement || target instanceof HTMLSelectElement) return null;
    if (target instanceof HTMLButtonElement && (event.code === "Enter" || event.code === "Space")) return null;
    return actionFor(hands.keys, event.code);
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
      this.#say("Nothing has changed");
      return;
    }
    const sign = keySign(event.code, this.layout);
    if (!mayMean(event.code)) {
      this.#say(`${sign} has to stay as it is: press another key, or Escape`);
      return;
    }
    this.#remapping = null;
    const other = actionFor(this.keys, event.code);
    const had = keySign(this.keys.codes[action] ?? "", this.layout);
    const exchanged = other === null || other === action ? "" : `; \u201c${wordsOf(other)}\u201d has ${had} now`;
    this.#choose(remap(this.keys, action, event.code), `\u201c${wordsOf(action)}\u201d has ${sign} now${exchanged}`);
  }

  /** @param {Keys} keys @param {string} words said about it */
  #choose(keys, words) {
    this.keys = keys;
    keepKeys(keys);
    this.#words = words;
    this.#changed();
  }

  #changed() {
    this.#draw();
    this.#redraw();
  }

  /** @param {string} words */
  #say(words) {
    this.#words = words;
    this.#draw();
  }

  #draw() {
    render(keyCard(this.keys, this.layout), this.#card);
    render(this.#form(), this.#dialog);
    render(
      helpWords((action) => keySign(this.keys.codes[action] ?? "", this.layout)),
      this.#help,
    );
  }

  #form() {
    return html`
      <form method="dialog">
        <h2 id="keys-heading">Shortcuts</h2>
        <label class="tick">
          <input type="checkbox" name="on" .checked=${live(this.keys.on)}
            @change=${(/** @type {Event} */ { target }) => this.#choose({ ...this.keys, on: isTicked(target) }, "")} />
          Single keys work (off: buttons only)
        </label>
        <label class="tick">
          <input type="checkbox" name="arrows" .checked=${live(this.settings.arrowsFollow)}
            @change=${(/** @type {Event} */ { target }) => this.set({ arrowsFollow: isTicked(target) })} />
          Arrows change over when the teams change ends
        </label>
        <label>
          Action
          <select name="action" @change=${(/** @type {Event} */ { target }) => (this.#chosen = /** @type {HTMLSelectElement} */ (target).value)}>
            ${SCHEME.map(({ action }) => html`<option value=${action}>${wordsOf(action)}</option>`)}
          </select>
        </label>
        <button type="button" data-do="remap" @click=${() => this.#await()}>Record new key …</button>
        <p class="keys-words" role="status">${this.#words}</p>
        <button type="button" data-do="keys-save" @click=${() => offer("keys.json", keysText(this.keys))}>Export</button>
        <label>Import <input name="file" type="file" accept=".json" @change=${(/** @type {Event} */ { target }) => void this.#load(/** @type {HTMLInputElement} */ (target))} /></label>
        <button type="button" data-do="keys-default" @click=${() => this.#choose(defaultKeys(), "The keys are as they came")}>Reset</button>
        <button type="button" data-do="print" @click=${() => this.#print()}>Print the key card</button>
        <button value="">Close</button>
      </form>`;
  }

  #await() {
    this.#remapping = this.#chosen;
    this.#say("Press the key now; Escape changes nothing");
  }

  #print() {
    this.#dialog.close();
    print();
  }

  /** @param {HTMLInputElement} file */
  async #load(file) {
    try {
      this.#choose(parseKeys((await file.files?.[0]?.text()) ?? ""), "These keys are in use now");
    } catch (error) {
      this.#say(error instanceof Error ? error.message : String(error));
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

/** @param {EventTarget | null} target */
const isTicked = (target) => /** @type {HTMLInputElement} */ (target).checked;

/** What is known nowhere else on the page: the cues and the strokes a newcomer asks about. */
const MEANINGS = [
  ["high ball", "the ball this shot sends sits up: the opponents can hit down on it"],
  ["off balance", "whoever hit it was stretched, lunging or falling"],
  ["awkward", "the ball was behind them, too close, or they reached too far over it"],
  ["net cord", "the ball touched the net on its way over; it counts for nobody"],
  ["drop · reset", "soft, to land in the kitchen: a drop from deep, a reset under attack"],
  ["speedup", "the first fast ball out of a soft exchange"],
  ["erne", "a volley from beside the kitchen"],
  ["around the post", "past the net post instead of over the net"],
];

/** @param {(action: string) => string} sign */
const helpWords = (sign) => html`
  <form method="dialog">
    <h2 id="key-help-heading">What the keys mean</h2>
    <div class="lessons">${lessons(sign)}</div>
    <dl>${MEANINGS.map(([word, meaning]) => html`<dt>${word}</dt><dd>${meaning}</dd>`)}</dl>
    <button value="">Close</button>
  </form>`;
