// A file that somebody chose for import: rows of text are shown to be changed, a
// workbook goes to the host as it is. Pure.

/** What a file says of itself in its first bytes. */
const MARKS = [
  { bytes: [0xef, 0xbb, 0xbf], encoding: "utf-8" },
  { bytes: [0xff, 0xfe], encoding: "utf-16le" },
  { bytes: [0xfe, 0xff], encoding: "utf-16be" },
];

/**
 * @param {ArrayBuffer} content
 * @returns {{ text: string, caution: string } | null} null: it is no text
 */
export function decodeRows(content) {
  const bytes = new Uint8Array(content);
  const mark = MARKS.find((one) => one.bytes.every((byte, at) => bytes[at] === byte));
  if (mark !== undefined) return { text: new TextDecoder(mark.encoding).decode(bytes), caution: "" };
  // No text holds a zero byte; workbooks, pictures and documents do.
  if (bytes.includes(0)) return null;
  try {
    return { text: new TextDecoder("utf-8", { fatal: true }).decode(bytes), caution: "" };
  } catch {
    const caution = "The file does not say how its letters are written: check names with accents.";
    return { text: new TextDecoder("windows-1252").decode(bytes), caution };
  }
}

/** @param {number} bytes */
export const sizeWords = (bytes) =>
  bytes < 1024 * 1024 ? `${Math.ceil(bytes / 1024)} KB` : `${(bytes / 1024 / 1024).toFixed(1)} MB`;
