/**
 * Parts of a JSON text as they stand there, byte for byte. Numbers such as `1.0` would not survive
 * parsing and writing in JavaScript, and "the same bytes" is what is promised.
 */

/**
 * @param {string} text an object without white space between its tokens
 * @param {string} name a field of the object itself
 * @returns {string|null} the text of its value, null if there is no such field
 */
export function rawField(text, name) {
  for (const field of split(text)) {
    const mark = `${JSON.stringify(name)}:`;
    if (field.startsWith(mark)) return field.slice(mark.length);
  }
  return null;
}

/**
 * @param {string} text an array without white space between its tokens
 * @returns {string[]} the texts of its elements
 */
export const rawElements = (text) => split(text);

/** Cuts the inside of an object or an array at its own commas. */
function split(text) {
  const parts = [];
  let depth = 0;
  let inString = false;
  let start = 1;
  for (let place = 0; place < text.length; place += 1) {
    const letter = text[place];
    if (inString) {
      if (letter === "\\") place += 1;
      else if (letter === '"') inString = false;
    } else if (letter === '"') {
      inString = true;
    } else if (letter === "{" || letter === "[") {
      depth += 1;
    } else if (letter === "}" || letter === "]") {
      depth -= 1;
      if (depth === 0 && place > start) parts.push(text.slice(start, place));
    } else if (letter === "," && depth === 1) {
      parts.push(text.slice(start, place));
      start = place + 1;
    }
  }
  return parts;
}
