// <rt-rally-ribbon>: the current rally shot by shot, the last one while nobody
// plays. Exact, unlike the tide: what was charted is drawn at once. Attribute
// `words` writes every stroke (for the booth) and lets the ribbon scroll.

/**
 * @import { OneRally, View } from "../types/view.js"
 * @import { MatchHeader } from "../types/messages.js"
 */
import { draw, make, setAttribute } from "../shared/dom.js";
import { hasShots, isInitiativeKnown } from "../shared/state.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { BOOTH_RIBBON, GRAPHIC_RIBBON, drawRibbon, scrolledTo } from "./ribbon-drawing.js";

needStyles("rally-ribbon.css", import.meta.url);

export class RallyRibbon extends RtElement {
  /** @override */
  static get observedAttributes() {
    return [...RtElement.observedAttributes, "words"];
  }

  #svg = draw("svg", { class: "rt-drawing" });
  #box = make("div", { class: "rt-ribbon" }, this.#svg);
  /** @type {{ rally: OneRally | null, match: MatchHeader | null, words: boolean, isKnown: boolean } | null} */
  #drawn = null;

  /** @override */
  build() {
    this.append(this.#box);
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    const { match, score } = view;
    const rally = latestPlayed(view);
    const words = this.hasAttribute("words");
    const isOver = score !== null && score.winner !== null;
    this.hidden = match === null || !hasShots(view) || rally === null || (isOver && !words);
    setAttribute(this.#box, "tabindex", words ? "0" : null);
    setAttribute(this.#box, "role", words ? "region" : null);
    setAttribute(this.#box, "aria-label", words ? "This rally, shot by shot" : null);
    const done = this.#drawn;
    const isKnown = isInitiativeKnown(view);
    if (
      rally === null ||
      (done?.rally === rally && done.match === match && done.words === words && done.isKnown === isKnown)
    )
      return;
    this.#drawn = { rally, match, words, isKnown };
    drawRibbon(this.#svg, rally, match, words ? BOOTH_RIBBON : GRAPHIC_RIBBON, isKnown);
    if (words) this.#showEnd();
  }

  #showEnd() {
    this.#svg.style.paddingRight = "0";
    const over = this.#box.scrollWidth - this.#box.clientWidth;
    const unit = this.#svg.clientWidth / this.#svg.viewBox.baseVal.width;
    const to = scrolledTo(over, unit, BOOTH_RIBBON);
    // Room to scroll on into, where the end alone would cut a mark in two.
    this.#svg.style.paddingRight = `${Math.max(0, to - over)}px`;
    this.#box.scrollLeft = to;
  }
}

/**
 * A new rally takes the place of the last one with its first shot.
 * @param {View} view
 * @returns {OneRally | null}
 */
function latestPlayed({ rally }) {
  if (rally === null) return null;
  if (rally.shots.length > 0 || rally.end !== null) return rally;
  return rally.earlier[0] ?? rally;
}

customElements.define("rt-rally-ribbon", RallyRibbon);
