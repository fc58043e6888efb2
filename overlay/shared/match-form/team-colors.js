// Choosing team colors: how they will look on every panel and in gray, and what the
// graphic will correct. The graphic's own rule (../colors.js) decides.

import { SHAPE_CONTRAST, contrast, fitToPlate, luminance, parseColor } from "../colors.js";
import { PLATE } from "../palette.js";

/** Where colors have to stand out. */
export const GROUNDS = /** @type {const} */ ([
  { name: "dark panel", color: PLATE.dark },
  { name: "light panel", color: PLATE.light },
  { name: "text with a dark rim", color: PLATE.text },
]);

/** Closer than this in lightness, two colors are one gray. */
const GRAY_APART = 1.5;

/** @param {string} color */
export function grayOf(color) {
  const light = luminance(color);
  const value = Math.round(255 * (light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055));
  return `#${value.toString(16).padStart(2, "0").repeat(3)}`;
}

/**
 * @param {string} a @param {string} b
 * @returns {string[]} what will be corrected, and what to mind
 */
export function colorWords(a, b) {
  /** @type {string[]} */
  const said = [];
  const pair = [
    { which: "First", color: parseColor(a) },
    { which: "Second", color: parseColor(b) },
  ];
  for (const { which, color } of pair) {
    if (color === null) continue;
    for (const { name, color: ground } of GROUNDS.slice(0, 2)) {
      const ratio = contrast(color, ground);
      if (ratio < SHAPE_CONTRAST)
        said.push(
          `${which} team's color is too close to the ${name} (${ratio.toFixed(1)}:1, needs ${SHAPE_CONTRAST}:1); it is drawn as ${fitToPlate(color, ground)} there.`,
        );
    }
  }
  const [one, other] = pair.map(({ color }) => color);
  if (one != null && other != null && contrast(one, other) < GRAY_APART)
    said.push(
      "In gray both look alike. Shapes still tell the teams apart (round and diamond), but one lighter and one darker color are easier to see.",
    );
  return said.length === 0 ? ["Both stand out from every panel as they are."] : said;
}
