// How a charter likes the page: sounds, keys shown, arrows that go with the ends of the
// court. Kept in this browser, for every page that is charted on.

import { keptJson, lasting } from "../memory.js";

const KEPT = "rallytide.chart.settings";

/** @typedef {{ sounds: boolean, keysShown: boolean, arrowsFollow: boolean }} Settings */

/** @type {Settings} */
export const USUAL = { sounds: false, keysShown: true, arrowsFollow: true };

/** @returns {Settings} */
export const readSettings = () => ({ ...USUAL, ...keptJson(lasting, KEPT, isSettings, {}) });

/** @param {Settings} settings */
export const keepSettings = (settings) => lasting.setItem(KEPT, JSON.stringify(settings));

/** @param {unknown} value @returns {value is Partial<Settings>} */
const isSettings = (value) =>
  value !== null &&
  typeof value === "object" &&
  Object.entries(value).every(([name, one]) => name in USUAL && typeof one === "boolean");
