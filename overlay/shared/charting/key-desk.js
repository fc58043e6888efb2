// The keys in use, and the dialogs in which a charter changes them and looks them up. Every
// page that is charted on has one; all share the choice kept in this browser. Decides which
// key presses are meant for charting. Knows nothing about a match.

/**
 * @import { Score } from "../../types/messages.js"
 * @import { Hands } from "./court-view.js"
 * @import { Keys } from "./keys.js"
 * @import { Arrangement } from "./presets.js"
 * @import { Settings } from "./settings.js"
 */
import { make } from "../dom.js";
import { html, render } from "../html.js";
import { offer } from "./files.js";
import { keyCard, lessons } from "./key-card.js";
import { keyForm, wordsOf } from "./key-form.js";
import {
  actionFor,
  defaultKeys,
  isChanged,
  keepKeys,
  keysAt,
  keysText,
  mayMean,
  parseKeys,
  readKeys,
  remap,
} from "./keys.js";
import { keySign } from "./layouts.js";
import { Letters } from "./letters.js";
import { HANDS, STROKES } from "./presets.js";
import { keepSettings, readSettings } from "./settings.js";

export class KeyDesk {
  /** @type {Keys} */
  keys = readKeys();
  /** @type {Settings} */
  settings = readSettings();
  /** What is printed on the keys. */
  letters;
  #redraw;
  #card = make("div", { class: "card-place" });
  #dialog = make("dialog", { class: "keys", "aria-labelledby": "keys-heading" });
  #help = make("dialog", { class: "key-help", "aria-labelledby": "key-help-heading" });
  #words = "";
  #chosen = "next";
  /** The action whose new key is awaited. @type {string | null} */
  #remapping = null;

  /** @param {() => void} redraw called when other keys are in use */
  constructor(redraw) {
    this.#redraw = redraw;
    this.letters = new Letters(() => this.#changed());
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
  }

  get layout() {
    return this.letters.signs;
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
    this.letters.learn(event);
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
    if (target instanceof HTMLButtonElement && /^(Enter|NumpadEnter|Space)$/.test(event.code)) return null;
    return actionFor(hands.keys, event.code);
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
    const exchanged =
      other === null || other === action ? "" : `; \u201c${wordsOf(this.keys, other)}\u201d has ${had} now`;
    this.#choose(
      remap(this.keys, action, event.code),
      `\u201c${wordsOf(this.keys, action)}\u201d has ${sign} now${exchanged}`,
    );
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

  /**
   * Another arrangement, as a whole: single keys that were changed are not carried over,
   * since what lies beside them is something else now.
   * @param {Partial<Arrangement>} change
   */
  arrange(change) {
    const lost = isChanged(this.keys) ? ". Keys you had changed are at its places again" : "";
    const next = { ...defaultKeys({ ...this.keys, ...change }), on: this.keys.on };
    this.#choose(next, `In use: ${HANDS[next.hand]}; ${STROKES[next.strokes]}${lost}`);
  }

  #draw() {
    render(keyCard(this.keys, this.layout), this.#card);
    render(this.#form(), this.#dialog);
    render(helpWords(lessons(this.keys, (action) => keySign(this.keys.codes[action] ?? "", this.layout))), this.#help);
  }

  #form() {
    const { keys, settings, letters } = this;
    return keyForm(
      { keys, settings, letters, words: this.#words, action: this.#chosen },
      {
        arrange: (change) => this.arrange(change),
        switchOn: (on) => this.#choose({ ...this.keys, on }, ""),
        set: (change) => this.set(change),
        chooseAction: (action) => (this.#chosen = action),
        remap: () => this.#await(),
        save: () => offer("keys.json", keysText(this.keys)),
        load: (file) => void this.#load(file),
        reset: () =>
          this.#choose({ ...defaultKeys(this.keys), on: this.keys.on }, "Every key is where its arrangement has it"),
        print: () => this.#print(),
      },
    );
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
}

/** Gives no part of the page the focus, so that the next key is one for the chart. */
export function leaveFocus() {
  if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
}

/** What is known nowhere else on the page: the cues and the strokes a newcomer asks about. */
const MEANINGS = [
  ["high ball", "this shot sends a ball so high that the opponents can hit down on it"],
  ["off balance", "whoever hit it was stretched, lunging or falling"],
  ["awkward", "the ball was behind them, too close, or they reached too far over it"],
  ["net cord", "the ball touched the net on its way over; it counts for nobody"],
  ["drop · reset", "soft, to land in the kitchen: a drop from deep, a reset under attack"],
  ["speedup", "the first fast ball out of a soft exchange"],
  ["erne", "a volley from beside the kitchen"],
  ["around the post", "past the net post instead of over the net"],
];

/** @param {unknown} order the lessons of the key card */
const helpWords = (order) => html`
  <form method="dialog">
    <h2 id="key-help-heading">What the keys mean</h2>
    <div class="lessons">${order}</div>
    <dl>${MEANINGS.map(([word, meaning]) => html`<dt>${word}</dt><dd>${meaning}</dd>`)}</dl>
    <button value="">Close</button>
  </form>`;
