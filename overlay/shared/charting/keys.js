// The keys in use: an arrangement (presets.js) and whatever a charter has changed in it, key
// by key. Pure, but for `readKeys` and `keepKeys`, which hold the charter's own choice. Knows
// nothing about a match.

/** @import { Arrangement } from "./presets.js" */
import { lasting } from "../memory.js";
import { HANDS, STROKES, USUAL, codesOf, schemeOf } from "./presets.js";

const KEPT = "rallytide.chart.keys";

/** @typedef {Arrangement & { on: boolean, codes: Record<string, string> }} Keys `codes`: action to code */

/** @param {Arrangement} [arrangement] @returns {Keys} as the arrangement has them, nothing changed */
export const defaultKeys = ({ hand, strokes } = USUAL) => ({
  on: true,
  hand,
  strokes,
  codes: codesOf({ hand, strokes }),
});

/** @param {Keys} keys @returns {boolean} whether a key lies elsewhere than its arrangement has it */
export const isChanged = (keys) => Object.entries(codesOf(keys)).some(([action, code]) => keys.codes[action] !== code);

/** @param {Pick<Keys, "codes">} keys @param {string} code @returns {string | null} the action */
export function actionFor(keys, code) {
  return Object.entries(keys.codes).find(([, own]) => own === code)?.[0] ?? null;
}

/**
 * Gives an action another key. A key that was taken goes to the other action in
 * exchange, so that nothing is ever without one.
 * @template {Pick<Keys, "codes">} T @param {T} keys @param {string} action @param {string} code @returns {T}
 */
export function remap(keys, action, code) {
  const had = keys.codes[action];
  const other = actionFor(keys, code);
  const codes = { ...keys.codes, [action]: code };
  if (other !== null && other !== action && had !== undefined) codes[other] = had;
  return { ...keys, codes };
}

/**
 * The keys where the teams have changed ends: the arrows go with them.
 * @param {Keys} keys @param {boolean} changed @returns {Keys}
 */
export function keysAt(keys, changed) {
  const { "team:a": a = "", "team:b": b = "" } = keys.codes;
  return changed ? { ...keys, codes: { ...keys.codes, "team:a": b, "team:b": a } } : keys;
}

/**
 * Whether a key may be given to an action: Tab moves the focus, which nobody may be
 * kept from (WCAG 2.1.2), and keys to hold down mean nothing by themselves.
 * @param {string} code
 */
export const mayMean = (code) =>
  code !== "" && !/^(Tab|CapsLock|ContextMenu|(Shift|Control|Alt|Meta|OS)(Left|Right)|Fn.*)$/.test(code);

/** @param {string} text what `keysText` wrote @returns {Keys} @throws with what is wrong with it */
export function parseKeys(text) {
  /** @type {unknown} */
  const value = JSON.parse(text);
  const given = value !== null && typeof value === "object" && "codes" in value ? value.codes : null;
  if (given === null || typeof given !== "object")
    throw new Error("a key file holds `codes`: an action and a key's name each");
  const keys = defaultKeys(arrangementOf(/** @type {object} */ (value)));
  for (const [action, code] of Object.entries(given)) {
    if (!(action in keys.codes)) throw new Error(`there is no action \`${action}\``);
    if (typeof code !== "string" || !mayMean(code))
      throw new Error(`\`${action}\` needs the name of a key that may mean something`);
    keys.codes[action] = code;
  }
  makeRoomForLater(keys, given);
  if (new Set(Object.values(keys.codes)).size < Object.keys(keys.codes).length)
    throw new Error("two actions share a key");
  keys.on = !("on" in /** @type {object} */ (value)) || /** @type {{on: unknown}} */ (value).on !== false;
  return keys;
}

/** A file from before there were arrangements is of the usual one. @param {object} value @returns {Arrangement} */
function arrangementOf(value) {
  const { hand, strokes } = /** @type {Arrangement} */ ({ ...USUAL, ...value });
  if (!Object.hasOwn(HANDS, hand)) throw new Error(`\`hand\` is one of ${Object.keys(HANDS).join(", ")}`);
  if (!Object.hasOwn(STROKES, strokes)) throw new Error(`\`strokes\` is one of ${Object.keys(STROKES).join(", ")}`);
  return { hand, strokes };
}

const LATER = new Set(["player", "end:ace", "gap", "score", "help"]);

/** Whether there are key files from before there was this key. @param {import("./scheme.js").Key} key */
const cameLater = ({ action, group }) => group === "film" || LATER.has(action);

/**
 * A file from before there was a key may have given its place away: it then takes, in
 * turn, the place that the other action left.
 * @param {Keys} keys @param {object} given
 */
function makeRoomForLater(keys, given) {
  const scheme = schemeOf(keys);
  const takerOf = (/** @type {string} */ code) =>
    scheme.find(
      ({ action, code: own }) => own !== code && /** @type {Record<string, unknown>} */ (given)[action] === code,
    );
  for (const { action, code } of scheme.filter((key) => cameLater(key) && !(key.action in given))) {
    let free = code;
    for (let taker = takerOf(free); taker !== undefined; taker = takerOf(free)) free = taker.code;
    keys.codes[action] = free;
  }
}

/** @param {Keys} keys */
export const keysText = (keys) => JSON.stringify(keys, null, 2);

/** @returns {Keys} */
export function readKeys() {
  const text = lasting.getItem(KEPT);
  if (text === null) return defaultKeys();
  try {
    return parseKeys(text);
  } catch (error) {
    console.warn(`the keys kept here are not usable, the default ones are: ${String(error)}`);
    return defaultKeys();
  }
}

/** @param {Keys} keys */
export const keepKeys = (keys) => lasting.setItem(KEPT, keysText(keys));
