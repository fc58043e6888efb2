// Keeps a list as it is while a finger, pointer or the focus is on it, so that
// nothing moves away from under them. What came meanwhile waits, and a button in
// a place of its own says so and brings it; on the way to it, and on it, the list
// is kept as well. A finger on one list holds the others of the page, too: what
// grows above it would push it away.

import { make, setText } from "../shared/dom.js";

/** How long a pointer may be on its way from the list to the button. */
const ON_THE_WAY_MS = 400;

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
  /** Things that wait. */
  #count = 0;
  #onTheWay = 0;

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
    if (this.#pointers.size > 0 || this.#onTheWay !== 0 || this.#list.contains(document.activeElement)) return true;
    if (this.#count > 0 && document.activeElement === this.button) return true;
    return [...all].some((one) => one.#fingers.size > 0);
  }

  connect() {
    const abort = new AbortController();
    const { signal } = abort;
    all.add(this);
    for (const part of [this.#list, this.button]) {
      part.addEventListener("pointerenter", (event) => this.#touch(event), { signal });
      for (const gone of /** @type {const} */ (["pointerleave", "pointercancel"])) {
        part.addEventListener(gone, (event) => this.#lift(event), { signal });
      }
      part.addEventListener("focusout", (event) => this.#leave(event.relatedTarget), { signal });
    }
    this.button.addEventListener("click", () => this.#letGo(), { signal });
    this.#forget = () => abort.abort();
  }

  disconnect() {
    this.#forget();
    all.delete(this);
    this.#forgetAll();
  }

  /**
   * @param {number} count things that wait
   */
  waiting(count) {
    this.#count = count;
    setText(this.button, count === 0 ? "" : `Show ${count} newer`);
    this.button.style.visibility = count === 0 ? "hidden" : "visible";
  }

  /** @param {PointerEvent} event */
  #touch({ pointerId, pointerType }) {
    this.#pointers.add(pointerId);
    if (pointerType === "touch") this.#fingers.add(pointerId);
  }

  /** @param {PointerEvent} event */
  #lift({ pointerId, pointerType }) {
    this.#pointers.delete(pointerId);
    this.#fingers.delete(pointerId);
    clearTimeout(this.#onTheWay);
    this.#onTheWay = 0;
    if (pointerType !== "touch" && this.#count > 0) {
      this.#onTheWay = setTimeout(() => {
        this.#onTheWay = 0;
        this.#check();
      }, ON_THE_WAY_MS);
    }
    for (const one of all) one.#check();
  }

  /** @param {EventTarget | null} next where the focus goes */
  #leave(next) {
    if (!(next instanceof Node && (this.#list.contains(next) || next === this.button))) this.#check();
  }

  #check() {
    if (!this.isHeld) this.#release();
  }

  #letGo() {
    this.#forgetAll();
    this.#release();
  }

  /** Nobody is on it, as far as is known. */
  #forgetAll() {
    this.#pointers.clear();
    this.#fingers.clear();
    clearTimeout(this.#onTheWay);
    this.#onTheWay = 0;
  }
}
