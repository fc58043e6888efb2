// What is half typed or composed survives a reload: in this tab, or in this browser
// for the next day of the event.

import { keptJson, lasting, ofThisTab } from "../shared/memory.js";

const place = (/** @type {string} */ name) => `rallytide.desk.${name}`;
/** @returns {value is unknown} */
const isAnything = (/** @type {unknown} */ value) => value !== undefined;

/** @param {string} name @param {{ isLasting?: boolean }} [how] @returns {any} null: nothing was kept */
export function readDraft(name, { isLasting = false } = {}) {
  return keptJson(isLasting ? lasting : ofThisTab, place(name), isAnything, null);
}

/** @param {string} name @param {unknown} value null forgets it @param {{ isLasting?: boolean }} [how] */
export function keepDraft(name, value, { isLasting = false } = {}) {
  const memory = isLasting ? lasting : ofThisTab;
  if (value === null) memory.removeItem(place(name));
  else memory.setItem(place(name), JSON.stringify(value));
}
