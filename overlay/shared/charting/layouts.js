// What is printed on the keys: the signs of a key by keyboard layout. Only what differs from
// a US keyboard is listed. Pure.

/** @typedef {"qwerty" | "azerty" | "qwertz"} Layout */
/** @typedef {ReadonlyMap<string, string>} Signs code to the sign that the key types alone */

/** @type {Readonly<Record<Layout, string>>} */
export const LAYOUT_WORDS = {
  qwerty: "QWERTY (US)",
  azerty: "AZERTY (French)",
  qwertz: "QWERTZ (German)",
};

/** The keys that type a sign, row by row. */
const ROWS = [
  ["Backquote", ...named("Digit", "1234567890"), "Minus", "Equal"],
  [...named("Key", "QWERTYUIOP"), "BracketLeft", "BracketRight"],
  [...named("Key", "ASDFGHJKL"), "Semicolon", "Quote", "Backslash"],
  ["IntlBackslash", ...named("Key", "ZXCVBNM"), "Comma", "Period", "Slash"],
];

/**
 * As the keyboards print them, row by row. French and German after xkeyboard-config 2.35.1,
 * `symbols/fr` and `symbols/de`, variant `basic`, first level; dead keys by their sign.
 * Digits stay digits: the French ones need the shift key, but are printed all the same.
 * @type {Readonly<Record<Layout, readonly string[]>>}
 */
const SIGNS = {
  qwerty: ["`1234567890-=", "qwertyuiop[]", "asdfghjkl;'\\", "\\zxcvbnm,./"],
  azerty: ["²1234567890)=", "azertyuiop^$", "qsdfghjklmù*", "<wxcvbn,;:!"],
  qwertz: ["^1234567890ß´", "qwertzuiopü+", "asdfghjklöä#", "<yxcvbnm,.-"],
};

/** @param {string} kind @param {string} letters */
function named(kind, letters) {
  return Array.from(letters, (letter) => `${kind}${letter}`);
}

/** @param {Layout} layout @returns {Signs} */
export const signsOn = (layout) =>
  new Map(ROWS.flatMap((codes, row) => codes.map((code, at) => [code, SIGNS[layout][row]?.[at] ?? ""])));

/**
 * Which layout keys speak for.
 * @param {Signs} typed what some keys are known to type @param {Layout} usual where they do not contradict it
 * @returns {Layout}
 */
export function layoutOf(typed, usual) {
  const fits = (/** @type {Layout} */ layout) => {
    const signs = signsOn(layout);
    return [...typed].every(([code, sign]) => (signs.get(code) ?? sign) === sign);
  };
  return [usual, .../** @type {Layout[]} */ (Object.keys(SIGNS))].find(fits) ?? usual;
}

/** French and German keyboards have one key more, and the large Enter (ISO/IEC 9995-2). @param {Signs | null} signs @returns {"ansi" | "iso"} */
export const boardOf = (signs) => (signs?.get("KeyQ") === "a" || signs?.get("KeyY") === "z" ? "iso" : "ansi");

/** Keys that type nothing, and what is printed on them, or how they are called. @type {Record<string, string>} */
const NAMES = {
  ArrowLeft: "←",
  ArrowRight: "→",
  ArrowUp: "↑",
  ArrowDown: "↓",
  Backspace: "⌫",
  Enter: "⏎",
  Escape: "Esc",
  Delete: "Del",
  PageUp: "PgUp",
  PageDown: "PgDn",
  NumpadAdd: "Num +",
  NumpadSubtract: "Num -",
  NumpadMultiply: "Num *",
  NumpadDivide: "Num /",
  NumpadDecimal: "Num .",
  NumpadEnter: "Num ⏎",
};
const US = signsOn("qwerty");

/** @param {string} code @param {Signs | null} signs what this keyboard's keys type, where that is known @returns {string} as it is printed on the key */
export function keySign(code, signs) {
  const digit = /^(Digit|Numpad)(\d)$/.exec(code);
  if (digit !== null) return digit[1] === "Digit" ? `${digit[2]}` : `Num ${digit[2]}`;
  const sign = signs?.get(code) ?? US.get(code);
  if (sign === undefined) return NAMES[code] ?? code;
  // A German ß has no capital of one letter.
  const capital = sign.toUpperCase();
  return capital.length === sign.length ? capital : sign;
}
