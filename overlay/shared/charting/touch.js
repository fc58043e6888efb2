// Buttons that act at the touch: a tap counts when the finger comes down, whether another
// finger is still there or it slides before it leaves. Keyboards and screen readers press
// them as ever.

/** How long the device is felt, in ms, where it can be. */
const FELT_MS = 12;

/**
 * @param {HTMLElement} parent @param {string} selector of its buttons that act so
 * @param {(button: HTMLElement) => void} act
 */
export function actOnTouch(parent, selector, act) {
  /** The button that each pointer came down on. @type {Map<number, Element>} */
  const down = new Map();
  /** @param {Event} event */
  const buttonOf = ({ target }) => {
    const button = target instanceof Element ? target.closest(selector) : null;
    return button instanceof HTMLElement && !button.matches(":disabled") ? button : null;
  };
  parent.addEventListener("pointerdown", (event) => {
    const button = buttonOf(event);
    if (button === null || event.button !== 0) return;
    down.set(event.pointerId, button);
    if (event.pointerType === "touch") navigator.vibrate?.(FELT_MS);
    act(button);
  });
  // A button that a pointer pressed takes no focus: it would swallow the next space bar.
  parent.addEventListener("mousedown", (event) => {
    if (buttonOf(event) !== null) event.preventDefault();
  });
  parent.addEventListener("click", (event) => {
    const button = buttonOf(event);
    if (button === null) return;
    const { pointerId } = /** @type {Partial<PointerEvent>} */ (event);
    const counted = pointerId === undefined ? event.detail > 0 : down.get(pointerId) === button;
    if (pointerId !== undefined) down.delete(pointerId);
    if (!counted) act(button);
  });
}
