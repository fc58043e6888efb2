// <rt-prompt-list>: at most three lines a commentator can say, newest first,
// each with its evidence one tap away. While a finger or the focus is on the
// list it keeps its order; newer lines wait behind a button.

/**
 * @import { View } from "../types/view.js"
 * @import { Reading } from "../types/messages.js"
 */
import { keyedChildren, make, setText } from "../shared/dom.js";
import { prompts } from "../shared/indicators.js";
import { valueWords } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { HoldStill } from "./hold-still.js";
import { drawReasons } from "./reason-list.js";

needStyles("prompt-list.css", import.meta.url);

export class PromptList extends RtElement {
  #list = make("ol", { class: "rt-prompts" });
  #empty = make("p", { class: "rt-empty" }, "Nothing to say yet");
  #hold = new HoldStill(this.#list, () => this.#release());
  /** @type {readonly Reading[]} */
  #shown = [];

  /** @override */
  build() {
    this.append(this.#list, this.#empty, this.#hold.button);
  }

  /** @override */
  connectedCallback() {
    super.connectedCallback();
    this.#hold.connect();
  }

  /** @override */
  disconnectedCallback() {
    super.disconnectedCallback();
    this.#hold.disconnect();
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    const current = prompts(view);
    const shownKeys = this.#shown.map(promptKey);
    if (this.#hold.isHeld && this.#shown.length > 0) {
      this.#shown = this.#shown.map((shown) => current.find((one) => promptKey(one) === promptKey(shown)) ?? shown);
      this.#hold.waiting(current.filter((one) => !shownKeys.includes(promptKey(one))).length);
    } else {
      this.#shown = current;
      this.#hold.waiting(0);
    }
    this.#empty.hidden = this.#shown.length > 0;
    const byKey = new Map(this.#shown.map((one) => [promptKey(one), one]));
    keyedChildren(this.#list, [...byKey.keys()], createPrompt, (node, key) => {
      updatePrompt(node, /** @type {Reading} */ (byKey.get(key)), view);
    });
  }

  #release() {
    this.#shown = [];
    this.redraw();
  }
}

/** @param {Reading} reading */
function promptKey(reading) {
  return reading.slot ?? valueWords(reading.value);
}

function createPrompt() {
  return make(
    "li",
    {},
    make("details", {}, make("summary"), make("ul", { class: "rt-reasons" })),
  );
}

/**
 * @param {HTMLElement} node
 * @param {Reading} reading
 * @param {View} view
 */
function updatePrompt(node, reading, view) {
  const summary = node.querySelector("summary");
  const reasons = node.querySelector("ul");
  if (summary === null || reasons === null) return;
  setText(summary, valueWords(reading.value));
  drawReasons(reasons, view, reading.why);
}

customElements.define("rt-prompt-list", PromptList);
