// The referee's word: a dialog for what no key means. Opens with the score as it
// is, so that only what is wrong has to be changed. Says what was chosen, records
// nothing itself.

/**
 * @import { MatchHeader, Score, Team } from "../../types/messages.js"
 * @import { Content } from "../../shared/charting/recorder.js"
 */
import { setText } from "../../shared/dom.js";
import { part } from "../../shared/charting/court-view.js";

export class RefereeDesk {
  #dialog = /** @type {HTMLDialogElement} */ (part("dialog.referee"));
  #form = /** @type {HTMLFormElement} */ (part("dialog.referee form"));
  /** @type {MatchHeader | null} */
  #header = null;
  /** @type {Score | null} */
  #before = null;

  /** @param {(content: Content) => void} say */
  constructor(say) {
    this.#dialog.addEventListener("close", () => {
      // A button in focus would swallow the next space bar.
      if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
      const content = this.#content(this.#dialog.returnValue, new FormData(this.#form));
      if (content !== null) say(content);
    });
    this.#field("team").addEventListener("change", () => this.#namePlayers());
  }

  /** @param {MatchHeader} header @param {Score} score */
  show(header, score) {
    this.#header = header;
    this.#before = score;
    const values = {
      a: score.points.a,
      b: score.points.b,
      serving: score.serving,
      server: score.server ?? 1,
      games_a: score.games.a,
      games_b: score.games.b,
      team: "a",
    };
    for (const [name, value] of Object.entries(values)) this.#field(name).value = String(value);
    for (const team of /** @type {const} */ (["a", "b"])) {
      const { name } = header.teams[team];
      setText(part(`.of-${team} span`), `Points of ${name}`);
      setText(part(`.games-${team} span`), `Games of ${name}`);
      for (const option of this.#dialog.querySelectorAll(`option[value="${team}"]`)) setText(option, name);
    }
    part(".which-server").hidden = score.server === null;
    this.#namePlayers();
    // Escape closes with what was chosen last time, and nothing may happen twice.
    this.#dialog.returnValue = "";
    this.#dialog.showModal();
  }

  #namePlayers() {
    const players = this.#header?.teams[/** @type {Team} */ (this.#field("team").value)].players ?? [];
    for (const place of [0, 1]) {
      const button = part(`dialog.referee [value="lineup${place}"]`);
      button.hidden = players.length < 2;
      setText(button, `${players[place] ?? ""} is starting server`);
    }
  }

  /** @param {string} name */
  #field(name) {
    return /** @type {HTMLInputElement | HTMLSelectElement} */ (this.#form.elements.namedItem(name));
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
