// <rt-earlier-rallies>: the last rallies, newest first, each as a small ribbon
// that opens to its shots in words. Keeps its order while somebody is on it.

/** @import { OneRally, View } from "../types/view.js" */
import { keyedChildren, make, setText } from "../shared/dom.js";
import { EARLIER_RALLIES } from "../shared/state.js";
import { rallyTitle } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { HoldStill } from "./hold-still.js";
import { ToldRally } from "./told-rally.js";

needStyles("earlier-rallies.css", import.meta.url);

export class EarlierRallies extends RtElement {
  #list = make("ol");
  #empty = make("p", { class: "rt-empty" }, "No rally has ended yet");
  #hold = new HoldStill(this.#list, () => this.#release());
  /** @type {readonly OneRally[]} */
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
    const current = ended(view.rally);
    if (this.#hold.isHeld && this.#shown.length > 0) {
      this.#shown = this.#shown.map((shown) => current.find((one) => one.number === shown.number) ?? shown);
      const newest = this.#shown[0]?.number ?? 0;
      this.#hold.waiting(current.filter((one) => one.number > newest).length);
    } else {
      this.#shown = current;
      this.#hold.waiting(0);
    }
    this.#empty.hidden = this.#shown.length > 0;
    const byKey = new Map(this.#shown.map((one) => [String(one.number), one]));
    keyedChildren(
      this.#list,
      [...byKey.keys()],
      () => new Item(),
      (node, key) => {
        node.show(/** @type {OneRally} */ (byKey.get(key)), view);
      },
    );
  }

  #release() {
    this.#shown = [];
    this.redraw();
  }
}

/**
 * The rally just over comes first, before the next one has begun.
 * @param {View["rally"]} rally
 * @returns {OneRally[]}
 */
function ended(rally) {
  if (rally === null) return [];
  const { number, shots, end, earlier } = rally;
  return (end === null ? earlier : [{ number, shots, end }, ...earlier]).slice(0, EARLIER_RALLIES);
}

/** One rally of the list; an element of its own to keep its parts together. */
class Item extends HTMLElement {
  #title = make("span", { class: "rt-title" });
  #told = new ToldRally();

  connectedCallback() {
    if (this.childElementCount > 0) return;
    this.setAttribute("role", "listitem");
    this.append(
      make(
        "details",
        {},
        make("summary", {}, make("span", { class: "rt-line" }, this.#title, this.#told.ribbon)),
        this.#told.shots,
      ),
    );
  }

  /**
   * @param {OneRally} rally
   * @param {View} view
   */
  show(rally, view) {
    setText(this.#title, rallyTitle(rally, view.match));
    this.#told.show(rally, view);
  }
}

customElements.define("rt-earlier-rally", Item);
customElements.define("rt-earlier-rallies", EarlierRallies);
