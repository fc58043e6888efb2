// Finds the graphic's delay: somebody looks at the picture that goes out and taps
// when they see a rally end; the host says when it heard of each end. Which end a
// tap is about is not known: the picture may be several rallies late, and the
// charter's word may come after the tap. So the one delay is sought that fits all
// taps. Pure; time comes in.

/** No delay is longer. */
const LONGEST_MS = 300_000;
/** So long before the charter has entered an end somebody may see it, on a picture that is not delayed. */
const AHEAD_MS = 6_000;
/** So long a tap waits for the charter's word about what was seen. */
const SETTLE_MS = 4_000;
/** A tap so far from the others is about something else, or was late. */
const APART_MS = 1_000;
/** Of two delays that fit, a longer one has to fit better: by so much of its own length. */
const LENGTH_COUNTS = 0.003;
const MOST_ENDS = 40;
const MOST_TAPS = 9;
const ENOUGH_TAPS = 3;

/**
 * @typedef {object} Heard
 * @property {number[]} ends when the host heard of the last rally ends, its clock, ms
 * @property {number[]} taps when an end was seen on the picture, the host's clock, ms
 */

/** @returns {Heard} */
export const freshFinder = () => ({ ends: [], taps: [] });

/**
 * @param {Heard} heard
 * @param {{ kind: string, received: string | null } | null} entry the last one of the court
 * @returns {Heard}
 */
export function hear(heard, entry) {
  if (entry === null || entry.kind !== "rally_end") return heard;
  const at = entry.received === null ? Number.NaN : Date.parse(entry.received);
  if (Number.isNaN(at) || heard.ends.includes(at)) return heard;
  return { ...heard, ends: [...heard.ends, at].slice(-MOST_ENDS) };
}

/**
 * @param {Heard} heard
 * @param {number} at
 * @returns {Heard}
 */
export function tap(heard, at) {
  return { ...heard, taps: [...heard.taps, at].slice(-MOST_TAPS) };
}

/**
 * What the taps say by now.
 * @param {Heard} heard
 * @param {number} now the host's clock, ms
 * @returns {{ delayMs: number | null, sentence: string }} the delay in tenths of a second, if there is one to use
 */
export function verdict({ ends, taps }, now) {
  const settled = taps.filter((at) => now - at >= SETTLE_MS);
  const waiting = settled.length < taps.length ? "Noted; the charter's word about it may still come. " : "";
  if (settled.length === 0) return { delayMs: null, sentence: waiting.trim() };
  const found = delaysThatFit(
    settled.map((at) => ends.map((end) => at - end).filter((delay) => delay >= -AHEAD_MS && delay <= LONGEST_MS)),
  );
  const middle = middleOf(found);
  if (middle === undefined)
    return { delayMs: null, sentence: `${waiting}No rally end has come from the charter for this one.` };
  if (found.filter((delay) => Math.abs(delay - middle) <= APART_MS).length * 2 <= found.length) {
    return {
      delayMs: null,
      sentence: `${waiting}The taps do not fit together: ${found.map(seconds).join(", ")}. Tap at more rally ends, or start over.`,
    };
  }
  if (middle <= -100) {
    const sentence =
      `The picture is ahead: you see an end ${seconds(-middle)} before the charter has entered it. ` +
      `Delay the video in the streaming program by ${Math.ceil(-middle / 1000) + 1} s, then start over.`;
    return { delayMs: null, sentence: waiting + sentence };
  }
  const delayMs = Math.max(0, Math.round(middle / 100) * 100);
  const missing = ENOUGH_TAPS - found.length;
  const advice = missing > 0 ? ` Tap at ${missing} more rally end${missing === 1 ? "" : "s"} to be sure.` : "";
  const what =
    found.length === 1
      ? `You saw one end ${seconds(delayMs)} after the host heard of it.`
      : `The middle of ${found.length} taps: ${seconds(delayMs)}.`;
  return { delayMs, sentence: waiting + what + advice };
}

/**
 * One delay a tap, chosen so that they lie together.
 * @param {number[][]} possible for each tap the delays it may stand for
 * @returns {number[]}
 */
function delaysThatFit(possible) {
  const told = possible.filter((delays) => delays.length > 0);
  /** @param {number} delay @param {number[]} delays */
  const nearest = (delay, delays) =>
    delays.reduce((best, one) => (Math.abs(one - delay) < Math.abs(best - delay) ? one : best));
  /** @param {number} delay */
  const misfit = (delay) =>
    // One tap that was late must not decide: beyond a second it counts no more.
    told.reduce((sum, delays) => sum + Math.min(APART_MS, Math.abs(nearest(delay, delays) - delay)), 0) / told.length +
    Math.abs(delay) * LENGTH_COUNTS;
  const [first, ...others] = told.flat();
  if (first === undefined) return [];
  const best = others.reduce((one, other) => (misfit(other) < misfit(one) ? other : one), first);
  return told.map((delays) => nearest(best, delays));
}

/** @param {number[]} numbers */
function middleOf(numbers) {
  return [...numbers].sort((one, other) => one - other)[Math.floor((numbers.length - 1) / 2)];
}

/** @param {number} ms */
export function seconds(ms) {
  return `${(ms / 1000).toFixed(1)} s`;
}
