// Which physical key means what. Keys are named by `KeyboardEvent.code`, so that
// every layout has them in the same place. Pure, but for `readKeys` and
// `keepKeys`, which hold the charter's own choice. Knows nothing about a match.

import { lasting } from "../memory.js";

const KEPT = "rallytide.chart.keys";

/**
 * @typedef {{ action: string, group: string, words: string, code: string }} Key
 * An action is a verb and what it is about: `stroke:dink`, `cue:awkward`, `end:out`.
 */

/** @type {readonly Key[]} reasons for the places: README.md */
export const SCHEME = [
  { action: "next", group: "shots", words: "auto: serve · return · volley", code: "Space" },
  { action: "stroke:dink", group: "shots", words: "dink", code: "KeyJ" },
  { action: "stroke:drop", group: "shots", words: "drop", code: "KeyK" },
  { action: "stroke:block", group: "shots", words: "block", code: "KeyL" },
  { action: "stroke:drive", group: "shots", words: "drive", code: "Semicolon" },
  { action: "stroke:dink:air", group: "shots", words: "dink, air", code: "KeyU" },
  { action: "stroke:reset:air", group: "shots", words: "reset, air", code: "KeyI" },
  { action: "stroke:speedup:bounce", group: "shots", words: "speedup", code: "KeyO" },
  { action: "stroke:overhead", group: "shots", words: "overhead", code: "KeyP" },
  { action: "stroke:dink:half_volley", group: "shots", words: "dink, half volley", code: "KeyM" },
  { action: "stroke:reset:half_volley", group: "shots", words: "reset, half volley", code: "Comma" },
  { action: "stroke:speedup:air", group: "shots", words: "speedup, air", code: "Period" },
  { action: "stroke:volley", group: "shots", words: "volley", code: "Quote" },
  { action: "stroke:lob:bounce", group: "shots", words: "lob", code: "Slash" },
  { action: "stroke:erne", group: "shots", words: "erne", code: "KeyH" },
  { action: "stroke:atp", group: "shots", words: "around the post", code: "KeyY" },
  { action: "stroke:other", group: "shots", words: "other", code: "KeyN" },
  { action: "cue:attackable", group: "cues", words: "high ball", code: "KeyF" },
  { action: "cue:off_balance", group: "cues", words: "off balance", code: "KeyD" },
  { action: "cue:awkward", group: "cues", words: "awkward", code: "KeyS" },
  { action: "cue:net_cord", group: "cues", words: "net cord", code: "KeyA" },
  { action: "before", group: "cues", words: "previous ball", code: "KeyV" },
  { action: "missed", group: "cues", words: "missed a shot (same side)", code: "KeyG" },
  { action: "player", group: "cues", words: "which player", code: "KeyT" },
  { action: "gap", group: "cues", words: "looked away", code: "KeyC" },
  { action: "contact:half_volley", group: "cues", words: "half volley", code: "KeyR" },
  { action: "contact:air", group: "cues", words: "in the air", code: "KeyE" },
  { action: "contact:bounce", group: "cues", words: "bounce", code: "KeyW" },
  { action: "depth:a", group: "cues", words: "where {a} stands", code: "KeyQ" },
  { action: "depth:b", group: "cues", words: "where {b} stands", code: "KeyZ" },
  { action: "end:winner", group: "ends", words: "winner", code: "Digit1" },
  { action: "end:out", group: "ends", words: "out", code: "Digit2" },
  { action: "end:net", group: "ends", words: "net", code: "Digit3" },
  { action: "end:fault", group: "ends", words: "fault", code: "Digit4" },
  { action: "end:ace", group: "ends", words: "ace", code: "Backquote" },
  { action: "replay", group: "ends", words: "replay", code: "Digit5" },
  { action: "time_out", group: "ends", words: "time-out", code: "Digit6" },
  { action: "confirm", group: "ends", words: "whoever hit last", code: "Enter" },
  { action: "team:a", group: "ends", words: "{a}", code: "ArrowLeft" },
  { action: "team:b", group: "ends", words: "{b}", code: "ArrowRight" },
  { action: "undo", group: "fixing", words: "undo", code: "Backspace" },
  { action: "redo", group: "fixing", words: "redo", code: "Backslash" },
  { action: "older", group: "fixing", words: "previous entry", code: "ArrowUp" },
  { action: "newer", group: "fixing", words: "next entry", code: "ArrowDown" },
  { action: "remove", group: "fixing", words: "remove", code: "Delete" },
  { action: "insert", group: "fixing", words: "insert after", code: "KeyX" },
  { action: "cancel", group: "fixing", words: "cancel", code: "Escape" },
  { action: "detail", group: "fixing", words: "charting level", code: "Digit0" },
  { action: "score", group: "fixing", words: "set the score", code: "Digit9" },
  { action: "help", group: "fixing", words: "help with keys", code: "F1" },
  { action: "film:play", group: "film", words: "play · pause", code: "KeyB" },
  { action: "film:back", group: "film", words: "1 s back", code: "BracketLeft" },
  { action: "film:on", group: "film", words: "1 s forward", code: "BracketRight" },
  { action: "film:far_back", group: "film", words: "5 s back", code: "Minus" },
  { action: "film:far_on", group: "film", words: "5 s forward", code: "Equal" },
  { action: "film:frame_back", group: "film", words: "frame back", code: "PageUp" },
  { action: "film:frame_on", group: "film", words: "frame forward", code: "PageDown" },
  { action: "film:slower", group: "film", words: "slower", code: "Digit7" },
  { action: "film:faster", group: "film", words: "faster", code: "Digit8" },
];

