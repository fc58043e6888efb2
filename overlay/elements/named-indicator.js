// <rt-named-indicator name="rally.longest">: any indicator of any plugin, shown
// by the type of its value: one value where it speaks of the match, both teams'
// where it speaks of teams. `name` may end in a slot: `third.won/drop`. Nothing
// is shown while no such reading is there (never begun, or its plugin stopped).

/**
 * @import { Side, View } from "../types/view.js"
 */
import { make, setText } from "../shared/dom.js";
import { labelOf, namedIndicator } from "../shared/indicators.js";
import { readingOf } from "../shared/state.js";
import { teamName, valueWords } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { shape } from "./parts.js";

needStyles("named-indicator.css", import.meta.url);

export class NamedIndicator extends RtElement {
  /** @override */
  static get observedAttributes() {
    return [...super.observedAttributes, "name"];
  }

  #label = make("span", { class: "rt-label" });
  #whole = make("span", { class: "rt-value" });
  #teams = { a: new TeamValue("a"), b: new TeamValue("b") };

  /** @override */
  build() {
    this.append(make("div", { class: "rt-named" }, this.#label, this.#whole, this.#teams.a.node, this.#teams.b.node));
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    const { indicator, slot } = namedIndicator(this.getAttribute("name") ?? "");
    const whole = readingOf(view, indicator, null, slot);
    setText(this.#label, labelOf(indicator, slot));
    setText(this.#whole, whole === null ? "" : valueWords(whole.value, view.match));
    this.#whole.hidden = whole === null;
    let shown = whole !== null;
    for (const team of /** @type {const} */ (["a", "b"])) {
      const reading = readingOf(view, indicator, team, slot);
      this.#teams[team].draw(reading === null ? null : valueWords(reading.value, view.match), teamName(view.match, team));
      shown ||= reading !== null;
    }
    this.hidden = view.match === null || !shown;
  }
}

class TeamValue {
  #name = make("span", { class: "rt-hidden" });
  #words = make("span");
  node;

  /** @param {Side} team */
  constructor(team) {
    this.node = make("span", { class: "rt-value" }, shape(team), this.#name, this.#words);
  }

  /**
   * @param {string | null} words
   * @param {string} name
   */
  draw(words, name) {
    this.node.hidden = words === null;
    setText(this.#name, `${name}: `);
    setText(this.#words, words ?? "");
  }
}

customElements.define("rt-named-indicator", NamedIndicator);
