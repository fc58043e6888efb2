// <rt-named-indicator name="rally.longest">: any indicator of any plugin, shown
// by the type of its value: one value where it speaks of the match, both teams'
// where it speaks of teams, each with the player's name where it speaks of
// players. `name` may end in a slot: `third.won/drop`. Nothing is shown while no
// such reading is there (never begun, or its plugin stopped).

/**
 * @import { Side, View } from "../types/view.js"
 * @import { Value } from "../types/messages.js"
 */
import { make, setText } from "../shared/dom.js";
import { labelOf, namedIndicator } from "../shared/indicators.js";
import { readingKey } from "../shared/readings.js";
import { figureWords, playerName, teamName, valueWords } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { shape } from "./parts.js";

needStyles("named-indicator.css", import.meta.url);

/** Whom a reading can speak of besides the match, in the order they are shown. */
const SUBJECTS = /** @type {const} */ (["a", "b"]).flatMap((team) => [null, 0, 1].map((player) => ({ team, player })));

export class NamedIndicator extends RtElement {
  /** @override */
  static get observedAttributes() {
    return [...RtElement.observedAttributes, "name", "range"];
  }

  #label = make("span", { class: "rt-label" });
  #whole = make("span", { class: "rt-value" });
  #subjects = SUBJECTS.map(({ team, player }) => new SubjectValue(team, player));

  /** @override */
  build() {
    this.append(
      make("div", { class: "rt-named" }, this.#label, this.#whole, ...this.#subjects.map(({ node }) => node)),
    );
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    const { indicator, slot } = namedIndicator(this.getAttribute("name") ?? "");
    const whole = view.readings[readingKey({ indicator, team: null, player: null, slot })] ?? null;
    setText(this.#label, labelOf(indicator, slot));
    /** @param {Value} value */
    const words = (value) => (this.hasAttribute("range") ? figureWords : valueWords)(value, view.match, this.sample);
    setText(this.#whole, whole === null ? "" : words(whole.value));
    this.#whole.hidden = whole === null;
    let shown = whole !== null;
    for (const subject of this.#subjects) shown = subject.draw(view, { indicator, slot }, words) || shown;
    this.hidden = view.match === null || !shown;
  }
}

class SubjectValue {
  #team;
  #player;
  #name;
  #words = make("span");
  node;

  /**
   * @param {Side} team
   * @param {number | null} player
   */
  constructor(team, player) {
    this.#team = team;
    this.#player = player;
    // A team is told by its shape; which of its players, nothing but the name says.
    this.#name = make("span", player === null ? { class: "rt-hidden" } : {});
    this.node = make("span", { class: "rt-value" }, shape(team), this.#name, this.#words);
  }

  /**
   * Says whether there is such a reading.
   * @param {View} view
   * @param {{ indicator: string, slot: string | null }} named
   * @param {(value: Value) => string} words
   */
  draw(view, { indicator, slot }, words) {
    const [team, player] = [this.#team, this.#player];
    const reading = view.readings[readingKey({ indicator, team, player, slot })] ?? null;
    this.node.hidden = reading === null;
    const name =
      player === null ? teamName(view.match, team) : playerName(view.match, team, player) || `Player ${player + 1}`;
    setText(this.#name, `${name}: `);
    setText(this.#words, reading === null ? "" : words(reading.value));
    return reading !== null;
  }
}

customElements.define("rt-named-indicator", NamedIndicator);
