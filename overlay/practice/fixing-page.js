// Practice for fixing mistakes as it is drawn: what happened, the chart with its mistake, the
// keys; what came of it, and of a set.

/**
 * @import { MatchHeader } from "../types/messages.js"
 * @import { Hands } from "../shared/charting/court-view.js"
 * @import { Verdict, View } from "./fixer.js"
 * @import { Task } from "./mistakes.js"
 */
import { html, nothing } from "../shared/html.js";
import { isOnCourt, pad, told } from "../shared/charting/court-view.js";
import { modeWord, said, teamName } from "../shared/charting/words.js";
import { MISTAKES, taskWords } from "./mistakes.js";
import { fixingAdvice, shotWords, verdictWords } from "./words.js";

/**
 * @typedef {object} FixingState
 * @property {View} view
 * @property {Hands} hands
 * @property {(actions: readonly string[]) => string} keyWords
 * @property {{ href: string, words: string }} back
 */

/** @param {FixingState} state */
export function fixingPage(state) {
  const { phase } = state.view;
  if (phase === "task") return task(state);
  if (phase === "result") return outcome(state);
  return phase === "done" ? sum(state) : nothing;
}

/** @param {FixingState} state */
function task({ view, hands, keyWords }) {
  const { header, task: one, shown } = view;
  if (!isOnCourt(view) || header === null || one === null) return nothing;
  const mode = modeWord(view.state);
  return html`
    <section class="court fixing" aria-label="A mistake to fix" data-mode=${mode === "" ? nothing : mode}>
      <div class="beside">
        <div class="task">
          <h2>${taskWords(one, header)}</h2>
          ${played(one, header)}
          <p class="task-keys" role="status">${shown ? fixWords(one, keyWords) : ""}</p>
        </div>
        ${told(view, { ...hands, keysShown: true })}
      </div>
      ${pad(view, hands)}
      <footer class="foot">
        <span class="detail">${one.kind === "server" ? "Put the score right" : "Step back and fix it, or undo and chart it again"}</span>
        <button type="button" data-do="fix-score">Score …</button>
        <button type="button" data-do="show-keys" ?disabled=${shown}>Show the keys</button>
        <button type="button" data-do="skip">Skip</button>
        <button type="button" data-do="keys">Shortcuts …</button>
        <button type="button" data-do="finish">End the set</button>
      </footer>
    </section>`;
}

/** @param {Task} task @param {MatchHeader} header */
function played({ kind, rally, place }, header) {
  if (kind === "server") return nothing;
  const from = Math.max(0, rally.shots.length - 6);
  return html`
    <ol class="as-played" start=${from + 1} aria-label="As it was played">
      ${rally.shots
        .slice(from)
        .map(
          (shot, at) =>
            html`<li data-about=${String(from + at === place)}>${shotWords(shot)} (${teamName(header, shot.team)})</li>`,
        )}
    </ol>
    <p>${said(rally.end.how)}, ${teamName(header, rally.end.by)}</p>`;
}

/** @param {Task} task @param {(actions: readonly string[]) => string} keyWords */
const fixWords = ({ kind, fix }, keyWords) =>
  kind === "server" ? `${keyWords(["score"])} opens the score: change the server, then Apply` : keyWords(fix);

/** @param {FixingState} state */
function outcome({ view, keyWords }) {
  const { number, of, verdicts, task: one, header } = view;
  const verdict = verdicts.at(-1);
  if (verdict === undefined || one === null || header === null) return nothing;
  const better = !verdict.fixed || (verdict.fewest > 0 && verdict.keys > verdict.fewest);
  const keys = keyWords(["film:play"]);
  return html`
    <section class="outcome" aria-label="How the mistake was fixed">
      <h2>Mistake ${number} of ${of}: ${verdict.fixed ? "fixed" : "not fixed"}</h2>
      <p class="outcome-words">${verdictWords(verdict)}</p>
      <p class="outcome-keys">${better ? `Keys to remember: ${fixWords(one, keyWords)}` : ""}</p>
      <div class="go">
        <button type="button" class="chief" data-action="film:play"
          >${keys === "" ? nothing : html`<kbd>${keys.slice(1, -1)}</kbd>`}<span>${number < of ? "Next mistake" : "See the whole set"}</span></button
        >
        <button type="button" data-do="finish">End the set</button>
      </div>
    </section>`;
}

/** @param {FixingState} state */
function sum({ view: { verdicts }, back }) {
  const fixed = verdicts.filter((one) => one.fixed);
  const alone = fixed.filter(({ shown }) => !shown).length;
  return html`
    <section class="sum" aria-label="The whole set">
      <h2>The set</h2>
      <p class="sum-right">${`${fixed.length} of ${verdicts.length} mistakes fixed, ${alone} without looking up the keys`}</p>
      <ul class="sum-mistakes" aria-label="Mistakes">${verdicts.map((one) => html`<li>${listed(one)}</li>`)}</ul>
      <p class="sum-next">${fixingAdvice(verdicts)}</p>
      <div class="go">
        <button type="button" class="chief" data-do="again">Another set</button>
        <a class="button" data-do="back" href=${back.href}>${back.words}</a>
      </div>
    </section>`;
}

/** @param {Verdict} verdict */
const listed = (verdict) => `${verdict.fixed ? "✓" : "✗"} ${MISTAKES[verdict.kind]}: ${verdictWords(verdict)}`;
