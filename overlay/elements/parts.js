// Small pieces several elements draw: a team's shape and its name.

/**
 * @import { Side } from "../types/view.js"
 */
import { make, setAttribute, setText } from "../shared/dom.js";
import { nameFit } from "../shared/words.js";

/** @param {Side} team */
export function shape(team) {
  return make("span", { class: "rt-shape", "data-team": team, "aria-hidden": "true" });
}

/**
 * @param {HTMLElement} node
 * @param {string} name
 */
export function setName(node, name) {
  setText(node, name);
  setAttribute(node, "data-fit", String(nameFit(name)));
}
