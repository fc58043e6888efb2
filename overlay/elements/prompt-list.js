// <rt-prompt-list>: at most three lines a commentator can say, newest first,
// each with its evidence one tap away: the reasons, and the rally they were seen
// in with its ribbon and its shots in words. While a finger or the focus is on the
// list it keeps its order; newer lines wait behind a button. A line can be
// pinned, so that it stays, or waved away; both are remembered on this machine.

/**
 * @import { OneRally, View } from "../types/view.js"
 * @import { Reading } from "../types/messages.js"
 */
import { keyedChildren, make, setAttribute, setText } from "../shared/dom.js";
import { ralliesBehind } from "../shared/evidence.js";
import { promptKey, prompts } from "../shared/indicators.js";
import { Remembered } from "../shared/remembered.js";
import { rallyTitle, valueWords } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { HoldStill } from "./hold-still.js";
import { drawReasons } from "./reason-list.js";
import { ToldRally } from "./told-rally.js";

needStyles("prompt-list.css", import.meta.url);

export class PromptList extends RtElement {
  #list = make("ol", { class: "rt-prompts" });
  #empty = make("p", { class: "rt-empty" }, "No talking points yet");
  #hold = new HoldStill(this.#list, () => this.#release());
  #back = make("button", { type: "button", class: "rt-back" });
  #pinned = new Remembered("pinned prompts");
  #waved = new Remembered("dismissed prompts");
  /** @type {readonly Reading[]} */
  #shown = [];

  /** @override */
  build() {
    this.append(this.#list, this.#empty, make("div", { class: "rt-after" }, this.#hold.button, this.#back));
    this.#back.addEventListener("click", () => {
      for (const { key } of this.#wavedNow()) this.#waved.remove(key);
      this.#release();
    });
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
    const current = prompts(view, this.#pinned, this.#waved);
    /** @param {Reading} reading */
    const keyOf = (reading) => promptKey(view, reading);
    if (this.#hold.isHeld && this.#shown.length > 0) {
      const known = this.#shown.map(slotOf);
      this.#shown = this.#shown.map((shown) => current.find((one) => slotOf(one) === slotOf(shown)) ?? shown);
      this.#hold.waiting(current.filter((one) => !known.includes(slotOf(one))).length);
    } else {
      this.#shown = current;
      this.#hold.waiting(0);
    }
    this.#empty.hidden = this.#shown.length > 0;
    const bySlot = new Map(this.#shown.map((one) => [slotOf(one), one]));
    keyedChildren(
      this.#list,
      [...bySlot.keys()],
      (slot) => this.#createPrompt(slot),
      (node, slot) => {
        const reading = /** @type {Reading} */ (bySlot.get(slot));
        updatePrompt(node, reading, view, {
          isPinned: this.#pinned.has(keyOf(reading)),
          isWaved: this.#waved.has(keyOf(reading)),
        });
      },
    );
    const count = this.#wavedNow().length;
    setText(this.#back, count === 0 ? "" : `Restore ${count} dismissed`);
    this.#back.hidden = count === 0;
  }

  /** Waved-away prompts that the host still has, which are those that can come back. */
  #wavedNow() {
    const { view } = this;
    if (view === null) return [];
    return Object.values(view.readings)
      .filter((reading) => reading.indicator === "prompt")
      .map((reading) => ({ key: promptKey(view, reading) }))
      .filter(({ key }) => this.#waved.has(key));
  }

  /** @param {string} slot */
  #createPrompt(slot) {
    const pin = make("button", { type: "button", class: "rt-pin" });
    const wave = make("button", { type: "button", class: "rt-wave" });
    pin.addEventListener("click", () => this.#toggle(slot, this.#pinned, this.#waved));
    wave.addEventListener("click", () => this.#toggle(slot, this.#waved, this.#pinned));
    const behind = make("div", {
      class: "rt-behind",
      tabindex: "0",
      role: "region",
      "aria-label": "The rally that shows it",
    });
    const details = make("details", {}, make("summary"), make("ul", { class: "rt-reasons" }), behind);
    details.addEventListener("toggle", () => showMeant(behind));
    return make("li", {}, details, make("div", { class: "rt-acts" }, pin, wave));
  }

  /**
   * @param {string} slot
   * @param {Remembered} list
   * @param {Remembered} other a prompt is on one of the two at most
   */
  #toggle(slot, list, other) {
    const reading = this.#shown.find((one) => slotOf(one) === slot);
    if (reading === undefined || this.view === null) return;
    const key = promptKey(this.view, reading);
    if (list.has(key)) list.remove(key);
    else list.add(key);
    other.remove(key);
    this.redraw();
  }

  #release() {
    this.#shown = [];
    this.redraw();
  }
}

/** @param {Reading} reading */
function slotOf(reading) {
  return reading.slot ?? valueWords(reading.value);
}

/**
 * @param {HTMLElement} node
 * @param {Reading} reading
 * @param {View} view
 * @param {{ isPinned: boolean, isWaved: boolean }} marks
 */
function updatePrompt(node, reading, view, { isPinned, isWaved }) {
  const summary = node.querySelector("summary");
  const reasons = node.querySelector("ul");
  const behind = node.querySelector(".rt-behind");
  const pin = node.querySelector(".rt-pin");
  const wave = node.querySelector(".rt-wave");
  if (summary === null || reasons === null || !(behind instanceof HTMLElement) || pin === null || wave === null) return;
  const text = valueWords(reading.value);
  setText(summary, text);
  setAttribute(node, "data-waved", isWaved ? "" : null);
  setText(pin, isPinned ? "Unpin" : "Pin");
  setText(wave, isWaved ? "Restore" : "Dismiss");
  setAttribute(pin, "aria-label", `${isPinned ? "Unpin" : "Pin"}: ${text}`);
  setAttribute(wave, "aria-label", `${isWaved ? "Restore" : "Dismiss"}: ${text}`);
  drawReasons(reasons, view, reading.why);
  const told = new Map(ralliesBehind(view, reading.why).map((one) => [String(one.rally.number), one]));
  keyedChildren(
    behind,
    [...told.keys()],
    () => new Behind(),
    (one, number) => {
      const { rally, meant } = /** @type {{ rally: OneRally, meant: Set<number> }} */ (told.get(number));
      one.show(rally, view, meant);
    },
  );
  behind.hidden = told.size === 0;
}

/**
 * A long rally opens at the shot it is told for.
 * @param {HTMLElement} behind
 */
function showMeant(behind) {
  const shot = behind.querySelector("[data-meant]");
  if (shot === null) return;
  const below = shot.getBoundingClientRect().bottom - behind.getBoundingClientRect().bottom;
  if (below > 0) behind.scrollTop += below;
}

/** The rally that shows a line. */
class Behind extends HTMLElement {
  #title = make("p", { class: "rt-title" });
  #told = new ToldRally();

  connectedCallback() {
    if (this.childElementCount === 0) this.append(this.#title, this.#told.ribbon, this.#told.shots);
  }

  /**
   * @param {OneRally} rally
   * @param {View} view
   * @param {ReadonlySet<number>} meant
   */
  show(rally, view, meant) {
    setText(this.#title, rallyTitle(rally, view.match));
    this.#told.show(rally, view, meant);
  }
}

customElements.define("rt-prompt-rally", Behind);

customElements.define("rt-prompt-list", PromptList);
