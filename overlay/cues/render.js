// Draws the page: everything shown follows from one `View`, the halves and the keys.

/**
 * @import { MatchHeader } from "../types/messages.js"
 * @import { Press } from "./presses.js"
 * @import { View } from "./session.js"
 * @import { Half, Team } from "./sides.js"
 */
import { html, nothing, render, repeat } from "../shared/html.js";
import { CUES, DEPTHS, wordFor } from "../shared/trade-words.js";
import { teamName } from "../shared/words.js";
import { CUE_ORDER } from "./keys.js";
import { lastPress } from "./presses.js";
import { STOPPED } from "./session.js";
import { gateWords, lineWords, noMatchWords, pressWords, scoreWords, standing, whatWords } from "./words.js";

/**
 * @typedef {object} Look
 * @property {Record<Half, Team>} halves
 * @property {(half: Half | null, what: string) => string} sign what is printed on a key; nothing where keys are switched off
 */

/** Presses in words: as many as fit on the smallest screen. */
const SHOWN = 4;

/** @param {HTMLElement} place @param {View} view @param {Look} look */
export function draw(place, view, look) {
  render(STOPPED.has(view.line) ? gate(view) : board(view, look), place);
}

/** @param {View} view */
function gate(view) {
  const [heading, ...sentences] = gateWords(view);
  return html`<section class="gate card" aria-label="Stopped">
    <h2>${heading}</h2>
    ${sentences.map((sentence) => html`<p>${sentence}</p>`)}
    <button type="button" class="chief" data-do="take-over">Take over the cues</button>
  </section>`;
}

/** @param {View} view @param {Look} look */
function board(view, look) {
  const { match } = view;
  if (match === null) return html`<p class="quiet wait">${noMatchWords(view)}</p>`;
  return html`
    <div class="told">
      <p class="call">${scoreWords(match, view.score)}</p>
      ${recent(view)}
    </div>
    <div class="pad">
      ${(/** @type {const} */ (["left", "right"])).map((half) => halfPad(view, match, half, look))}
    </div>
    <div class="foot">${undoKey(view, look)}</div>
  `;
}

/** @param {View} view */
function recent({ match, presses, moments, message }) {
  const shown = presses
    .filter(({ state }) => state !== "undone")
    .slice(-SHOWN)
    .reverse();
  return html`
    <ol class="recent" aria-label="Marked last">
      ${repeat(
        shown,
        ({ place }) => place,
        (press) => html`<li data-standing=${standing(press)}>
          <span>${pressWords(match, press, moments)}</span>
          ${press.lost ? offers(press) : nothing}
        </li>`,
      )}
      ${shown.length === 0 ? html`<li class="quiet">Mark what you see; it finds its shot by itself.</li>` : nothing}
    </ol>
    <p class="news" role="status">${message}</p>
  `;
}

/** @param {Press} press */
const offers = ({ place, kind }) => html`<span class="offers">
  <button type="button" data-do="drop" data-place=${place}>Drop</button>
  ${kind === "cue" ? html`<button type="button" data-do="note" data-place=${place}>Keep as a note</button>` : nothing}
</span>`;

/** @param {View} view @param {MatchHeader} match @param {Half} half @param {Look} look */
function halfPad(view, match, half, { halves, sign: signOf }) {
  const team = halves[half];
  const sign = (/** @type {string} */ what) => keyed(signOf(half, what));
  return html`<section class="half" data-team=${team} aria-label=${teamName(match, team)}>
    <h2>${teamName(match, team)}</h2>
    ${CUE_ORDER.map(
      (cue) => html`<button type="button" class="cue" data-press=${cue} data-half=${half}>
        <span>${wordFor(CUES, cue)}</span>${sign(cue)}
      </button>`,
    )}
    <button type="button" class="depth" data-press="depth" data-half=${half}>
      <span>They stand: <b>${wordFor(DEPTHS, view.depths[team])}</b></span>${sign("depth")}
    </button>
  </section>`;
}

/** @param {string} sign */
const keyed = (sign) => (sign === "" ? nothing : html`<kbd>${sign}</kbd>`);

/** @param {View} view @param {Look} look */
function undoKey({ presses, match }, { sign }) {
  const press = lastPress(presses);
  const what = press === undefined ? "" : ` ${whatWords(press)}, ${teamName(match, press.team)}`;
  return html`<button type="button" class="undo" data-press="undo" ?disabled=${press === undefined}>
    <span>Undo${what}</span>${keyed(sign(null, "undo"))}
  </button>`;
}

/** @param {View} view */
export const lineOf = (view) => ({ words: lineWords(view), state: view.feed === "lost" ? "lost" : view.line });
