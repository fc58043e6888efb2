// Which indicators the graphic can show, by what the plugins say they provide and
// what they publish on a court right now. Pure.

/** @import { RegisteredPlugin } from "../../types/host.js" */
/** @import { Reading } from "../../types/messages.js" */
import { MATCH_ROWS, TEAM_ROWS, labelOf, namedIndicator } from "../../shared/indicators.js";
import { isIndicatorName } from "../../shared/options.js";

/** Lines for the commentator's eyes, and a help for the charter: not for viewers. */
const NOT_FOR_VIEWERS = new Set(["prompt", "rally.tempo"]);

/** @typedef {{ name: string, words: string, plugin: string }} Offered */

/**
 * Every number that can be put on the graphic, plugin by plugin. One that comes
 * in slots (such as a share for each stroke) is offered slot by slot.
 * @param {readonly RegisteredPlugin[]} plugins
 * @param {readonly Reading[]} readings of the court, as far as they are known
 * @returns {Offered[]}
 */
export function offeredNumbers(plugins, readings) {
  return plugins
    .filter(({ on }) => on)
    .flatMap(({ id, provides }) =>
      provides
        .filter((indicator) => !NOT_FOR_VIEWERS.has(indicator))
        .flatMap((indicator) =>
          namesOf(indicator, readings).map((name) => ({ name, words: numberWords(name), plugin: id })),
        ),
    );
}

/** @param {string} indicator @param {readonly Reading[]} readings @returns {string[]} */
function namesOf(indicator, readings) {
  const known = [...TEAM_ROWS, ...MATCH_ROWS]
    .filter((row) => row.indicator === indicator)
    .map(({ slot }) => slot ?? null);
  const published = readings.filter((reading) => reading.indicator === indicator).map(({ slot }) => slot);
  const slots = new Set([...known, ...published]);
  if (slots.size === 0) return [indicator];
  return [...slots].map((slot) => (slot === null ? indicator : `${indicator}/${slot}`)).filter(isIndicatorName);
}

/** @param {string} name `indicator` or `indicator/slot` */
export function numberWords(name) {
  const { indicator, slot } = namedIndicator(name);
  return `${labelOf(indicator, slot)} (${name})`;
}
