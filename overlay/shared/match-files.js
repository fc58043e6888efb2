// What the host hands out of a match to take away: for whom, under which path, by
// which name. Pure.

// Files for a video take `offset` or `start`, tables for spreadsheets `bom`.

/** @typedef {"people" | "spreadsheet" | "video" | "program"} Readership */
/** @typedef {{ file: string, label: string }} MatchFile `file` is what stands behind the match in its path */

/** @type {readonly { for: Readership, words: string, files: readonly MatchFile[] }[]} */
export const MATCH_FILES = [
  { for: "people", words: "To read or print", files: [{ file: "export/match.html", label: "page" }] },
  {
    for: "spreadsheet",
    words: "For a spreadsheet (CSV)",
    files: [
      ...["shots", "rallies", "events"].map((table) => ({ file: `export/${table}.csv`, label: table })),
      { file: "export/readings.csv", label: "statistics" },
    ],
  },
  {
    for: "video",
    words: "For a video (WebVTT)",
    files: ["captions", "chapters"].map((track) => ({ file: `export/${track}.vtt`, label: track })),
  },
  {
    for: "program",
    words: "For programs (JSON Lines)",
    files: [
      { file: "chart.jsonl", label: "chart" },
      { file: "feed.jsonl", label: "recording" },
      { file: "readings.jsonl", label: "statistics" },
    ],
  },
];

/** @param {string} match id @param {string} file @param {Record<string, string>} [options] @returns {string} */
export function filePath(match, file, options = {}) {
  const query = new URLSearchParams(options).toString();
  return `/matches/${encodeURIComponent(match)}/${file}${query === "" ? "" : `?${query}`}`;
}

/** @param {string} match id @param {string} file @returns {string} what it is saved as */
export const fileName = (match, file) => `${match}.${file.slice(file.lastIndexOf("/") + 1)}`;
