// The keys in use on the second seat's page, and the dialog in which a person chooses and
// changes them. Knows nothing about a match.

/** @import { CueKeys, Hands, Meaning } from "./keys.js" */
import { lettersField } from "../shared/charting/key-form.js";
import { actionFor, mayMean, remap } from "../shared/charting/keys.js";
import { keySign } from "../shared/charting/layouts.js";
import { Letters } from "../shared/charting/letters.js";
import { make } from "../shared/dom.js";
import { html, live, render } from "../shared/html.js";
import { HANDS, MEANINGS, keepKeys, meaningOf, meaningWords, readKeys, usualKeys } from "./keys.js";

export class CueKeyDesk {
  /** @type {CueKeys} */
  keys = readKeys();
  letters;
  #redraw;
  #dialog = make("dialog", { class: "keys", "aria-labelledby": "cue-keys-heading" });
  #words = "";
  #chosen = MEANINGS[0]?.action ?? "";
  /** The action whose new key is awaited. @type {string | null} */
  #remapping = null;

  /** @param {() => void} redraw called when other keys are in use */
  constructor(redraw) {
    this.#redraw = redraw;
    this.letters = new Letters(() => this.#changed());
    document.body.append(this.#dialog);
    this.#dialog.addEventListener("close", () => {
      this.#remapping = null;
    });
    this.#draw();
  }

  show() {
    this.#say("");
    this.#dialog.showModal();
  }

  /** @param {KeyboardEvent} event @returns {Meaning | undefined} what it means for the match */
  meaningOf(event) {
    this.letters.learn(event);
    if (this.#remapping !== null) {
      this.#remap(event, this.#remapping);
      return undefined;
    }
    const { target, code } = event;
    const busy = target instanceof Element && target.closest("input, select, textarea") !== null;
    // The space bar presses the button that has the focus.
    const pressing =
      target instanceof HTMLElement && target.closest("button, summary") !== null && /^(Space|Enter)$/.test(code);
    if (!this.keys.on || busy || pressing || this.#dialog.open) return undefined;
    if (event.repeat || event.ctrlKey || event.metaKey || event.altKey) return undefined;
    return meaningOf(this.keys, code);
  }

  /** @param {string} code @returns {string} as it is printed on the key */
  sign(code) {
    return keySign(code, this.letters.signs);
  }

  /** @param {boolean} on */
  switchOn(on) {
    this.#choose({ ...this.keys, on }, "");
  }

  /** @param {KeyboardEvent} event @param {string} action */
  #remap(event, action) {
    event.preventDefault();
    const { code } = event;
    if (code === "Escape") {
      this.#remapping = null;
      return this.#say("Nothing has changed");
    }
    if (!mayMean(code)) return this.#say(`${this.sign(code)} has to stay as it is: press another key, or Escape`);
    this.#remapping = null;
    const other = actionFor(this.keys, code);
    const had = this.sign(this.keys.codes[action] ?? "");
    const exchanged = other === null || other === action ? "" : `; \u201c${wordsOf(other)}\u201d has ${had} now`;
    this.#choose(
      remap(this.keys, action, code),
      `\u201c${wordsOf(action)}\u201d has ${this.sign(code)} now${exchanged}`,
    );
  }

  /** @param {CueKeys} keys @param {string} words said about it */
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

  /** @param {Hands} hands */
  #arrange(hands) {
    this.#choose({ ...usualKeys(hands), on: this.keys.on }, `In use: ${HANDS[hands]}`);
  }

  #draw() {
    render(
      html`
        <form method="dialog">
          <h2 id="cue-keys-heading">Shortcuts</h2>
          <label>
            Keys
            <select name="hands" @change=${chosen((value) => this.#arrange(/** @type {Hands} */ (value)))}>
              ${Object.entries(HANDS).map(([name, words]) => html`<option value=${name} .selected=${live(name === this.keys.hands)}>${words}</option>`)}
            </select>
          </label>
          ${lettersField(this.letters)}
          <label class="tick">
            <input type="checkbox" name="keys" .checked=${live(this.keys.on)}
              @change=${(/** @type {Event} */ { target }) => this.switchOn(/** @type {HTMLInputElement} */ (target).checked)} />
            Single keys work (off: buttons only)
          </label>
          <label>
            Change a single key
            <select name="action" @change=${chosen((value) => (this.#chosen = value))}>
              ${MEANINGS.map((meaning) => html`<option value=${meaning.action} .selected=${live(meaning.action === this.#chosen)}>${meaningWords(meaning)}</option>`)}
            </select>
          </label>
          <button type="button" data-do="remap" @click=${() => this.#await()}>Record new key …</button>
          <p class="keys-words" role="status">${this.#words}</p>
          <div class="row">
            <button type="button" data-do="keys-default" @click=${() => this.#arrange(this.keys.hands)}>Reset</button>
            <button value="">Close</button>
          </div>
        </form>`,
      this.#dialog,
    );
  }

  #await() {
    this.#remapping = this.#chosen;
    this.#say("Press the key now; Escape changes nothing");
  }
}

/** @param {string} action */
function wordsOf(action) {
  const meaning = MEANINGS.find((one) => one.action === action);
  return meaning === undefined ? action : meaningWords(meaning);
}

/** @param {(value: string) => void} act */
const chosen =
  (act) =>
  (/** @type {Event} */ { target }) =>
    act(/** @type {HTMLSelectElement} */ (target).value);
