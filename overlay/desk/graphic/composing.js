// The graphic's options as they are clicked together, and the query they become.
// Pure. Only what differs from the graphic's own defaults goes into the link.

import { ANCHORS, DEFAULT_PIECES, PIECES, THEMES } from "../../shared/options.js";

/** Where a piece stands if nobody says otherwise; `""` in the form. */
export const OWN_PLACE = "";

/** @typedef {(typeof PIECES)[number]} Piece */
/**
 * @typedef {object} Composition
 * @property {Piece[]} pieces besides `show`, which stands wherever something is to be shown
 * @property {string[]} show indicators as `name` or `name/slot`
 * @property {Partial<Record<Piece, string>>} at
 * @property {string} theme
 * @property {number} scale
 * @property {boolean} still
 * @property {number} delayMs
 */

/** Pieces that need no further word. */
export const CHOICES = /** @type {const} */ ([
  { piece: "strap", label: "Score strap (names, score, who is on offense)" },
  { piece: "insert", label: "After a long rally: who attacked, and when" },
  { piece: "score", label: "Large score" },
  { piece: "moment", label: "Pop-ups (out of pressure, game point)" },
  { piece: "tide", label: "Initiative bar" },
  { piece: "ribbon", label: "Rally ribbon (shot by shot)" },
]);

/** @returns {Composition} */
export function freshComposition() {
  return {
    pieces: CHOICES.map(({ piece }) => piece).filter((piece) => DEFAULT_PIECES.includes(piece)),
    show: [],
    at: {},
    theme: "dark",
    scale: 1,
    still: false,
    delayMs: 0,
  };
}

/**
 * @param {Composition} composition
 * @returns {Record<string, string>} options of the graphic's address
 */
export function optionsOf(composition) {
  /** @type {Record<string, string>} */
  const options = {};
  const shown = PIECES.filter((piece) =>
    piece === "show" ? composition.show.length > 0 : composition.pieces.includes(piece),
  );
  const isDefault = CHOICES.every(({ piece }) => shown.includes(piece) === DEFAULT_PIECES.includes(piece));
  if (!isDefault) options["pieces"] = shown.join(",");
  if (composition.show.length > 0) options["show"] = composition.show.join(",");
  const at = shown.flatMap((piece) => {
    const place = composition.at[piece] ?? OWN_PLACE;
    return ANCHORS.some((anchor) => anchor === place) ? [`${piece}:${place}`] : [];
  });
  if (at.length > 0) options["at"] = at.join(",");
  if (composition.theme !== "dark" && THEMES.some((theme) => theme === composition.theme))
    options["theme"] = composition.theme;
  if (composition.scale !== 1) options["scale"] = String(composition.scale);
  if (composition.still) options["motion"] = "off";
  if (composition.delayMs > 0) options["delay"] = delayText(composition.delayMs);
  return options;
}

/** @param {number} ms */
export function delayText(ms) {
  return ms % 100 === 0 ? `${ms / 1000}s` : `${ms}ms`;
}
