// Practice for the second seat as it is drawn: the court, two halves of keys as on the cues
// page, what came of a rally and of a set.

/**
 * @import { MatchHeader, Team } from "../types/messages.js"
 * @import { Hands } from "../shared/charting/court-view.js"
 * @import { Half } from "../cues/sides.js"
 * @import { Judged } from "./marks.js"
 * @import { View } from "./seat.js"
 */
import { html, nothing } from "../shared/html.js";
import { CUE_ORDER } from "../cues/keys.js";
import { filmKeys } from "../shared/charting/film-keys.js";
import { said, teamName } from "../shared/charting/words.js";
import { CUES, wordFor } from "../shared/trade-words.js";
import { sumOf } from "./marks.js";
import { lagWords, seconds, seatAdvice, tempoWords } from "./words.js";

/** Team a plays from the left of the drawing. @type {Record<Half, Team>} */
export const SIDES = { left: "a", right: "b" };

const FILM = { "film:play": "play · pause", "film:slower": "slower", "film:faster": "faster" };

/**
 * @typedef {object} SeatState
 * @property {View} view
 * @property {Hands} hands of the keys for the picture
 * @property {(half: Half | null, what: string) => string} sign what is printed on a key; nothing where keys are switched off
 * @property {Node} drawing
 * @property {string} play the key that plays
 * @property {{ href: string, words: string }} back
 */

/** @param {SeatState} state */
export function seatPage(state) {
  const { phase } = state.view;
  if (phase === "ready" || phase === "playing") return court(state);
  if (phase === "result") return outcome(state);
  return phase === "done" ? sum(state) : nothing;
}

/** @param {SeatState} state */
function court({ view, hands, sign, drawing, play }) {
  const { header, marks, message, phase, tempo } = view;
  if (header === null) return nothing;
  const now = message !== "" ? message : phase === "ready" ? `Press ${play} to play the rally` : "";
  return html`
    <section class="court seat" aria-label="Practice rally">
      <div class="beside">
        <div class="picture">${drawing}</div>
        <div class="told">
          <p class="what" role="status">${now}</p>
          <ol class="recent" aria-label="Marked last">
            ${marks.slice(-4).map(({ team, cue }) => html`<li>${wordFor(CUES, cue)}, ${teamName(header, team)}</li>`)}
          </ol>
        </div>
      </div>
      <div class="halves">
        ${(/** @type {const} */ (["left", "right"])).map(
          (half) => html`
            <section class="half" data-team=${SIDES[half]} aria-label=${teamName(header, SIDES[half])}>
              <h2>${teamName(header, SIDES[half])}</h2>
              ${CUE_ORDER.map(
                (cue) => html`<button type="button" data-mark=${cue} data-half=${half}>
                  <span>${wordFor(CUES, cue)}</span>${keyed(sign(half, cue))}
                </button>`,
              )}
            </section>`,
        )}
      </div>
      <footer class="foot">
        <div class="film">${filmKeys(hands, phase === "playing" && !view.paused, FILM)}</div>
        <span class="state tempo" role="status">Speed: ${tempoWords(tempo)}</span>
        <button type="button" data-mark="undo">Undo ${keyed(sign(null, "undo"))}</button>
        <button type="button" data-do="keys">Shortcuts …</button>
        <button type="button" data-do="finish">End the set</button>
      </footer>
    </section>`;
}

/** @param {string} sign */
const keyed = (sign) => (sign === "" ? nothing : html` <kbd>${sign}</kbd>`);

/** @param {Judged} judged */
const rightWords = (judged) => {
  const { right, due } = sumOf([judged]);
  return `${right} of ${due} ${due === 1 ? "cue" : "cues"} right`;
};

/** @param {SeatState} state */
function outcome({ view, play }) {
  const { header, number, of, judged, rally } = view;
  const latest = judged.at(-1);
  if (header === null || rally === null || latest === undefined) return nothing;
  return html`
    <section class="outcome" aria-label="How the cues were marked">
      <h2>Rally ${number} of ${of}: ${rightWords(latest)}</h2>
      <div class="rows" tabindex="0" role="region" aria-label="Cue by cue">
        <table>
          <thead>
            <tr>${["Shot", "Cue", "Result", "Delay"].map((words) => html`<th scope="col">${words}</th>`)}</tr>
          </thead>
          <tbody>
            ${latest.due.map(
              ({ place, team, cue, seen, mark }) => html`
                <tr data-right=${String(mark !== null)}>
                  <th scope="row">${place + 1}</th>
                  <td>${wordFor(CUES, cue)}, ${teamName(header, team)} (${said(rally.shots[place]?.stroke)})</td>
                  <td>${mark === null ? "✗ missed" : "✓ right"}</td>
                  <td>${mark === null || seen === null ? "" : seconds((mark.at - seen) / 1000)}</td>
                </tr>`,
            )}
            ${latest.extra.map(
              ({ mark, place }) => html`
                <tr data-right="false">
                  <th scope="row">${place === null ? "" : String(place + 1)}</th>
                  <td>${wordFor(CUES, mark.cue)}, ${teamName(header, mark.team)}</td>
                  <td>${extraWords(header, mark.team, place)}</td>
                  <td></td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
      <div class="go">
        <button type="button" class="chief" data-action="film:play"
          >${play === "" ? nothing : html`<kbd>${play}</kbd>`}<span>${number < of ? "Next rally" : "See the whole set"}</span></button
        >
        <button type="button" data-do="finish">End the set</button>
      </div>
    </section>`;
}

/** @param {MatchHeader} header @param {Team} team @param {number | null} place */
const extraWords = (header, team, place) =>
  place === null ? `✗ no shot of ${teamName(header, team)} was near` : "✗ wasn\u2019t there";

/** @param {SeatState} state */
function sum({ view, back }) {
  const { judged, tempo } = view;
  const total = sumOf(judged);
  const wrong = [
    ...(total.missed === 0 ? [] : [`${total.missed} missed`]),
    ...(total.extra === 0 ? [] : [`${total.extra} marked that weren\u2019t there`]),
  ];
  return html`
    <section class="sum" aria-label="The whole set">
      <h2>The set</h2>
      <p class="sum-right">${`${total.right} of ${total.due} cues right, in ${judged.length} ${judged.length === 1 ? "rally" : "rallies"}, at ${tempoWords(tempo)}`}</p>
      <p class="sum-lag">${lagWords(total.lag)}</p>
      <ul class="sum-mistakes" aria-label="Mistakes">${wrong.map((words) => html`<li>${words}</li>`)}</ul>
      <p class="sum-next">${seatAdvice(total, tempo)}</p>
      <div class="go">
        <button type="button" class="chief" data-do="again">Another set</button>
        <a class="button" data-do="back" href=${back.href}>${back.words}</a>
      </div>
    </section>`;
}
