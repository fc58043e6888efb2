/**
 * Spells on defense: `escape.*` and `approach.reached`.
 *
 * A spell is counted the moment it ends. What a rally contributed is taken back if it is
 * replayed; a spell that is open when the match is cut off or the chart ends is never counted.
 */
import { TEAMS, opponentsOf } from "./chart.mjs";

const newTally = () => ({ streak: 0, best: 0, escaped: 0, pressed: 0, reached: 0, approaches: 0 });

/** Follows the defense spells of a whole match. */
export class SpellTracker {
  constructor() {
    this.tally = { a: newTally(), b: newTally() };
    this.keepForReplay();
    /** The open defense spell, at most one at a time: the other team's offense is its mirror. */
    this.open = null;
  }

  keepForReplay() {
    this.atRallyStart = structuredClone(this.tally);
  }

  /**
   * @param {import('./initiative.mjs').Event} event
   * @param {'a'|'b'|null} winner of the rally, if it ended
   */
  step(event, winner) {
    if (event.what === "other") return;
    if (event.what === "read") {
      this.read(event);
      return;
    }
    if (event.what === "ended" && this.open) {
      this.close(winner === this.open.team ? "won" : "lost");
    }
    if (event.what === "replayed") this.tally = this.atRallyStart;
    this.open = null;
    this.keepForReplay();
  }

  read({ holder, rows, rally }) {
    const defending = holder === null ? null : opponentsOf(holder);
    if (this.open && this.open.team !== defending) {
      this.close(holder === null ? "recovered" : "turned");
    }
    if (defending === null) return;
    this.open ??= { team: defending, pressed: false, onReturn: rally.latest.number === 2 };
    const pressing = rows.some((row) => row.team === defending && row.code !== "depth");
    if (pressing) this.open.pressed = true;
  }

  /** @param {'recovered'|'turned'|'won'|'lost'} outcome */
  close(outcome) {
    const { team, pressed, onReturn } = this.open;
    const tally = this.tally[team];
    const escaped = outcome !== "lost";
    this.open = null;
    if (onReturn) {
      tally.approaches += 1;
      if (escaped) tally.reached += 1;
    }
    if (!pressed) return;
    tally.pressed += 1;
    if (escaped) tally.escaped += 1;
    tally.streak = escaped ? tally.streak + 1 : 0;
    tally.best = Math.max(tally.best, tally.streak);
  }

  /** @returns {object[]} the current readings */
  readings() {
    return TEAMS.flatMap((team) => {
      const { streak, best, escaped, pressed, reached, approaches } = this.tally[team];
      const values = {
        "escape.streak": { type: "count", n: streak },
        "escape.best": { type: "count", n: best },
        "escape.share": { type: "share", part: escaped, whole: pressed },
        "approach.reached": { type: "share", part: reached, whole: approaches },
      };
      return Object.entries(values).map(([indicator, value]) => ({ indicator, team, slot: null, value }));
    });
  }
}
