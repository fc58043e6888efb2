// The dialog in which a charter chooses an arrangement of the keys, the letters on them, and
// other keys one by one. Drawn from one state; what is done about it is the desk's
// (key-desk.js).

/**
 * @import { Keys } from "./keys.js"
 * @import { Layout } from "./layouts.js"
 * @import { Letters } from "./letters.js"
 * @import { Arrangement, Hand, Strokes } from "./presets.js"
 * @import { Settings } from "./settings.js"
 */
import { html, live } from "../html.js";
import { LAYOUT_WORDS } from "./layouts.js";
import { HANDS, STROKES, schemeOf } from "./presets.js";

/**
 * @typedef {object} FormState
 * @property {Keys} keys
 * @property {Settings} settings
 * @property {Letters} letters
 * @property {string} words said about what was done last
 * @property {string} action whose key would be changed
 */
/**
 * @typedef {object} Doing
 * @property {(change: Partial<Arrangement>) => void} arrange
 * @property {(on: boolean) => void} switchOn
 * @property {(change: Partial<Settings>) => void} set
 * @property {(action: string) => void} chooseAction
 * @property {() => void} remap
 * @property {() => void} save
 * @property {(file: HTMLInputElement) => void} load
 * @property {() => void} reset
 * @property {() => void} print
 */

/** @param {FormState} state @param {Doing} doing */
export const keyForm = ({ keys, settings, letters, words, action }, doing) => html`
  <form method="dialog">
    <h2 id="keys-heading">Shortcuts</h2>
    <label>
      Keys
      <select name="hand" @change=${chosen((value) => doing.arrange({ hand: /** @type {Hand} */ (value) }))}>
        ${options(HANDS, keys.hand)}
      </select>
    </label>
    <label>
      Strokes
      <select name="strokes" @change=${chosen((value) => doing.arrange({ strokes: /** @type {Strokes} */ (value) }))}>
        ${options(STROKES, keys.strokes)}
      </select>
    </label>
    ${lettersField(letters)}
    <label class="tick">
      <input type="checkbox" name="on" .checked=${live(keys.on)} @change=${ticked(doing.switchOn)} />
      Single keys work (off: buttons only)
    </label>
    <label class="tick">
      <input type="checkbox" name="arrows" .checked=${live(settings.arrowsFollow)}
        @change=${ticked((arrowsFollow) => doing.set({ arrowsFollow }))} />
      Arrows change over when the teams change ends
    </label>
    <label>
      Change a single key
      <select name="action" @change=${chosen(doing.chooseAction)}>
        ${schemeOf(keys).map((key) => html`<option value=${key.action} .selected=${live(key.action === action)}>${plain(key.words)}</option>`)}
      </select>
    </label>
    <button type="button" data-do="remap" @click=${doing.remap}>Record new key …</button>
    <p class="keys-words" role="status">${words}</p>
    <div class="row">
      <button type="button" data-do="keys-save" @click=${doing.save}>Export</button>
      <label>Import <input name="file" type="file" accept=".json" @change=${(/** @type {Event} */ { target }) => doing.load(/** @type {HTMLInputElement} */ (target))} /></label>
    </div>
    <div class="row">
      <button type="button" data-do="keys-default" @click=${doing.reset}>Reset</button>
      <button type="button" data-do="print" @click=${doing.print}>Print the key card</button>
      <button value="">Close</button>
    </div>
  </form>`;

/** The choice of letters, also on pages of its own. @param {Letters} letters */
export const lettersField = (letters) => html`
  <label>
    Letters on your keyboard
    <select name="letters" @change=${chosen((value) => letters.choose(value === "" ? null : /** @type {Layout} */ (value)))}>
      <option value="" .selected=${live(letters.chosen === null)}>${letters.told ? "as this browser tells" : `it seems ${LAYOUT_WORDS[letters.guess]}`}</option>
      ${Object.entries(LAYOUT_WORDS).map(([name, one]) => html`<option value=${name} .selected=${live(letters.chosen === name)}>${one}</option>`)}
    </select>
  </label>`;

/** @param {Keys} keys @param {string} action */
export const wordsOf = (keys, action) => plain(schemeOf(keys).find((key) => key.action === action)?.words ?? action);

/** @param {string} words of a key, where no match says whose */
export const plain = (words) => words.replace("{a}", "first team").replace("{b}", "second team");

/** @param {Readonly<Record<string, string>>} named @param {string} value */
const options = (named, value) =>
  Object.entries(named).map(
    ([name, words]) => html`<option value=${name} .selected=${live(name === value)}>${words}</option>`,
  );

/** @param {(value: string) => void} act */
const chosen =
  (act) =>
  (/** @type {Event} */ { target }) =>
    act(/** @type {HTMLSelectElement} */ (target).value);

/** @param {(on: boolean) => void} act */
const ticked =
  (act) =>
  (/** @type {Event} */ { target }) =>
    act(/** @type {HTMLInputElement} */ (target).checked);
