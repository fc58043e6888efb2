// The referee's ruling: a dialog for what no key means. Opens with the score as it is, so that
// only what is wrong has to be changed. Says what was chosen, records nothing itself.

/**
 * @import { MatchHeader, Score, Team } from "../../types/messages.js"
 * @import { Content } from "./recorder.js"
 */
import { make } from "../dom.js";
import { html, live, nothing, render } from "../html.js";
import { leaveFocus } from "./key-desk.js";

const TEAMS = /** @type {const} */ (["a", "b"]);

export class RefereeDesk {
  #dialog = make("dialog", { class: "referee", "aria-labelledby": "referee-heading" });
  /** @type {Score | null} */
  #before = null;

  /** @param {(content: Content) => void} say */
  constructor(say) {
    document.body.append(this.#dialog);
    this.#dialog.addEventListener("close", () => {
      // A button in focus would swallow the next space bar.
      leaveFocus();
      const form = this.#dialog.querySelector("form");
      const content = form === null ? null : this.#content(this.#dialog.returnValue, new FormData(form));
      if (content !== null) say(content);
    });
  }

  /** @param {MatchHeader} header @param {Score} score */
  show(header, score) {
    this.#before = score;
    this.#draw(header, score, "a");
    // Escape closes with what was chosen last time, and nothing may happen twice.
    this.#dialog.returnValue = "";
    this.#dialog.showModal();
  }

  /** @param {MatchHeader} header @param {Score} score @param {Team} team of the rulings about one team */
  #draw(header, score, team) {
    const { players = [] } = header.teams[team];
    const again = (/** @type {Event} */ { target }) =>
      this.#draw(header, score, /** @type {Team} */ (/** @type {HTMLSelectElement} */ (target).value));
    render(
      html`
        <form method="dialog">
          <h2 id="referee-heading">Referee's ruling</h2>
          <fieldset>
            <legend>The score</legend>
            ${TEAMS.map((one) => number(`Points of ${header.teams[one].name}`, one, score.points[one], 200))}
            ${choice(
              "Serving",
              "serving",
              TEAMS.map((one) => [one, header.teams[one].name]),
              score.serving,
            )}
            ${
              score.server === null
                ? nothing
                : choice(
                    "Server",
                    "server",
                    [
                      ["1", "1"],
                      ["2", "2"],
                    ],
                    String(score.server),
                  )
            }
            ${TEAMS.map((one) => number(`Games of ${header.teams[one].name}`, `games_${one}`, score.games[one], 3))}
            <button class="chief" value="score_fix">Set score</button>
          </fieldset>
          <fieldset>
            <legend>One team</legend>
            <label>
              Team
              <select name="team" .value=${live(team)} @change=${again}>
                ${TEAMS.map((one) => html`<option value=${one}>${header.teams[one].name}</option>`)}
              </select>
            </label>
            <button value="penalty">Technical foul: a point</button>
            <button value="medical">Medical time-out</button>
            ${players.map((player, place) =>
              players.length < 2
                ? nothing
                : html`<button value=${`lineup${place}`}>${player} is starting server</button>`,
            )}
            <button value="retire">Retires: the match is over</button>
          </fieldset>
          <p class="aside">Undo takes any of these back.</p>
          <button value="">Cancel</button>
        </form>`,
      this.#dialog,
    );
  }

  /** @param {string} word @param {FormData} data @returns {Content | null} */
  #content(word, data) {
    const team = data.get("team");
    const number = (/** @type {string} */ name) => Number(data.get(name));
    switch (word) {
      case "score_fix": {
        const games = { a: number("games_a"), b: number("games_b") };
        const had = this.#before?.games;
        const changed = games.a === had?.a && games.b === had.b ? {} : { games };
        const server = this.#before?.server === null ? {} : { server: number("server") };
        return {
          kind: "score_fix",
          points: { a: number("a"), b: number("b") },
          serving: data.get("serving"),
          ...server,
          ...changed,
        };
      }
      case "penalty":
      case "retire":
        return { kind: word, team };
      case "lineup0":
      case "lineup1":
        return { kind: "lineup", team, starting_server: word === "lineup0" ? 0 : 1 };
      case "medical":
        return { kind: "time_out", team, medical: true };
      default:
        return null;
    }
  }
}

/** @param {string} words @param {string} name @param {number} value @param {number} most */
const number = (words, name, value, most) =>
  html`<label>${words} <input name=${name} type="number" min="0" max=${most} required .value=${live(String(value))} /></label>`;

/**
 * One of two, changed by an arrow and entered by Enter.
 * @param {string} words @param {string} name @param {readonly (readonly string[])[]} options @param {string} value
 */
const choice = (words, name, options, value) => html`
  <div class="choice" role="radiogroup" aria-label=${words}>
    <span aria-hidden="true">${words}</span>
    ${options.map(
      ([one = "", label = ""]) =>
        html`<label class="tick"><input type="radio" name=${name} value=${one} .checked=${live(one === value)} /> ${label}</label>`,
    )}
  </div>`;
