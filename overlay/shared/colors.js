// Contrast by the WCAG 2.x formula, and team colors made fit for a plate.
// Pure. It changes lightness only as far as needed and never the hue.

import { INKS } from "./palette.js";

/** Shapes and edges need this much against what is next to them (WCAG 1.4.11). */
export const SHAPE_CONTRAST = 3;
/** Text needs this much (WCAG 1.4.3). */
const TEXT_CONTRAST = 4.5;

/**
 * @param {string} text `RRGGBB` or `RGB`, with or without `#`
 * @returns {string | null} `#rrggbb`, or null if it is no color
 */
export function parseColor(text) {
  const digits = /^#?([0-9a-f]{6}|[0-9a-f]{3})$/i.exec(text.trim())?.[1]?.toLowerCase();
  if (digits === undefined) return null;
  return digits.length === 6 ? `#${digits}` : `#${[...digits].map((digit) => digit + digit).join("")}`;
}

/**
 * Relative luminance, WCAG 2.x.
 * @param {string} color `#rrggbb`
 */
export function luminance(color) {
  const [red, green, blue] = channels(color).map((value) => {
    const share = value / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return (
    0.2126 * /** @type {number} */ (red) +
    0.7152 * /** @type {number} */ (green) +
    0.0722 * /** @type {number} */ (blue)
  );
}

/**
 * Contrast ratio, WCAG 2.x: 1 to 21, not rounded.
 * @param {string} one
 * @param {string} other
 */
export function contrast(one, other) {
  const light = Math.max(luminance(one), luminance(other));
  const dark = Math.min(luminance(one), luminance(other));
  return (light + 0.05) / (dark + 0.05);
}

/**
 * The color, moved towards white (or black, on a light plate) only until it
 * stands out from the plate.
 * @param {string} color
 * @param {string} plate
 * @param {number} [least]
 * @returns {string}
 */
export function fitToPlate(color, plate, least = SHAPE_CONTRAST) {
  const target = luminance(plate) < 0.18 ? 255 : 0;
  for (let step = 0; step <= 50; step += 1) {
    const tried = mixed(color, target, step / 50);
    if (contrast(tried, plate) >= least) return tried;
  }
  return mixed(color, target, 1);
}

/**
 * A team's color as a fill that stands out from the plate, and the ink for words on
 * it: the better one, the fill lifted further until those words can be read.
 * @param {string} color
 * @param {string} plate
 * @returns {{ fill: string, ink: string }}
 */
export function fitTeam(color, plate) {
  const target = luminance(plate) < 0.18 ? 255 : 0;
  for (let step = 0; step <= 50; step += 1) {
    const fill = mixed(color, target, step / 50);
    const ink = bestInk(fill);
    if (contrast(fill, plate) >= SHAPE_CONTRAST && contrast(ink, fill) >= TEXT_CONTRAST) return { fill, ink };
  }
  const fill = mixed(color, target, 1);
  return { fill, ink: bestInk(fill) };
}

/** @param {string} fill */
function bestInk(fill) {
  return INKS.reduce((best, ink) => (contrast(ink, fill) > contrast(best, fill) ? ink : best));
}

/**
 * @param {string} color
 * @param {number} target 0 or 255
 * @param {number} share
 */
function mixed(color, target, share) {
  const parts = channels(color).map((value) => Math.round(value + (target - value) * share));
  return `#${parts.map((value) => value.toString(16).padStart(2, "0")).join("")}`;
}

/** @param {string} color */
function channels(color) {
  return [1, 3, 5].map((at) => Number.parseInt(color.slice(at, at + 2), 16));
}
