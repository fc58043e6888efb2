// Which statistics of the plugins stand on the graphic: chosen from what the plugins
// provide, or by name.

/** @import { Desk } from "../host/desk.js" */
import { labelled, textField } from "../../shared/fields.js";
import { html, live } from "../../shared/html.js";
import { isIndicatorName } from "../../shared/options.js";
import { changeGraphic, compose } from "./composition.js";
import { numberWords, offeredNumbers } from "./numbers.js";

/** @param {Desk} desk */
export function numberList(desk) {
  const { graphic } = desk.state;
  const { show } = graphic.now;
  return html`<fieldset>
    <legend>Extra statistics</legend>
    <p class="advice">Each is shown as soon as there is a figure for it.</p>
    <ul class="numbers">
      ${show.map(
        (name) =>
          html`<li>
            <span>${numberWords(name)}</span>
            <button
              type="button"
              aria-label=${`Remove: ${numberWords(name)}`}
              @click=${() => {
                compose(desk, { show: show.filter((one) => one !== name) });
                focus("number-pick");
              }}
            >
              Remove
            </button>
          </li>`,
      )}
    </ul>
    ${show.length > 0 ? "" : html`<p class="quiet">None yet.</p>`} ${pick(desk)}
    <details class="more">
      <summary>Another one, by its name in a plugin</summary>
      <form class="together" novalidate @submit=${(/** @type {SubmitEvent} */ event) => addTyped(desk, event)}>
        ${textField({
          id: "number-name",
          label: "Indicator name",
          value: graphic.name.text,
          fault: graphic.name.fault,
          isCode: true,
          advice: "As the plugin's author wrote it, a slot behind a slash: third.won/drop",
          put: (text) => changeGraphic(desk, { name: { text, fault: "" } }),
        })}
        <button aria-label="Add the named statistic">Add</button>
      </form>
    </details>
  </fieldset>`;
}

/** @param {Desk} desk */
function pick(desk) {
  const { graphic, plugins } = desk.state;
  const offered = offeredNumbers(plugins?.plugins ?? [], graphic.readings);
  const chosen = offered.find(({ name }) => name === graphic.pick) ?? offered[0];
  const select = html`<select
    id="number-pick"
    aria-describedby="number-pick-fault"
    @change=${(/** @type {Event} */ event) =>
      changeGraphic(desk, { pick: /** @type {HTMLSelectElement} */ (event.target).value })}
  >
    ${[...new Set(offered.map(({ plugin }) => plugin))].map(
      (plugin) =>
        html`<optgroup label=${plugin}>
          ${offered
            .filter((one) => one.plugin === plugin)
            .map(
              ({ name, words }) =>
                html`<option value=${name} .selected=${live(name === chosen?.name)}>${words}</option>`,
            )}
        </optgroup>`,
    )}
  </select>`;
  return html`<div class="together">
    ${labelled({ id: "number-pick", label: "Add a statistic" }, select)}
    <button type="button" aria-label="Add the chosen statistic" @click=${() => add(desk, chosen?.name ?? "")}>Add</button>
  </div>`;
}

/** @param {Desk} desk @param {string} name */
function add(desk, name) {
  const { show } = desk.state.graphic.now;
  if (name !== "" && !show.includes(name)) compose(desk, { show: [...show, name] });
}

/** @param {Desk} desk @param {SubmitEvent} event */
function addTyped(desk, event) {
  event.preventDefault();
  const name = desk.state.graphic.name.text.trim();
  const fault = isIndicatorName(name)
    ? ""
    : "A name of small letters, digits, - and _, parts joined by dots, such as rally.longest or third.won/drop.";
  changeGraphic(desk, { name: { text: fault === "" ? "" : name, fault } });
  if (fault === "") add(desk, name);
  else focus("number-name");
}

/** @param {string} id */
const focus = (id) => document.getElementById(id)?.focus();
