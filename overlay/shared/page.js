// What the pages do alike: take the URL's options, dress the document, open the
// source. The pages' own main.js only say which elements go where.

/**
 * @import { Options } from "./options.js"
 * @import { Source } from "./source.js"
 */
import { fitToPlate, parseColour } from "./colours.js";
import { withRole } from "./options.js";
import { liveSource, recordedSource } from "./source.js";
import { whenStyled } from "./styles.js";

/** The plate of theme.css, where a page's own is written in a way not read here. */
const OUR_PLATE = "#10181d";

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
 * @param {Options} options
 * @param {HTMLElement} root
 */
export function dress(options, root) {
  for (const problem of options.problems) console.warn(`this page's address: ${problem}`);
  root.style.setProperty("--rt-scale", String(options.scale));
  if (options.theme !== "dark") root.dataset["theme"] = options.theme;
  if (options.still) root.dataset["motion"] = "off";
  // The plate's colour is known once the sheets, a streamer's own among them, are there.
  void whenStyled().then(() => colourTeams(options, root));
}

/**
 * @param {Options} options
 * @param {HTMLElement} root
 */
function colourTeams(options, root) {
  const plate = parseColour(getComputedStyle(root).getPropertyValue("--rt-plate")) ?? OUR_PLATE;
  for (const team of /** @type {const} */ (["a", "b"])) {
    const colour = options[team];
    if (colour !== null) root.style.setProperty(`--rt-${team}`, fitToPlate(colour, plate));
  }
}
