/**
 * Length and tempo of rallies, and how completely they were charted: `rally.*` and
 * `charting.coverage`.
 *
 * The current rally begins with its first shot; until then the last one is shown. A replayed
 * rally is forgotten. Only rallies that have ended count for `rally.longest` and the coverage.
 */

/** How many recorded shots the tempo looks back. */
const TEMPO_SHOTS = 6;

/**
 * Median time between the last recorded shots, in milliseconds, rounded down; 0 without a gap.
 * An inserted shot bears the time of the correction, so the gaps beside it say nothing. Nothing is
 * struck before the shot before it: a gap that a clock set back would make negative is none.
 * @param {import('./initiative.mjs').Shot[]} shots
 */
export function tempoOf(shots) {
  const recorded = shots.filter((shot) => !shot.assumed).slice(-TEMPO_SHOTS);
  const gaps = recorded
    .slice(1)
    .map((shot, index) => ({ from: recorded[index], to: shot }))
    .filter(({ from, to }) => !from.inserted && !to.inserted)
    .map(({ from, to }) => Math.max(to.at - from.at, 0))
    .sort((left, right) => left - right);
  if (gaps.length === 0) return 0;
  const upper = Math.floor(gaps.length / 2);
  const lower = gaps.length % 2 === 1 ? upper : upper - 1;
  return Math.floor((gaps[lower] + gaps[upper]) / 2);
}

/** Follows the rallies of a whole match. */
export class RallyTracker {
  constructor() {
    this.lastShots = [];
    this.shown = [];
    this.longest = 0;
    this.complete = 0;
    this.rallies = 0;
  }

  /** @param {import('./initiative.mjs').Event} event */
  step(event) {
    const { shots } = event.rally;
    if (event.what === "ended") {
      this.lastShots = shots;
      this.shown = shots;
      this.longest = Math.max(this.longest, shots.length);
      this.rallies += 1;
      const complete = shots[0]?.stroke === "serve" && !shots.some((shot) => shot.assumed);
      if (complete) this.complete += 1;
    } else if (event.what === "replayed") {
      this.shown = this.lastShots;
    } else if (shots.length > 0) {
      this.shown = shots;
    }
  }

  /** @returns {object[]} the current readings, all of the match */
  readings() {
    const values = {
      "rally.shots": { type: "count", n: this.shown.length },
      "rally.longest": { type: "count", n: this.longest },
      "rally.tempo": { type: "duration", ms: tempoOf(this.shown) },
      "charting.coverage": { type: "share", part: this.complete, whole: this.rallies },
    };
    return Object.entries(values).map(([indicator, value]) => ({ indicator, team: null, slot: null, value }));
  }
}
