/**
 * What goes wrong while charting, and the keys of the page that put it right: how many there are,
 * and how long they take by a model of hands. Each is tried on the page (`chart-mistakes.test.mjs`).
 */

/**
 * Keystroke-Level Model (Card, Moran & Newell 1980), seconds: a key of an average non-secretary
 * typist, and getting ready for what is to be done.
 */
const KEY_S = 0.28;
const READY_S = 1.35;

const SERVED = ["Space", "Space", "KeyK"];
const END = ["Digit2", "Enter"];
/** A rally as it was played, where nothing else is said, and its keys. The first team serves and wins it. */
const PLAYED = "a serve, b return, a drop, b dink, a dink, b dink, out by b";
const RIGHT = [...SERVED, "KeyJ", "KeyJ", "KeyJ", ...END];

/**
 * @typedef {object} Mistake
 * @property {string} what
 * @property {string[]} typed up to where it is noticed, as codes of the usual keys
 * @property {string[]} fix
 * @property {string[]} [on] what is typed after the fix
 * @property {string} [played] what the chart has to say then
 */
/** @type {Mistake[]} one after another in one match: all but the last keep the first team serving */
export const MISTAKES = [
  {
    what: "wrong stroke, seen at once",
    typed: [...SERVED, "KeyL"],
    fix: ["Backspace", "KeyJ"],
    on: ["KeyJ", "KeyJ", ...END],
  },
  {
    what: "wrong stroke, seen two shots later",
    typed: [...SERVED, "KeyL", "KeyJ", "KeyJ"],
    fix: ["ArrowUp", "ArrowUp", "ArrowUp", "KeyJ"],
    on: END,
  },
  {
    what: "wrong contact, seen at once",
    typed: [...SERVED, "KeyJ"],
    fix: ["KeyR"],
    on: ["KeyJ", "KeyJ", ...END],
    played: "a serve, b return, a drop, b dink half_volley, a dink, b dink, out by b",
  },
  {
    what: "a shot left out, seen before the next",
    typed: SERVED,
    fix: ["KeyG"],
    on: ["KeyJ", "KeyJ", ...END],
    played: "a serve, b return, a drop, a dink, b dink, out by b",
  },
  {
    what: "a shot left out, seen two shots later",
    typed: [...SERVED, "KeyJ", "KeyJ"],
    fix: ["ArrowUp", "ArrowUp", "ArrowUp", "KeyX", "KeyJ"],
    on: END,
  },
  {
    what: "a shot too many, seen at once",
    typed: [...SERVED, "KeyJ", "KeyJ"],
    fix: ["Backspace"],
    on: ["KeyJ", "KeyJ", ...END],
  },
  {
    what: "a shot too many, seen two shots later",
    typed: [...SERVED, "KeyL", "KeyJ", "KeyJ", "KeyJ"],
    fix: ["ArrowUp", "ArrowUp", "ArrowUp", "ArrowUp", "Delete"],
    on: END,
  },
  {
    what: "a cue on the wrong ball, seen at once",
    typed: [...SERVED, "KeyJ", "KeyD"],
    fix: ["Backspace", "KeyV", "KeyD"],
    on: ["KeyJ", "KeyJ", ...END],
    played: "a serve, b return, a drop off_balance, b dink, a dink, b dink, out by b",
  },
  {
    what: "a cue forgotten, seen two shots later",
    typed: [...SERVED, "KeyJ", "KeyJ"],
    fix: ["ArrowUp", "ArrowUp", "ArrowUp", "KeyF"],
    on: ["KeyJ", ...END],
    played: "a serve, b return, a drop attackable, b dink, a dink, b dink, out by b",
  },
  {
    what: "a rally ended another way, seen at once",
    typed: [...RIGHT.slice(0, -2), "Digit3", "Enter"],
    fix: ["ArrowUp", "Digit2"],
  },
  {
    what: "a rally to the wrong team, seen at once",
    typed: [...RIGHT.slice(0, -1), "ArrowLeft"],
    fix: ["ArrowUp", "ArrowRight"],
  },
  {
    what: "a rally not charted at all, its winner known",
    typed: [],
    fix: ["ArrowLeft"],
    played: "won by a",
  },
  {
    what: "a rally that is played again, charted as over",
    typed: RIGHT,
    fix: ["Digit5", "Enter"],
    played: "a serve, b return, a drop, b dink, a dink, b dink, replay",
  },
  {
    what: "a time-out that was none",
    typed: ["Digit6", "ArrowLeft"],
    fix: ["Backspace"],
    on: RIGHT,
  },
  {
    what: "looked away in a rally",
    typed: SERVED,
    fix: ["KeyC"],
    on: ["KeyJ", "KeyJ", ...END],
    played: "a serve, b return, a drop, note, a dink, b dink, out by b",
  },
  {
    // The page took the other team for the server: its shots change sides, too.
    what: "a rally to the wrong team, seen at the end of the next one",
    typed: [...RIGHT.slice(0, -1), "ArrowLeft", ...SERVED, "Digit2", "ArrowLeft"],
    fix: ["ArrowUp", "ArrowUp", "ArrowUp", "ArrowUp", "ArrowUp", "ArrowRight", "ArrowDown", "ArrowDown", "KeyG"],
    played: `${PLAYED}, a serve, b return, a drop, out by a`,
  },
];

/** @param {Mistake} mistake @returns {string} */
export const playedIn = ({ played = PLAYED }) => played;

/** @param {Mistake} mistake @returns {number} by the model, from noticing to the last key */
export const secondsOf = ({ fix }) => READY_S + fix.length * KEY_S;

/** @returns {string[]} the table in Markdown */
export const tableOfMistakes = () => [
  "| mistake | keys | seconds by the model |",
  "|---|---|---|",
  ...MISTAKES.map((mistake) => `| ${mistake.what} | ${mistake.fix.length} | ${secondsOf(mistake).toFixed(1)} |`),
];
