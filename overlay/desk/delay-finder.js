// Finds the graphic's delay: somebody looks at the picture that goes out and taps
// when they see a rally end; the host says when it heard of that end. Pure.

/** A tap so long after an end belongs to no rally the host has told of. */
const LONGEST_MS = 60_000;

/**
 * @typedef {object} Heard
 * @property {number[]} ends when the host heard of the last rally ends, its clock, ms
 * @property {number[]} found delays of the taps so far, ms
 */

/** @returns {Heard} */
export const freshFinder = () => ({ ends: [], found: [] });

/**
 * @param {Heard} heard
 * @param {{ kind: string, received: string } | null} entry the last one of the court
 * @returns {Heard}
 */
export function hear(heard, entry) {
  if (entry === null || entry.kind !== "rally_end") return heard;
  const at = Date.parse(entry.received);
  if (Number.isNaN(at) || heard.ends.includes(at)) return heard;
  return { ...heard, ends: [...heard.ends, at].slice(-5) };
}

/**
 * @param {Heard} heard
 * @param {number} at when the end was seen on the picture, the host's clock, ms
 * @returns {{ heard: Heard, sentence: string }}
 */
export function tap(heard, at) {
  const end = heard.ends.filter((one) => one <= at).at(-1);
  if (end === undefined || at - end > LONGEST_MS) {
    return {
      heard,
      sentence: "No rally end has come from the charter yet for this one. If you always see the end before the charter enters it, the picture is ahead: "
        + "delay the video in the streaming program first, by two or three seconds.",
    };
  }
  const found = [...heard.found, at - end].slice(-9);
  const advice = found.length < 3 ? ` Tap at ${3 - found.length} more rally end${found.length === 2 ? "" : "s"} to be sure.` : "";
  return { heard: { ...heard, found }, sentence: `This end came ${seconds(at - end)} after the host heard of it.${advice}` };
}

/** @param {Heard} heard @returns {number | null} ms, in tenths of a second; the middle of the taps */
export function delayFound(heard) {
  const sorted = [...heard.found].sort((x, y) => x - y);
  const middle = sorted[Math.floor((sorted.length - 1) / 2)];
  return middle === undefined ? null : Math.round(middle / 100) * 100;
}

/** @param {number} ms */
export function seconds(ms) {
  return `${(ms / 1000).toFixed(1)} s`;
}
