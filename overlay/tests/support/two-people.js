// Two people at one made-up match: when each ball was struck, when the one at the strokes
// recorded it, when the other one marked what was seen. Delays and slips from a seed.

/** @param {number} seed @returns {() => number} 0 ≤ x < 1; mulberry32, a generator in the public domain (from memory) */
export function seeded(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/**
 * @typedef {object} Habits in ms
 * @property {number} strokes how late strokes are recorded, on average
 * @property {number} strokesSpread standard deviation
 * @property {number} cues how late cues are marked
 * @property {number} cuesSpread
 * @property {number} [skew] the stroke person's clock is so much ahead
 */

/** @param {number} seed @param {Habits} habits @param {number} [rallies] */
export function twoPeople(seed, { strokes, strokesSpread, cues, cuesSpread, skew = 0 }, rallies = 40) {
  const chance = seeded(seed);
  // Box and Muller's way to a normal distribution.
  const normal = () => Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());
  const moments = [];
  const presses = [];
  let struck = Date.UTC(2026, 4, 2, 10);
  for (let rally = 1; rally <= rallies; rally += 1) {
    let team = rally % 2 === 0 ? "a" : "b";
    let recorded = 0;
    const length = 2 + Math.floor(chance() * 14);
    for (let n = 1; n <= length; n += 1) {
      recorded = Math.max(recorded + 60, struck + strokes + strokesSpread * normal() + skew);
      const id = `r${rally}s${n}`;
      moments.push({ id, kind: "shot", team, stroke: "dink", player: null, at: recorded, rally, n });
      if (chance() < 0.3) presses.push({ team, at: struck + cues + cuesSpread * normal(), about: id });
      team = team === "a" ? "b" : "a";
      // A fast exchange at the net, else the usual tempo.
      struck += chance() < 0.4 ? 500 + 200 * chance() : 900 + 700 * chance();
    }
    recorded = Math.max(recorded + 60, struck + strokes + skew);
    moments.push({ id: `r${rally}e`, kind: "end", team: null, stroke: "", player: null, at: recorded, rally, n: 0 });
    struck += 8_000 + 6_000 * chance();
  }
  return { moments, presses: presses.sort((one, other) => one.at - other.at) };
}
