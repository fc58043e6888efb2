// Which key means what for the second seat: an arrangement, and whatever a person has
// changed in it. Keys are places on the keyboard (`KeyboardEvent.code`), not letters: the
// commonest cue under the index finger, the rest outwards, the depth where that finger
// reaches inwards. Pure, but for `readKeys` and `keepKeys`.

/** @import { Half } from "./sides.js" */
import { lasting } from "../shared/memory.js";
import { mayMean } from "../shared/charting/keys.js";
import { CUES, wordFor } from "../shared/trade-words.js";

const KEPT = "rallytide.cues.shortcuts";

/** @typedef {{ half: Half, what: string } | { half: null, what: "undo" }} Meaning `what`: a cue, or `depth` */
/** @typedef {"both" | "left" | "right"} Hands */
/** @typedef {{ on: boolean, hands: Hands, codes: Record<string, string> }} CueKeys `codes`: action to code; an action is a half and what, or `undo` */

/** The cues in the order of the keys, from the index finger outwards. */
export const CUE_ORDER = ["attackable", "off_balance", "awkward", "net_cord"];

/** @type {Readonly<Record<Hands, string>>} */
export const HANDS = {
  both: "Both hands",
  left: "Left hand alone",
  right: "Right hand alone",
};

/**
 * The four cues and the depth of each half, and undo. A hand alone has the left half on its
 * own row, the right half on the row above, undo under the thumb.
 * @type {Readonly<Record<Hands, Record<Half, readonly string[]> & { undo: string }>>}
 */
const PLACES = {
  both: {
    left: ["KeyF", "KeyD", "KeyS", "KeyA", "KeyG"],
    right: ["KeyJ", "KeyK", "KeyL", "Semicolon", "KeyH"],
    undo: "Backspace",
  },
  left: {
    left: ["KeyF", "KeyD", "KeyS", "KeyA", "KeyG"],
    right: ["KeyR", "KeyE", "KeyW", "KeyQ", "KeyT"],
    undo: "Space",
  },
  right: {
    left: ["KeyJ", "KeyK", "KeyL", "Semicolon", "KeyH"],
    right: ["KeyU", "KeyI", "KeyO", "KeyP", "KeyY"],
    undo: "Space",
  },
};

const HALVES = /** @type {const} */ (["left", "right"]);

/** @type {readonly (Meaning & { action: string })[]} all that can be said with a key */
export const MEANINGS = [
  ...HALVES.flatMap((half) => [...CUE_ORDER, "depth"].map((what) => ({ action: `${half}:${what}`, half, what }))),
  { action: "undo", half: null, what: "undo" },
];

/** @param {Hands} [hands] @returns {CueKeys} as they come */
export function usualKeys(hands = "both") {
  const { undo, ...halves } = PLACES[hands];
  const codes = HALVES.flatMap((half) =>
    [...CUE_ORDER, "depth"].map((what, at) => [`${half}:${what}`, halves[half][at] ?? ""]),
  );
  return { on: true, hands, codes: { ...Object.fromEntries(codes), undo } };
}

/** @param {CueKeys} keys @param {string} code @returns {Meaning | undefined} */
export const meaningOf = ({ codes }, code) => MEANINGS.find(({ action }) => codes[action] === code);

/** @param {CueKeys} keys @param {Half | null} half @param {string} what @returns {string} its key */
export const codeOf = ({ codes }, half, what) => codes[half === null ? "undo" : `${half}:${what}`] ?? "";

/** @param {Meaning} meaning @returns {string} as it is called where no match says whose half it is */
export function meaningWords({ half, what }) {
  if (half === null) return "undo";
  return `${half} half: ${what === "depth" ? "depth" : wordFor(CUES, what)}`;
}

/** @returns {CueKeys} */
export function readKeys() {
  const text = lasting.getItem(KEPT);
  if (text === null) return usualKeys();
  try {
    return keysFrom(JSON.parse(text));
  } catch (error) {
    console.warn(`the keys kept here are not usable, the usual ones are: ${String(error)}`);
    return usualKeys();
  }
}

/** @param {CueKeys} keys */
export const keepKeys = (keys) => lasting.setItem(KEPT, JSON.stringify(keys));

/** @param {any} value what was kept @returns {CueKeys} @throws with what is wrong with it */
export function keysFrom(value) {
  if (value === null || typeof value !== "object" || !Object.hasOwn(HANDS, value.hands))
    throw new Error(`\`hands\` is one of ${Object.keys(HANDS).join(", ")}`);
  const keys = usualKeys(value.hands);
  for (const action of Object.keys(keys.codes)) {
    const code = value.codes?.[action];
    if (typeof code !== "string" || !mayMean(code))
      throw new Error(`\`${action}\` needs a key that may mean something`);
    keys.codes[action] = code;
  }
  if (new Set(Object.values(keys.codes)).size < MEANINGS.length) throw new Error("two of them share a key");
  return { ...keys, on: value.on !== false };
}
