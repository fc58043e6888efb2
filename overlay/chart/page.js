// The charters' page as it is drawn: everything shown follows from one state. What buttons
// do is named by `data-do` and `data-action`; main.js does it.

/**
 * @import { Hands } from "../shared/charting/court-view.js"
 * @import { Letters } from "../shared/charting/letters.js"
 * @import { Settings } from "../shared/charting/settings.js"
 * @import { Film } from "./video/film.js"
 * @import { View } from "./session.js"
 */
import { html, nothing } from "../shared/html.js";
import { withKey } from "../shared/key.js";
import { detailWords, isOnCourt, pad, signs, told } from "../shared/charting/court-view.js";
import { filmKeys } from "../shared/charting/film-keys.js";
import { lettersField } from "../shared/charting/key-form.js";
import { keySign } from "../shared/charting/layouts.js";
import { modeWord, versus } from "../shared/charting/words.js";
import { deskWords, gateWords, leavingWords, lineWords, movedTo, nextMatch } from "./line/line-words.js";
import { setupForm } from "./match/setup-form.js";

/** Goes on with the next match, while the page is stopped and no other key means anything. */
export const GO_ON = "KeyN";

/** Lines on which this page must not chart. */
const STOPPED = new Set(["elsewhere", "taken_over", "other_match"]);

/**
 * @typedef {object} PageState
 * @property {View} view
 * @property {Hands} hands
 * @property {Settings} settings
 * @property {Letters} letters
 * @property {Film} film
 * @property {string} aloud the line to the host, as it is said aloud
 * @property {string} problem what is wrong with the match to be started
 * @property {Node} look the choice of colors
 * @property {string} practice the address of the practice page
 */

/** @param {PageState} state */
export function page(state) {
  const { view, film } = state;
  const { header, line } = view;
  const stopped = STOPPED.has(line);
  const asks = header === null && (view.welcomed || line === "lost" || line === "link_replaced");
  return html`
    <header class="top">
      <h1 class="title">${header?.title ?? "Chart"}</h1>
      <p class="desk-says" role="status">${stopped ? "" : deskWords(view)}</p>
      <p class="line" data-line=${view.kept ? line : "not_kept"}>${lineWords(view)}</p>
      <p class="line-aloud" role="status">${state.aloud}</p>
    </header>
    <main>
      ${view.kept || stopped ? nothing : notKept(view)} ${stopped ? gate(state) : nothing}
      ${stopped || !asks ? nothing : setup(state)} ${stopped || !isOnCourt(view) ? nothing : court(state)}
      ${film.open && (stopped || header === null) ? html`<p class="film-title">${film.title}</p>` : nothing}
    </main>
    ${newMatch(view)}`;
}

/** @param {View} view */
const notKept = ({ header }) => html`
  <p class="not-kept" role="status">
    This browser saves nothing for this page, so what the host does not have yet is only here: keep the page open.
    ${header === null ? nothing : html`<button type="button" data-do="save-kept">Download chart</button>`}
  </p>`;

/** @param {PageState} state */
function gate({ view, hands, practice }) {
  const { line, court, waiting } = view;
  const [heading, ...sentences] = gateWords(view);
  const moved = line === "other_match" ? movedTo(court) : null;
  return html`
    <section class="gate" aria-label="Charting has stopped">
      <h2>${heading}</h2>
      ${sentences.map((words) => html`<p>${words}</p>`)}
      <p class="ways-on">
        ${line === "other_match" ? goingOn(view, hands) : html`<button type="button" data-do="take-over">Take over this court</button>`}
        ${
          moved === null
            ? nothing
            : html`<a class="button follow" href=${withKey(`/courts/${moved}/chart`, location.href).href}>Chart it on court ${moved}</a>`
        }
        ${waiting === 0 ? nothing : html`<button type="button" data-do="save-here">Download chart</button>`}
        <a class="button" data-do="practice" href=${practice}>Practice meanwhile</a>
      </p>
    </section>`;
}

/** @param {View} view @param {Hands} hands */
function goingOn({ court }, { keys, layout }) {
  const next = nextMatch(court);
  if (next === null)
    return html`<button type="button" data-do="start-anew">Drop this match, wait for the next one</button>`;
  return html`<button type="button" class="chief" data-do="start-anew"
    >${keys.on ? html`<kbd>${keySign(GO_ON, layout)}</kbd> ` : nothing}Chart the next match: ${versus(next)}</button
  >`;
}

/** @param {PageState} state */
const setup = ({ problem, practice, film, letters }) => html`
  ${setupForm(problem)}
  <p class="ways">
    <a class="button" data-do="practice" href=${practice}>New to charting? Practice first</a>
    <button type="button" data-do="film">Chart from a video …</button> <span class="film-title">${film.title}</span>
    ${letters.unsure ? lettersField(letters) : nothing}
  </p>`;

/** @param {PageState} state */
function court(state) {
  const { view, hands, settings, film, look } = state;
  if (!isOnCourt(view)) return nothing;
  const mode = modeWord(view.state);
  const first = view.answer.recent.length === 0 && view.state.armed === null && view.state.detail === "shots";
  const armed = first && hands.keys.on ? `${signs(hands)("next")} records the serve` : undefined;
  return html`
    <section class="court" aria-label="Match" data-mode=${mode === "" ? nothing : mode}>
      <div class=${film.open ? "beside with-picture" : "beside"}>
        <div class="picture" ?hidden=${!film.open}>${film.nodes}</div>
        <div class="film" role="group" aria-label="Video" ?hidden=${!film.open}>${filmKeys(hands, film.running)}</div>
        ${told(view, hands, armed)}
      </div>
      ${hands.keysShown ? pad(view, hands) : nothing}
      <footer class="foot">
        <span class="detail">${detailWords(view.state, hands.keys)}</span>
        <button type="button" data-do="save">Download chart</button>
        <button type="button" data-do="fix-score">Set the score …</button>
        <button type="button" data-do="keys">Shortcuts …</button>
        <button type="button" data-do="film">Video …</button>
        <button type="button" data-do="new">New match …</button>
        <button type="button" data-do="hide">${settings.keysShown ? "Hide keys" : "Show keys"}</button>
        <button type="button" data-do="sounds" aria-pressed=${String(settings.sounds)}>Sounds</button>
        ${look}
      </footer>
    </section>`;
}

/** @param {View} view */
const newMatch = ({ header, waiting }) => html`
  <dialog class="new-match" aria-labelledby="new-match-heading">
    <form method="dialog">
      <h2 id="new-match-heading">Start a new match?</h2>
      <p class="aside new-match-chart">${leavingWords(header?.title ?? "Match", waiting)}</p>
      <p class="aside">
        The old match leaves the court, and the graphic, when the new one starts. Nothing of it can be charted on this
        laptop after that. Where the desk has started or planned a match, only the desk can start another.
      </p>
      <button value="leave">Start new</button>
      <button value="">Cancel</button>
    </form>
  </dialog>`;
