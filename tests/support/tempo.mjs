/**
 * The tempo at which a match is typed. Published: 6,839 shots of 8 matches of men's professional
 * doubles in 14.0 ± 5.0 minutes of play each (an activity profile, abstract), so 1.018 shots a
 * second; 84.3 % of rests last 9 to 15 s (same abstract). Not published, a planning figure of
 * ours: a hands battle at the kitchen lines, 14 ft apart, at 13 to 18 m/s, is 3 to 4 shots a second.
 */
export const SHOTS_A_SECOND = 1.018;
export const BURST_A_SECOND = 3.5;
const REST_MS = 12_000;

/** Shots that answer each other at once. */
const FAST = new Set(["volley", "block", "speedup"]);

/**
 * Gives a chart these times, and no others: shots at the mean tempo, exchanges of volleys at the
 * tempo of bursts; what else is seen, between two shots.
 * @param {any[]} entries
 * @param {number} start ms since 1970
 * @returns {{ entries: any[], rate: number, bursts: number }} with `rate` shots a second in play and
 *   so many gaps of bursts
 */
export function atTempo(entries, start) {
  const fast = (entry, before) => before !== undefined && FAST.has(entry.stroke) && FAST.has(before.stroke);
  const gaps = gapsOf(entries);
  const bursts = gaps.filter(([entry, before]) => fast(entry, before)).length;
  const burst = 1000 / BURST_A_SECOND;
  const calm = (gaps.length * (1000 / SHOTS_A_SECOND) - bursts * burst) / (gaps.length - bursts);
  let now = start;
  let before;
  let since = 0;
  const timed = entries.map((entry) => {
    if (entry.kind === "shot") {
      now += before === undefined ? 0 : fast(entry, before) ? burst : calm;
      before = entry;
      since = 0;
    } else if (entry.kind === "rally_end") {
      const at = stamp(now + 1000);
      now += REST_MS;
      before = undefined;
      return { ...entry, at };
    } else since += 1;
    return { ...entry, at: stamp(now + since * (burst / 3)) };
  });
  const rate = gaps.length / ((bursts * burst + (gaps.length - bursts) * calm) / 1000);
  return { entries: timed, rate, bursts };
}

/** Every shot with the one before it in its rally. */
function gapsOf(entries) {
  let before;
  return entries.flatMap((entry) => {
    if (entry.kind === "rally_end") before = undefined;
    if (entry.kind !== "shot") return [];
    const pair = before === undefined ? [] : [[entry, before]];
    before = entry;
    return pair;
  });
}

const stamp = (ms) => new Date(Math.round(ms)).toISOString();