/** @typedef {{ on: boolean, codes: Record<string, string> }} Keys `codes`: action to code */

/** @returns {Keys} */
export const defaultKeys = () => ({ on: true, codes: Object.fromEntries(SCHEME.map((key) => [key.action, key.code])) });

/** @param {Keys} keys @param {string} code @returns {string | null} the action */
export function actionFor(keys, code) {
  return Object.entries(keys.codes).find(([, own]) => own === code)?.[0] ?? null;
}

/**
 * Gives an action another key. A key that was taken goes to the other action in
 * exchange, so that nothing is ever without one.
 * @param {Keys} keys @param {string} action @param {string} code @returns {Keys}
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
  const keys = defaultKeys();
  for (const [action, code] of Object.entries(given)) {
    if (!(action in keys.codes)) throw new Error(`there is no action \`${action}\``);
    if (typeof code !== "string" || !mayMean(code))
      throw new Error(`\`${action}\` needs the name of a key that may mean something`);
    keys.codes[action] = code;
  }
  makeRoomForLater(keys, given);
  if (new Set(Object.values(keys.codes)).size < SCHEME.length) throw new Error("two actions share a key");
  keys.on = !("on" in /** @type {object} */ (value)) || /** @type {{on: unknown}} */ (value).on !== false;
  return keys;
}

const LATER = new Set(["player", "end:ace", "gap", "score", "help"]);

/** Whether there are key files from before there was this key. @param {Key} key */
const cameLater = ({ action, group }) => group === "film" || LATER.has(action);

/**
 * A file from before there was a key may have given its place away: it then takes, in
 * turn, the place that the other action left.
 * @param {Keys} keys @param {object} given
 */
function makeRoomForLater(keys, given) {
  for (const { action, code } of SCHEME.filter((key) => cameLater(key) && !(key.action in given))) {
    let free = code;
    for (let taker = takerOf(given, free); taker !== undefined; taker = takerOf(given, free)) free = taker.code;
    keys.codes[action] = free;
  }
}

/** @param {object} given @param {string} code */
const takerOf = (given, code) =>
  SCHEME.find(
    ({ action, code: own }) => own !== code && /** @type {Record<string, unknown>} */ (given)[action] === code,
  );

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

/** @type {Record<string, string>} */
const SIGNS = {
  Semicolon: ";",
  Quote: "'",
  Comma: ",",
  Period: ".",
  Slash: "/",
  Backslash: "\\",
  ArrowLeft: "←",
  ArrowRight: "→",
  ArrowUp: "↑",
  ArrowDown: "↓",
  Backspace: "⌫",
  Enter: "⏎",
  Escape: "Esc",
  Delete: "Del",
  BracketLeft: "[",
  BracketRight: "]",
  Minus: "-",
  Equal: "=",
  PageUp: "PgUp",
  PageDown: "PgDn",
  Backquote: "`",
};

/** @param {string} code @param {ReadonlyMap<string, string> | null} layout the browser's, where it tells */
export function keySign(code, layout) {
  const real = layout?.get(code);
  if (real !== undefined) return real.toUpperCase();
  return SIGNS[code] ?? code.replace(/^(Key|Digit)/, "");
}
