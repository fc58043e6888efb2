// The word list of overlay/WORDS.md as data, and where wordings break it. Pure.

/** @import { Wording } from "./visible-words.js" */

/** @typedef {{ say: string, never: string, pattern: RegExp }} Rule */

/** Codes of files and wire, alone in a string: no word for people. */
const CODES = new Set(["attackable", "sitter", "atp"]);

/** @param {string} markdown @returns {Rule[]} */
export function readWordList(markdown) {
  return markdown
    .split("\n")
    .filter((line) => line.startsWith("| ") && !line.startsWith("| say |"))
    .flatMap((line) => {
      const [, say = "", , never = ""] = line.split("|").map((cell) => cell.trim());
      const phrases = never.split("·").map((phrase) => phrase.trim());
      return phrases
        .filter((phrase) => phrase !== "")
        .map((phrase) => ({ say, never: phrase, pattern: patternOf(phrase) }));
    });
}

/** @param {string} phrase a phrase; `…` at its end: any ending */
function patternOf(phrase) {
  const words = phrase
    .replace(/…$/, "")
    .split(" ")
    .map((word) => word.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
  const end = phrase.endsWith("…") ? "" : "(?![\\w-])";
  return new RegExp(`(?<![\\w-])${words.join("\\s+")}${end}`, "i");
}

/**
 * @param {readonly Rule[]} list
 * @param {readonly Wording[]} wordings
 * @returns {(Wording & Rule)[]}
 */
export function breaches(list, wordings) {
  return wordings.flatMap((wording) => {
    // What stands in backticks or braces is a code, or filled in.
    const read = wording.text.replace(/`[^`]*`|\{[^}]*\}/g, "…");
    if (CODES.has(read)) return [];
    return list.filter(({ pattern }) => pattern.test(read)).map((rule) => ({ ...wording, ...rule }));
  });
}
