// The latest entries as a charter sees them: a shot with all that was marked about it
// is one line, however the marks came: with it, after it, or by a fix. Pure.

/** @import { Seen } from "./local-chart.js" */

/** @typedef {{ seen: Seen, marks: Seen[] }} Line `marks`: the `cue` entries about this shot */

/** @param {Seen} seen @returns {string[]} the cues a shot's own entry carries */
export const ownCues = ({ entry }) => /** @type {string[]} */ (entry["cues"] ?? []);

/** @param {string} kind */
export const endsRally = (kind) => kind === "rally_end" || kind === "replay";

/** @param {readonly Seen[]} recent oldest first @returns {Line[]} a cue whose shot is not among them has a line of its own */
export function linesOf(recent) {
  /** @type {Line[]} */
  const lines = [];
  /** The shots of the rally so far. @type {Map<string, Line>} */
  let rally = new Map();
  for (const seen of recent) {
    const { entry } = seen;
    const about = entry["shot"] === undefined ? [...rally.values()].at(-1) : rally.get(String(entry["shot"]));
    if (entry.kind === "cue" && about !== undefined) {
      about.marks.push(seen);
      continue;
    }
    const line = { seen, marks: [] };
    lines.push(line);
    if (entry.kind === "shot") rally.set(entry.id, line);
    if (endsRally(entry.kind)) rally = new Map();
  }
  return lines;
}

/** @param {Line} line @returns {string[]} every cue marked on it, each once */
export const cuesOn = ({ seen, marks }) => [
  ...new Set([...ownCues(seen), ...marks.map(({ entry }) => String(entry["cue"]))]),
];
