// Keeps a list as it is while a finger, pointer or the focus is on it, so that
// nothing moves away from under them. What came meanwhile waits, and a button in
// a place of its own says so and brings it. A finger on one list holds the
// others of the page as well: what grows above it would push it away.

import { make, setText } from "../shared/dom.js";

/** @type {Set<HoldStill>} the lists of this page */
const all = new Set();

export class HoldStill {
  button = make("button", { type: "button", class: "rt-newer" });
  #list;
  #release;
  #pointers = new Set();
  /** Those of the pointers that are fingers. */
  #fingers = new Set();
  #forget = () => {};

  /**
   * @param {HTMLElement} list
   * @param {() => void} release called when the list may change again
   */
  constructor(list, release) {
    this.#list = list;
    this.#release = release;
    this.button.style.visibility = "hidden";
  }

  /** The list must not change its order now. */
  get isHeld() {
    if (this.#pointers.size > 0 || this.#list.contains(document.activeElement)) return true;
    return [...all].some((one) => one.#fingers.size > 0);
  }

  connect() {
    const abort = new AbortController();
    const { signal } = abort;
    const list = this.#list;
    all.add(this);
    list.addEventListener("pointerenter", (event) => this.#touch(event), { signal });
    for (const gone of /** @type {const} */ (["pointerleave", "pointercancel"])) {
      list.addEventListener(gone, (event) => this.#lift(event.pointerId), { signal });
    }
    list.addEventListener("focusout", (event) => this.#leave(event.relatedTarget), { signal });
    this.button.addEventListener("click", () => this.#letGo(), { signal });
    this.#forget = () => abort.abort();
  }

  disconnect() {
    this.#forget();
    all.delete(this);
    this.#pointers.clear();
    this.#fingers.clear();
  }

  /**
   * @param {number} count things that wait
   */
  waiting(count) {
    setText(this.button, count === 0 ? "" : `Show ${count} newer`);
    this.button.style.visibility = count === 0 ? "hidden" : "visible";
  }

  /** @param {PointerEvent} event */
  #touch({ pointerId, pointerType }) {
    this.#pointers.add(pointerId);
    if (pointerType === "touch") this.#fingers.add(pointerId);
  }

  /** @param {number} pointer */
  #lift(pointer) {
    this.#pointers.delete(pointer);
    this.#fingers.delete(pointer);
    for (const one of all) one.#check();
  }

  /** @param {EventTarget | null} next where the focus goes */
  #leave(next) {
    if (!(next instanceof Node && this.#list.contains(next))) this.#check();
  }

  #check() {
    if (!this.isHeld) this.#release();
  }

  #letGo() {
    this.#pointers.clear();
    this.#fingers.clear();
    this.#release();
  }
}
