// Keeps a list as it is while a finger, pointer or the focus is on it, so that
// nothing moves away from under them. What came meanwhile waits, and a button in
// a place of its own says so and brings it.

import { make, setText } from "../shared/dom.js";

export class HoldStill {
  button = make("button", { type: "button", class: "rt-newer" });
  #list;
  #release;
  #pointers = new Set();
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
    return this.#pointers.size > 0 || this.#list.contains(document.activeElement);
  }

  connect() {
    const abort = new AbortController();
    const { signal } = abort;
    const list = this.#list;
    list.addEventListener("pointerenter", (event) => this.#pointers.add(event.pointerId), { signal });
    for (const gone of /** @type {const} */ (["pointerleave", "pointercancel"])) {
      list.addEventListener(gone, (event) => this.#lift(event.pointerId), { signal });
    }
    list.addEventListener("focusout", (event) => this.#leave(event.relatedTarget), { signal });
    this.button.addEventListener("click", () => this.#letGo(), { signal });
    this.#forget = () => abort.abort();
  }

  disconnect() {
    this.#forget();
    this.#pointers.clear();
  }

  /**
   * @param {number} count things that wait
   */
  waiting(count) {
    setText(this.button, count === 0 ? "" : `Show ${count} newer`);
    this.button.style.visibility = count === 0 ? "hidden" : "visible";
  }

  /** @param {number} pointer */
  #lift(pointer) {
    this.#pointers.delete(pointer);
    this.#check();
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
    this.#release();
  }
}
