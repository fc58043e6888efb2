// The ground every element stands on: it takes a View (given by a page, or from
// a feed of its own named by an attribute) and draws it at most once a frame.
// Invariants: nothing is drawn while disconnected; what connecting subscribes,
// disconnecting undoes; drawing depends on the View and attributes alone.

/** @import { View } from "../types/view.js" */
import { parseDelay } from "../shared/delay.js";
import { liveSource, recordedSource } from "../shared/source.js";
import { areStylesReady, needStyles, whenStyled } from "../shared/styles.js";
import { LEAST_FOR_PERCENT } from "../shared/words.js";

needStyles("../shared/theme.css", import.meta.url);

/**
 * Cases from which on a share is a percentage, as the nearest element around says.
 * @param {HTMLElement} node
 */
export function sampleAround(node) {
  const around = /** @type {HTMLElement | null} */ (node.closest("[data-min-cases]"));
  const asked = Number(around?.dataset["minCases"]);
  return asked >= 1 ? asked : LEAST_FOR_PERCENT;
}

export class RtElement extends HTMLElement {
  /** @type {View | null} */
  #view = null;
  #unsubscribe = () => {};
  #frame = 0;
  #built = false;
  #joined = false;

  static get observedAttributes() {
    return ["feed", "recorded", "pace", "delay"];
  }

  /** Builds the children that stay. Called once, before the first `draw`. */
  build() {}

  /**
   * @param {View} _view
   */
  draw(_view) {}

  /** @param {View | null} view */
  set view(view) {
    this.#view = view;
    this.redraw();
  }

  get view() {
    return this.#view;
  }

  /** Cases from which on a share is a percentage. */
  get sample() {
    return sampleAround(this);
  }

  connectedCallback() {
    this.#joined = true;
    this.#follow();
    this.redraw();
  }

  disconnectedCallback() {
    this.#joined = false;
    this.#unsubscribe();
    this.#unsubscribe = () => {};
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
  }

  /**
   * @param {string} _name
   * @param {string | null} before
   * @param {string | null} after
   */
  attributeChangedCallback(_name, before, after) {
    // While an element already in the page is upgraded, attributes come before
    // `connectedCallback`; following twice would open a socket and drop it.
    if (!this.#joined || before === after) return;
    this.#follow();
    this.redraw();
  }

  /** Draws with the next frame, once, however often it is asked. */
  redraw() {
    if (!this.isConnected || this.#view === null || this.#frame !== 0) return;
    this.#frame = requestAnimationFrame(() => void this.#drawNow());
  }

  async #drawNow() {
    if (!areStylesReady()) await whenStyled();
    this.#frame = 0;
    if (!this.isConnected || this.#view === null) return;
    if (!this.#built) {
      this.#built = true;
      this.build();
    }
    this.draw(this.#view);
  }

  #follow() {
    this.#unsubscribe();
    this.#unsubscribe = () => {};
    const feed = this.getAttribute("feed");
    const recorded = this.getAttribute("recorded");
    const delay = parseDelay(this.getAttribute("delay") ?? "0s");
    if (delay === null)
      console.warn(`\`delay\` is \`${this.getAttribute("delay")}\`; allowed is a time like 2.5s or 2500ms`);
    if (recorded !== null) {
      const pace = Number(this.getAttribute("pace") ?? "1");
      const source = recordedSource(new URL(recorded, document.baseURI).href, pace, delay ?? 0);
      this.#unsubscribe = source.subscribe((view) => (this.view = view));
    } else if (feed !== null) {
      const source = liveSource(new URL(feed, document.baseURI).href, delay ?? 0);
      this.#unsubscribe = source.subscribe((view) => (this.view = view));
    }
  }
}
