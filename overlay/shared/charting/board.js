// Where keys lie on a keyboard, to be drawn: US keyboards and those with one key more, with a
// number pad where it is charted on. Pure.

/** @typedef {{ code: string, width: number, tall: boolean }} Place `code`: empty where nothing is charted; `width` in quarters of a key; `tall`: two rows high */

const DIGITS = [key("Backquote"), ...keys("Digit", "1234567890"), key("Minus"), key("Equal"), key("Backspace", 8)];
const UPPER = [...keys("Key", "QWERTYUIOP"), key("BracketLeft"), key("BracketRight")];
const HOME = [...keys("Key", "ASDFGHJKL"), key("Semicolon"), key("Quote")];
const LOWER = [...keys("Key", "ZXCVBNM"), key("Comma"), key("Period"), key("Slash")];
const THUMBS = [key("", 15), key("Space", 26), key("", 19)];

/** The rows of either kind (ANSI INCITS 154, ISO/IEC 9995-2), each 60 wide. */
const ROWS = {
  ansi: [
    DIGITS,
    [key("", 6), ...UPPER, key("Backslash", 6)],
    [key("", 7), ...HOME, key("Enter", 9)],
    [key("", 9), ...LOWER, key("", 11)],
    THUMBS,
  ],
  iso: [
    DIGITS,
    [key("", 6), ...UPPER, key("", 6)],
    [key("", 7), ...HOME, key("Backslash"), key("Enter", 5)],
    [key("", 5), key("IntlBackslash"), ...LOWER, key("", 11)],
    THUMBS,
  ],
};
const WIDE = 60;

/** The number pad, row by row; a tall key takes the place below it, too. */
const PAD = [
  [key(""), key("NumpadDivide"), key("NumpadMultiply"), key("NumpadSubtract")],
  [...keys("Numpad", "789"), tall("NumpadAdd")],
  keys("Numpad", "456"),
  [...keys("Numpad", "123"), tall("NumpadEnter")],
  [key("Numpad0", 8), key("NumpadDecimal")],
];
const PAD_WIDE = 16;
const GAP = 2;

/** @param {string} code @param {number} [width] @returns {Place} */
function key(code, width = 4) {
  return { code, width, tall: false };
}

/** @param {string} code @returns {Place} */
function tall(code) {
  return { ...key(code), tall: true };
}

/** @param {string} kind @param {string} letters @returns {Place[]} */
function keys(kind, letters) {
  return Array.from(letters, (letter) => key(`${kind}${letter}`));
}

/** @param {"ansi" | "iso"} kind @param {boolean} withPad @returns {{ places: Place[], width: number }} row after row */
export function board(kind, withPad) {
  const rows = ROWS[kind];
  return {
    places: rows.flatMap((row, at) => (withPad ? [...row, key("", GAP), ...(PAD[at] ?? [])] : row)),
    width: withPad ? WIDE + GAP + PAD_WIDE : WIDE,
  };
}
