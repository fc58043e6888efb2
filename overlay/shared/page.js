// What the pages do alike: take the URL's options, dress the document, open the
// source. The pages' own main.js only say which elements go where.

/**
 * @import { Options } from "./options.js"
 * @import { Source } from "./source.js"
 */
import { followDaylight } from "./daylight.js";
import { withRole } from "./options.js";
import { liveSource, recordedSource } from "./source.js";
import { TeamColors } from "./team-colors.js";

/**
 * @param {Options} options
 * @param {"viewer" | "booth"} role
 * @returns {Source}
 */
export function pageSource(options, role) {
  if (options.recorded !== null) return recordedSource(options.recorded, options.pace, options.delayMs);
  return liveSource(withRole(options.feed, role), options.delayMs);
}

/**
 * A page that people work with: night or daylight as they like it.
 * @param {Options} options
 * @returns {TeamColors} to be told of each match
 */
export function dressPage(options) {
  followDaylight(options.theme);
  return dress(options, document.documentElement);
}

/**
 * The graphic: what the address says, and nothing of the machine's own.
 * @param {Options} options
 * @param {HTMLElement} root
 * @returns {TeamColors} to be told of each match
 */
export function dress(options, root) {
  for (const problem of options.problems) console.warn(`this page's address: ${problem}`);
  root.style.setProperty("--rt-scale", String(options.scale));
  if (options.theme !== null && options.theme !== "dark") root.dataset["theme"] = options.theme;
  if (options.still) root.dataset["motion"] = "off";
  root.dataset["minCases"] = String(options.minCases);
  return new TeamColors(options, root);
}
