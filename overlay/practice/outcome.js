// Draws what came of a rally, shot by shot, and of a whole set.

/**
 * @import { MatchHeader } from "../types/messages.js"
 * @import { Hands } from "../shared/charting/court-view.js"
 * @import { Comparison, Row } from "./compare.js"
 * @import { View } from "./trainer.js"
 */
import { html, nothing } from "../shared/html.js";
import { signs } from "../shared/charting/court-view.js";
import { said, teamName } from "../shared/charting/words.js";
import { keysToRemember } from "./hints.js";
import { tally } from "./tally.js";
import {
  findingWords,
  lagWords,
  mistakeWords,
  practiceNext,
  rightWords,
  rowWords,
  seconds,
  shotWords,
  tempoAdvice,
  tempoWords,
} from "./words.js";

/** @param {View} view @param {Hands} hands @param {(actions: readonly string[]) => string} keyWords */
export function outcome({ number, of, comparison, header, strokes }, hands, keyWords) {
  if (comparison === null || header === null) return nothing;
  const total = tally([comparison]);
  const words = [...mistakeWords(total), ...(total.shots === 0 ? [] : [lagWords(total.lag)])].join(" · ");
  return html`
    <section class="outcome" aria-label="How the rally was charted">
      <h2>Rally ${number} of ${of}: ${rightWords(total)}</h2>
      <p class="outcome-words">${words}</p>
      <p class="outcome-keys">${rememberWords(keysToRemember(comparison, strokes), keyWords)}</p>
      ${rows(comparison, header)}
      <div class="go">
        ${keyed("film:play", number < of ? "Next rally" : "See the whole set", "next chief", hands)}
        ${keyed("undo", "Undo last", "undo", hands)}
        <button type="button" data-do="finish">End the set</button>
      </div>
    </section>`;
}

/** A button that has a key, too. @param {string} action @param {string} words @param {string} name @param {Hands} hands */
const keyed = (action, words, name, hands) =>
  html`<button type="button" class=${name} data-action=${action}><kbd>${signs(hands)(action)}</kbd><span>${words}</span></button>`;

/** @param {readonly { word: string, actions: readonly string[] }[]} missed @param {(actions: readonly string[]) => string} keyWords */
function rememberWords(missed, keyWords) {
  const keys = missed.map(({ word, actions }) => `${said(word)} ${keyWords(actions)}`);
  return keys.length === 0 || keyWords(["undo"]) === "" ? "" : `Keys to remember: ${keys.join(" · ")}`;
}

/** @param {Comparison} comparison @param {MatchHeader} header */
function rows(comparison, header) {
  const end = comparison.end.map((finding) => findingWords(finding, header)).join("; ");
  const numbered = (/** @type {number} */ place) =>
    comparison.rows.slice(0, place + 1).filter(({ played }) => played !== null).length;
  return html`
    <div class="rows" tabindex="0" role="region" aria-label="Shot by shot">
      <table>
        <thead>
          <tr>${["Shot", "Played", "Charted", "Result", "Delay"].map((words) => html`<th scope="col">${words}</th>`)}</tr>
        </thead>
        <tbody>
          ${comparison.rows.map((row, place) => tableRow(row, numbered(place), header))}
          <tr data-right=${String(end === "")}>
            <th scope="row">End</th>
            <td colspan="4">${end === "" ? "right" : end}</td>
          </tr>
        </tbody>
      </table>
    </div>`;
}

/** @param {Row} row @param {number} number @param {MatchHeader} header */
function tableRow(row, number, header) {
  const right = row.findings.length === 0;
  const { played, charted, lag } = row;
  const whose = (/** @type {Row["played"]} */ shot) => (shot === null ? "" : ` (${teamName(header, shot.team)})`);
  const otherSide = row.findings.some(({ kind }) => kind === "side") || row.swapped;
  const same = right && !row.swapped && charted !== null;
  return html`
    <tr data-right=${String(right)}>
      <th scope="row">${played === null ? "" : String(number)}</th>
      <td>${`${shotWords(played)}${whose(played)}`}</td>
      <td>${same ? "the same" : `${shotWords(charted)}${otherSide ? whose(charted) : ""}`}</td>
      <td>${`${right ? "✓" : "✗"} ${rowWords(row, header)}`}</td>
      <td>${lag === null ? "" : seconds(lag)}</td>
    </tr>`;
}

/** @param {View} view @param {{ href: string, words: string }} back @param {unknown} recommended what the last sets speak for */
export function sum({ comparisons, tempo }, back, recommended) {
  const total = tally(comparisons);
  const rallies = total.rallies === 1 ? "rally" : "rallies";
  return html`
    <section class="sum" aria-label="The whole set">
      <h2>The set</h2>
      <p class="sum-right">${`${rightWords(total)}, ${total.clean} of ${total.rallies} ${rallies} without a mistake, at ${tempoWords(tempo)}`}</p>
      <p class="sum-lag">${total.shots === 0 ? "" : lagWords(total.lag)}</p>
      <ul class="sum-mistakes" aria-label="Mistakes">${mistakeWords(total).map((words) => html`<li>${words}</li>`)}</ul>
      <p class="sum-next">${total.shots === 0 ? "" : practiceNext(total)}</p>
      <p class="sum-tempo">${tempoAdvice(total, tempo)}</p>
      ${recommended}
      <div class="go">
        <button type="button" class="chief" data-do="again">Another set</button>
        <a class="button" data-do="back" href=${back.href}>${back.words}</a>
      </div>
    </section>`;
}
