// The buttons and keys that move a picture, a video's or a drawn rally's: built and
// kept in step with the keys in use. What they do is up to whoever has the picture.

/** @import { Keys } from "./keys.js" */
import { make, setAttribute, setText } from "../dom.js";
import { SCHEME, keySign } from "./keys.js";

/** @param {HTMLElement} parent @param {Record<string, string>} [words] where they mean something else than for a video; only these are built then */
export function buildFilmKeys(parent, words) {
  for (const key of SCHEME.filter(({ group }) => group === "film")) {
    const own = words === undefined ? key.words : words[key.action];
    if (own !== undefined)
      parent.append(make("button", { type: "button", "data-action": key.action }, make("kbd"), make("span", {}, own)));
  }
}

/** @param {HTMLElement} parent @param {Keys} keys @param {ReadonlyMap<string, string> | null} layout @param {boolean} running */
export function renderFilmKeys(parent, keys, layout, running) {
  for (const button of parent.querySelectorAll("button[data-action]")) {
    const action = button.getAttribute("data-action") ?? "";
    const [sign] = button.children;
    if (sign !== undefined) setText(sign, keys.on ? keySign(keys.codes[action] ?? "", layout) : "");
    if (action === "film:play") setAttribute(button, "aria-pressed", running ? "true" : null);
  }
}
