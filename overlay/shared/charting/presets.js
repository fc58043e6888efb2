// Whole arrangements of the keys: which hand has the shots, and how many strokes are told
// apart. A charter chooses one and may change single keys on top (keys.js). Places are our
// own; why they lie where they do: overlay/chart/README.md. Pure.

import { RESET, SCHEME } from "./scheme.js";

/** @typedef {"right" | "left" | "pad"} Hand which hand has the shots; `pad`: the right one, on the number pad */
/** @typedef {"all" | "few"} Strokes */
/** @typedef {{ hand: Hand, strokes: Strokes }} Arrangement */

/** @type {Readonly<Record<Hand, string>>} in plain words */
export const HANDS = {
  right: "Right hand for the shots",
  left: "Left hand for the shots (mirrored)",
  pad: "Number pad for the shots",
};

/** @type {Readonly<Record<Strokes, string>>} */
export const STROKES = {
  all: "Every stroke",
  few: "Few: dink, volley, drop, reset, other",
};

/** @type {Arrangement} as the page comes */
export const USUAL = { hand: "right", strokes: "all" };

/**
 * The strokes that are told apart where few are: the four commonest after serve and return,
 * which the order says. Of 7130 shots of `rallytide simulate` (seeds 1 to 8, best of three):
 * dink 27 %, volley 17 %, drop 8 %, reset 7 %; block 6 %, drive 5 %, speedup 5 %. Our own
 * estimate, nothing published.
 */
export const FEW = ["dink", "volley", "drop", "reset"];

/** What any other stroke is charted as. */
export const OTHER = "other";

/** @param {string} stroke @param {Strokes} strokes @returns {string} what it is charted as */
export const strokeIn = (stroke, strokes) =>
  strokes === "all" || stroke === "serve" || stroke === "return" || FEW.includes(stroke) ? stroke : OTHER;

/** Places that lie opposite each other. Digits, Enter, arrows and Backspace stay: an end takes two hands. */
const OPPOSITE = new Map(
  [
    ["KeyQ", "KeyP"],
    ["KeyW", "KeyO"],
    ["KeyE", "KeyI"],
    ["KeyR", "KeyU"],
    ["KeyT", "KeyY"],
    ["KeyA", "Semicolon"],
    ["KeyS", "KeyL"],
    ["KeyD", "KeyK"],
    ["KeyF", "KeyJ"],
    ["KeyG", "KeyH"],
    ["KeyZ", "Slash"],
    ["KeyX", "Period"],
    ["KeyC", "Comma"],
    ["KeyV", "KeyM"],
    ["KeyB", "KeyN"],
  ].flatMap(([one = "", other = ""]) => [
    [one, other],
    [other, one],
  ]),
);

/**
 * Where a hand wants another place than the usual one, mirrored or not. There is no key for
 * Quote to lie opposite of: its stroke, seldom typed, goes to the corner, and an ace and a
 * time-out give way.
 * @type {Readonly<Record<Hand, Readonly<Record<string, string>>>>}
 */
const OWN_PLACES = {
  right: {},
  left: { "stroke:volley": "Backquote", "end:ace": "Digit6", time_out: "Quote" },
  pad: {
    next: "Numpad0",
    "stroke:dink": "Numpad4",
    "stroke:drop": "Numpad5",
    "stroke:block": "Numpad6",
    "stroke:drive": "NumpadAdd",
    "stroke:dink:air": "Numpad7",
    "stroke:reset:air": "Numpad8",
    "stroke:speedup:bounce": "Numpad9",
    "stroke:overhead": "NumpadDivide",
    "stroke:dink:half_volley": "Numpad1",
    "stroke:reset:half_volley": "Numpad2",
    "stroke:speedup:air": "Numpad3",
    "stroke:volley": "NumpadMultiply",
    "stroke:lob:bounce": "NumpadDecimal",
    confirm: "NumpadEnter",
    undo: "NumpadSubtract",
  },
};

/** With few strokes the home row holds all: drop and dink stay, the two fingers beside them get these. */
const FEW_PLACES = {
  right: { [RESET.action]: "KeyL", "stroke:other": "Semicolon" },
  left: { [RESET.action]: "KeyS", "stroke:other": "KeyA" },
  pad: { [RESET.action]: "Numpad6", "stroke:other": "NumpadAdd" },
};

/** The keys of strokes that stay where they are: a volley has the thumb's, and its own to fix one. */
const STAYS = new Set(["stroke:dink", "stroke:drop", "stroke:volley"]);

/** @param {Arrangement} arrangement @returns {Record<string, string>} action to code */
export function codesOf({ hand, strokes }) {
  const places = SCHEME.map(({ action, code }) => [
    action,
    OWN_PLACES[hand][action] ?? (hand === "left" ? (OPPOSITE.get(code) ?? code) : code),
  ]);
  if (strokes === "all") return Object.fromEntries(places);
  const kept = places.filter(([action = ""]) => !action.startsWith("stroke:") || STAYS.has(action));
  return { ...Object.fromEntries(kept), ...FEW_PLACES[hand] };
}

/** Few strokes, as they lie from the index finger outwards. @type {readonly import("./scheme.js").Key[]} */
const FEW_KEYS = [
  ...SCHEME.filter(({ action }) => action === "stroke:dink" || action === "stroke:drop"),
  RESET,
  ...SCHEME.filter(({ action }) => action === "stroke:other").map((key) => ({ ...key, words: "any other stroke" })),
  ...SCHEME.filter(({ action }) => action === "stroke:volley"),
];

/** @param {Arrangement} arrangement @returns {import("./scheme.js").Key[]} what has a key, group by group, where the arrangement puts it */
export function schemeOf({ hand, strokes }) {
  const codes = codesOf({ hand, strokes });
  const isStroke = (/** @type {string} */ action) => action.startsWith("stroke:");
  const all =
    strokes === "all"
      ? SCHEME
      : SCHEME.filter(({ action }) => !isStroke(action)).flatMap((key) =>
          key.action === "next" ? [key, ...FEW_KEYS] : [key],
        );
  return all.map((key) => ({ ...key, code: codes[key.action] ?? key.code }));
}
