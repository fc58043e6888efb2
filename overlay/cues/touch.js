// A key counts when it is touched, not when the finger leaves it: two thumbs overlap, and
// a finger slides. A click without a touch before it (a keyboard, a screen reader) counts too.

/** A click so soon after a touch of the same key is that touch. */
const SAME_MS = 1_000;

/**
 * @param {HTMLElement} area @param {(button: HTMLElement) => void} press told of each touch of a `[data-press]`
 */
export function onTouch(area, press) {
  /** @type {WeakMap<HTMLElement, number>} */
  const touched = new WeakMap();
  /** @param {Event} event */
  const key = ({ target }) =>
    target instanceof Element ? /** @type {HTMLElement | null} */ (target.closest("[data-press]")) : null;
  area.addEventListener("pointerdown", (event) => {
    const button = key(event);
    if (button === null || event.button !== 0) return;
    touched.set(button, event.timeStamp);
    press(button);
  });
  area.addEventListener("click", (event) => {
    const button = key(event);
    if (button === null) return;
    const before = touched.get(button);
    if (event.detail !== 0 && before !== undefined && event.timeStamp - before < SAME_MS) return;
    press(button);
  });
  // A long touch opens no menu over the keys.
  area.addEventListener("contextmenu", (event) => key(event) !== null && event.preventDefault());
}
