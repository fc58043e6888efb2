// Night or daylight on the pages that people work with: what the address says
// (`theme`), else what was chosen in this browser, else what the system says, and
// that as it changes. The graphic takes no part: over a video only the address counts.

import { make } from "./dom.js";
import { lasting } from "./memory.js";

/** @typedef {"system" | "dark" | "light"} Choice */

const KEPT = "rallytide look";
const CHOICES = /** @type {const} */ ([
  ["system", "as this device"],
  ["dark", "dark"],
  ["light", "light"],
]);

/** @type {Choice} */
let chosen = "system";
/** @type {string | null} */
let asked = null;
const isDaylight = globalThis.matchMedia?.("(prefers-color-scheme: light)");

/**
 * @param {string | null} theme what the address says, null where it says nothing
 */
export function followDaylight(theme) {
  asked = theme;
  chosen = kept();
  isDaylight?.addEventListener("change", paint);
  // Chosen in another tab of this browser.
  window.addEventListener("storage", (event) => {
    if (event.key !== KEPT) return;
    chosen = kept();
    paint();
  });
  paint();
}

/**
 * The choice as a labelled field, for the head or foot of a page. What the address
 * says stands until somebody chooses.
 * @returns {HTMLLabelElement}
 */
export function daylightChoice() {
  const field = make("select", { name: "look" }, ...CHOICES.map(([value, words]) => make("option", { value }, words)));
  field.value = asked === "light" || asked === "dark" ? asked : chosen;
  field.addEventListener("change", () => choose(/** @type {Choice} */ (field.value)));
  return make("label", { class: "look-choice" }, make("span", {}, "Display"), field);
}

/** @param {Choice} choice */
function choose(choice) {
  asked = null;
  chosen = choice;
  lasting.setItem(KEPT, choice);
  paint();
}

/** @returns {Choice} */
function kept() {
  const word = lasting.getItem(KEPT);
  return CHOICES.find(([choice]) => choice === word)?.[0] ?? "system";
}

function paint() {
  const root = document.documentElement;
  const theme = asked ?? (chosen === "system" ? (isDaylight?.matches ? "light" : "dark") : chosen);
  if (theme === "dark") delete root.dataset["theme"];
  else root.dataset["theme"] = theme;
}
