// Which key means what. Keys are places on the keyboard (`KeyboardEvent.code`), not
// letters: each hand rests on the row of its half, the commonest cue under the index
// finger, the rest outwards, the depth where the index finger reaches inwards. Pure.

/** @import { Half } from "./sides.js" */

/** @typedef {{ half: Half, what: string } | { half: null, what: "undo" }} Meaning `what`: a cue, or `depth` */

/** The cues in the order of the keys, from the index finger outwards. */
export const CUE_ORDER = ["attackable", "off_balance", "awkward", "net_cord"];

/** @type {Readonly<Record<Half, readonly string[]>>} */
const ROWS = {
  left: ["KeyF", "KeyD", "KeyS", "KeyA"],
  right: ["KeyJ", "KeyK", "KeyL", "Semicolon"],
};
const DEPTH = { left: "KeyG", right: "KeyH" };

/** @type {ReadonlyMap<string, Meaning>} */
const MEANINGS = new Map(
  /** @type {[string, Meaning][]} */ ([
    ["Backspace", { half: null, what: "undo" }],
    .../** @type {const} */ (["left", "right"]).flatMap((half) => [
      ...ROWS[half].map((code, at) => [code, { half, what: CUE_ORDER[at] }]),
      [DEPTH[half], { half, what: "depth" }],
    ]),
  ]),
);

/** @param {string} code @returns {Meaning | undefined} */
export const meaningOf = (code) => MEANINGS.get(code);

/**
 * @param {Half | null} half @param {string} what @param {ReadonlyMap<string, string> | null} layout what the keyboard's own keys show, where the browser tells
 * @returns {string} as it stands on the key
 */
export function signOf(half, what, layout) {
  for (const [code, meaning] of MEANINGS)
    if (meaning.half === half && meaning.what === what)
      return layout?.get(code)?.toUpperCase() ?? (code === "Semicolon" ? ";" : code.replace("Key", ""));
  return "";
}
