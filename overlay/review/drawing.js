// How the review looks, from one state: filters, the list, the video, totals, files.
// Pure but for what a press asks of the page.

/**
 * @import { Review } from "../types/messages.js"
 * @import { Question, Wish } from "./filters.js"
 * @import { Film } from "./film.js"
 * @import { Offer } from "./take-away.js"
 */
import { html, live, repeat } from "../shared/html.js";
import { teamName } from "../shared/words.js";
import { besideList } from "./beside.js";
import { LENGTHS, SIDES, THIRDS, depthOfReview, gamesOf, isWished, totalsOf } from "./filters.js";
import { playerTable } from "./player-table.js";
import { rallyItem } from "./rally-item.js";
import { filesView } from "./take-away.js";

/**
 * @typedef {object} ReviewState
 * @property {Review} review
 * @property {Wish} wish what is asked for
 * @property {number | null} open the rally that is open
 * @property {boolean} keys single keys can be switched off (WCAG 2.1.4): dictation presses them, too
 * @property {Offer} files
 */

/**
 * @typedef {import("./rally-item.js").Asked & {
 *   filter: (form: HTMLFormElement) => void,
 *   everything: () => void,
 *   figure: (figure: string) => void,
 *   keys: (on: boolean) => void,
 * }} Asked
 */

/** @param {ReviewState} state @param {Film} film @param {Asked} asked */
export function reviewView(state, film, asked) {
  const { review, wish, open } = state;
  const behind = (/** @type {number} */ number) => review.asides.filter(({ after }) => after === number);
  return html`<section class="list" aria-label="Rallies">
      ${filterForm(state, asked)}
      <p class="count" role="status">${countOf(state)}</p>
      <label class="keys">
        <input
          type="checkbox"
          name="keys"
          .checked=${live(state.keys)}
          @change=${(/** @type {Event} */ event) => asked.keys(/** @type {HTMLInputElement} */ (event.currentTarget).checked)}
        />Keys: N next, P previous rally, V video
      </label>
      ${besideList(behind(0), asked.moment)}
      <ol class="rallies">
        ${repeat(
          review.rallies,
          ({ number }) => number,
          (rally) => {
            const { number } = rally;
            const about = {
              match: review.match,
              asides: behind(number),
              isShown: isWished(rally, wish),
              isOpen: number === open,
            };
            return rallyItem(rally, about, asked);
          },
        )}
      </ol>
    </section>
    <aside aria-label="Video and totals">
      <section class="film" aria-label="Your video">${film.view(open)}</section>
      <section class="totals" aria-labelledby="totals-heading">
        <h2 id="totals-heading">Totals of these rallies</h2>
        ${totalsTable(state, asked)}
      </section>
      <nav class="files" aria-label="Download">${filesView(review.match.id, state.files, film.began)}</nav>
    </aside>`;
}

/** @param {ReviewState} state */
export const shownRallies = ({ review, wish }) => review.rallies.filter((rally) => isWished(rally, wish));

/** @param {ReviewState} state */
function countOf(state) {
  const { wish, review } = state;
  const shown = shownRallies(state).length;
  if (shown === 0 && review.rallies.length > 0) return "No rally matches. Remove a filter.";
  const count = `${shown} of ${review.rallies.length} rallies`;
  return wish.figure === "" ? count : `${count}: those of this figure. “Clear filters” shows the rest again.`;
}

/** @param {ReviewState} state @param {Asked} asked */
function filterForm({ review, wish }, asked) {
  const teams = (before = "", words = "") =>
    SIDES.map((team) => [`${before}${team}`, `${words}${teamName(review.match, team)}`]);
  const form = (/** @type {Event} */ event) => /** @type {HTMLFormElement} */ (event.currentTarget);
  return html`<form
    class="filters"
    aria-label="Which rallies"
    @submit=${(/** @type {Event} */ event) => event.preventDefault()}
    @change=${(/** @type {Event} */ event) => asked.filter(form(event))}
  >
    ${choice(
      wish,
      "game",
      "Game",
      gamesOf(review).map((game) => [game, `game ${game}`]),
    )}
    ${choice(wish, "won", "Won by", teams())}
    ${choice(wish, "pressed", "Under pressure", [...teams("lost-", "lost: "), ...teams("out-", "escaped: ")])}
    ${choice(wish, "defense", "Won from defense", teams())}
    ${choice(
      wish,
      "third",
      "Third shot",
      THIRDS.map((stroke) => [stroke, stroke]),
    )}
    ${choice(
      wish,
      "long",
      "Long rallies",
      LENGTHS.map((least) => [least, `${least} shots or more`]),
    )}
    <button type="button" data-do="all" @click=${asked.everything}>Clear filters</button>
  </form>`;
}

/** @param {Wish} wish @param {Question} name @param {string} label @param {string[][]} answers */
function choice(wish, name, label, answers) {
  const asked = wish[name];
  // An address may ask for what is not offered; then it is offered.
  const offered = asked === "" || answers.some(([value]) => value === asked) ? answers : [...answers, [asked, asked]];
  return html`<label
    >${label}<select name=${name}>
      ${[["", "any"], ...offered].map(
        ([value, words]) => html`<option value=${value} .selected=${live(value === asked)}>${words}</option>`,
      )}
    </select></label
  >`;
}

/** Figures about shots, which a chart without every shot does not have. */
const OF_SHOTS = new Set(["pressed", "otherwise", "escape", "drop"]);

/** @param {ReviewState} state @param {Asked} asked */
function totalsTable(state, asked) {
  const { match } = state.review;
  const depth = depthOfReview(state.review);
  const isCharted = (/** @type {string} */ key) =>
    depth === "shots" || depth === null || (depth === "ends" ? key !== "drop" : !OF_SHOTS.has(key) && key !== "own");
  /** A figure opens exactly the rallies that it counts, of those that are shown. @param {string} figure @param {number} count */
  const button = (figure, count) =>
    html`<button type="button" class="figure" data-figure=${figure} @click=${() => asked.figure(figure)}>${count}</button>`;
  /** @param {string} key @param {"a" | "b"} team @param {{ part: number, whole: number }} share */
  const cell = (key, team, { part, whole }) => {
    if (!isCharted(key)) return html`<td>not charted</td>`;
    if (whole === 0) return html`<td>none</td>`;
    return html`<td>${button(`${key}-${team}-part`, part)} of ${button(`${key}-${team}-whole`, whole)}</td>`;
  };
  return html`<table>
    <thead>
      <tr>
        <td></td>
        ${SIDES.map((team) => html`<th scope="col">${teamName(match, team)}</th>`)}
      </tr>
    </thead>
    <tbody>
      ${totalsOf(shownRallies(state)).map(
        ({ key, label, a, b }) => html`<tr>
          <th scope="row">${label}</th>
          ${cell(key, "a", a)}${cell(key, "b", b)}
        </tr>`,
      )}
    </tbody>
  </table>
  <div class="of-players">${playerTable(shownRallies(state), match, button)}</div>`;
}
