// The dialog that puts a court's chart right: the last entries, what can be done with
// the chosen one, and what that would do.

/**
 * @import { ListedEntry, Preview } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 * @import { Correction } from "../state.js"
 */
import { countWords } from "../../shared/format.js";
import { html, nothing } from "../../shared/html.js";
import { describeEntry, scoreBrief } from "../page/telling.js";
import { entryForm, scoreForm } from "./correction-forms.js";
import { apply, choose, closeCorrection } from "./correction.js";

/** How many changed rallies are told one by one. */
const RALLIES_TOLD = 5;
/** What is to be done, by the kind of entry that does it. @type {Record<string, string>} */
const DOING = { amend: "changed", retract: "removed", insert: "inserted", score_fix: "score set" };

/** @param {Desk} desk */
export function correctionDialog(desk) {
  const { correction } = desk.state;
  if (correction === null) return nothing;
  const close = () => closeCorrection(desk);
  return html`<dialog class="corrections" aria-labelledby="corrections-title" @close=${close}>
    <div class="head">
      <h2 id="corrections-title">Correct the chart of court ${correction.court}</h2>
      <button type="button" @click=${close}>Cancel</button>
    </div>
    <div class="split">
      <section aria-label="The last entries">
        <button
          type="button"
          aria-pressed=${correction.chosen === "score" ? "true" : "false"}
          @click=${() => choose(desk, "score")}
        >
          Set the score (referee's ruling)
        </button>
        <p class="quiet">or choose what was recorded wrongly, the latest first:</p>
        <ol class="entries">
          ${correction.entries.map((listed) => item(desk, correction, listed))}
        </ol>
      </section>
      <section aria-label="The correction">
        <div class="correction">${chosenForm(desk, correction)}</div>
        <div class="effect" role="status">
          ${correction.trouble === "" ? effect(correction) : html`<p class="trouble">${correction.trouble}</p>`}
        </div>
        ${correction.effect === null ? nothing : html`<div class="row"><button type="button" class="chief" @click=${() => apply(desk)}>Apply</button></div>`}
      </section>
    </div>
  </dialog>`;
}

/** @param {Desk} desk @param {Correction} correction @param {ListedEntry} listed */
function item(desk, { header, chosen }, listed) {
  if (header === null) return nothing;
  const words = `${listed.rally === null ? "" : `Rally ${listed.rally}: `}${describeEntry(header, listed.entry)}`;
  const state = listed.state === "original" ? "" : ` (${listed.state === "retracted" ? "removed" : listed.state})`;
  return html`<li data-state=${listed.state}>
    <button type="button" aria-pressed=${chosen === listed ? "true" : "false"} @click=${() => choose(desk, listed)}>
      ${words}${state}
    </button>
  </li>`;
}

/** @param {Desk} desk @param {Correction} correction */
function chosenForm(desk, { chosen, header }) {
  if (chosen === null || header === null)
    return html`<p class="quiet">Nothing is erased: a correction is added to the chart, and can be undone.</p>`;
  if (chosen === "score") return html`<h3>Set the score (referee's ruling)</h3>${scoreForm(desk)}`;
  return html`<h3>${describeEntry(header, chosen.entry)}</h3>${entryForm(desk, chosen)}`;
}

/** @param {Correction} correction */
function effect({ effect: preview, header, wanted }) {
  if (preview === null || header === null) return nothing;
  const before = scoreBrief(preview.score.before, header);
  const after = scoreBrief(preview.score.after, header);
  return html`
    <h4>Effect: ${DOING[wanted[0]?.kind ?? ""] ?? "changed"}</h4>
    ${
      before === after
        ? html`<p>The score stays as it is: ${after}.</p>`
        : html`<dl>
            <dt>Before</dt>
            <dd>${before}</dd>
            <dt>After</dt>
            <dd class="after">${after}</dd>
          </dl>`
    }
    ${rallies(preview, header.teams)}
    <p class="quiet">${readingWords(preview.readings.changed)}</p>
  `;
}

/** @param {number} changed */
const readingWords = (changed) =>
  changed === 0
    ? "No statistic changes."
    : `${countWords(changed, "statistic")} on the graphic and the booth page change${changed === 1 ? "s" : ""}.`;

/** @param {Preview} preview @param {{ a: { name: string }, b: { name: string } }} teams */
function rallies({ rallies: all }, teams) {
  if (all.length === 0) return nothing;
  // The host says "a won"; people know the teams by name.
  const named = (/** @type {string | null} */ words) =>
    words === null ? "none" : words.replace(/^[ab]\b/, (team) => teams[team === "a" ? "a" : "b"].name);
  return html`<ul>
    ${all.slice(0, RALLIES_TOLD).map(({ number, before, after }) => html`<li>Rally ${number}: ${named(before)} → ${named(after)}</li>`)}
    ${all.length > RALLIES_TOLD ? html`<li>and ${countWords(all.length - RALLIES_TOLD, "more rally", "more rallies")}</li>` : nothing}
  </ul>`;
}
