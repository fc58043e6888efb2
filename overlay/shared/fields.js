// Labelled fields of forms, drawn: the label, the control, a word of advice, and what
// is wrong with what was typed, beside it and told to those who listen. What stands in
// a field comes from the page's state and goes back to it with every key.

import { html, live, nothing } from "./html.js";

/**
 * @typedef {object} Field
 * @property {string} id unlike any other of the page
 * @property {string} label
 * @property {string} value
 * @property {(value: string) => void} put takes what was typed or chosen
 * @property {string} [advice]
 * @property {string} [fault] what is wrong with it; empty: nothing
 * @property {boolean} [disabled]
 */
/**
 * @typedef {object} Typed
 * @property {string} [type]
 * @property {"numeric" | "decimal"} [inputmode]
 * @property {string} [placeholder]
 * @property {number} [longest]
 * @property {boolean} [isCode] names and addresses: no spelling to correct
 * @property {string} [name]
 */

/** @param {Field & Typed} field */
export function textField(field) {
  const { id, value, put, fault = "", disabled = false, type = "text", longest, isCode = false } = field;
  return labelled(
    field,
    html`<input
      id=${id}
      type=${type}
      name=${field.name ?? nothing}
      autocomplete="off"
      spellcheck=${isCode ? "false" : nothing}
      inputmode=${field.inputmode ?? nothing}
      placeholder=${field.placeholder ?? nothing}
      maxlength=${longest ?? nothing}
      aria-describedby=${describedBy(field)}
      aria-invalid=${fault === "" ? nothing : "true"}
      ?disabled=${disabled}
      .value=${live(value)}
      @input=${(/** @type {InputEvent} */ event) => put(/** @type {HTMLInputElement} */ (event.target).value)}
    />`,
  );
}

/** @param {Field & { rows?: number }} field */
export function textArea(field) {
  const { id, value, put, fault = "", rows = 5 } = field;
  return labelled(
    field,
    html`<textarea
      id=${id}
      rows=${rows}
      spellcheck="false"
      wrap="off"
      aria-describedby=${describedBy(field)}
      aria-invalid=${fault === "" ? nothing : "true"}
      .value=${live(value)}
      @input=${(/** @type {InputEvent} */ event) => put(/** @type {HTMLTextAreaElement} */ (event.target).value)}
    ></textarea>`,
  );
}

/** @typedef {readonly (readonly [value: string, words: string])[]} Choices */

/** @param {Field & { choices: Choices }} field */
export function choiceField(field) {
  return labelled(field, choice(field));
}

/**
 * A choice without a label in sight.
 * @param {Omit<Field, "label"> & { label?: string, spoken?: string, choices: Choices }} field
 */
export function choice(field) {
  const { id, value, put, choices, fault = "", disabled = false, spoken } = field;
  return html`<select
    id=${id}
    aria-label=${spoken ?? nothing}
    aria-describedby=${spoken === undefined ? describedBy(field) : nothing}
    aria-invalid=${fault === "" ? nothing : "true"}
    ?disabled=${disabled}
    @change=${(/** @type {Event} */ event) => put(/** @type {HTMLSelectElement} */ (event.target).value)}
  >
    ${choices.map(([one, words]) => html`<option value=${one} .selected=${live(one === value)}>${words}</option>`)}
  </select>`;
}

/** @param {{ id: string, label: unknown, on: boolean, put: (on: boolean) => void, name?: string }} tick */
export function tick({ id, label, on, put, name }) {
  return html`<label class="tick">
    <input
      id=${id}
      type="checkbox"
      name=${name ?? nothing}
      .checked=${live(on)}
      @change=${(/** @type {Event} */ event) => put(/** @type {HTMLInputElement} */ (event.target).checked)}
    />${label}
  </label>`;
}

/** @param {Pick<Field, "id" | "label" | "advice" | "fault">} field @param {unknown} control */
export function labelled({ id, label, advice = "", fault = "" }, control) {
  return html`<div class="field">
    <label for=${id}>${label}</label>
    ${control}
    ${advice === "" ? nothing : html`<span class="advice" id=${`${id}-advice`}>${advice}</span>`}
    <span class="fault" id=${`${id}-fault`}>${fault}</span>
  </div>`;
}

/** @param {{ id: string, advice?: string }} field */
const describedBy = ({ id, advice = "" }) => `${advice === "" ? "" : `${id}-advice `}${id}-fault`;

/**
 * Puts the focus into the first field at fault inside, opening what hides it.
 * @param {ParentNode | null} inside
 */
export function focusFault(inside) {
  const first = inside?.querySelector("[aria-invalid='true']");
  if (!(first instanceof HTMLElement)) return;
  const details = first.closest("details");
  if (details !== null) details.open = true;
  first.focus();
}
