/**
 * Flags: what looks odd about an effective entry although it is accepted as recorded.
 *
 * Judged in the order of the effective chart. Entries after the one that ends the match are
 * never flagged, since they count for nothing. Flags change neither score nor readings.
 */
import { Match } from "./scoring.mjs";

/** A rally as far as flags need to know it. */
const newRally = () => ({ shots: new Set(), lastTeam: null, served: false });

/**
 * What each kind may be flagged for. A rule sees the score before the entry, and updates `rally`.
 * @type {Record<string, (entry: any, id: string, rally: any, match: Match) => (string|false)[]>}
 */
const RULES = {
  shot(entry, id, rally, match) {
    const serves = entry.stroke === "serve";
    const flags = [
      serves && !rally.served && entry.team !== match.serving && "serve_by_receivers",
      rally.lastTeam === entry.team && "missed_shot",
      !serves && !rally.served && "no_serve",
    ];
    rally.served ||= serves;
    rally.lastTeam = entry.team;
    rally.shots.add(id);
    return flags;
  },
  cue(entry, _id, rally) {
    const named = entry.shot ?? null;
    const known = named === null ? rally.shots.size > 0 : rally.shots.has(named);
    return [!known && "no_shot"];
  },
  time_out(entry, _id, _rally, match) {
    return [!entry.medical && match.timeOutsLeft[entry.team] === 0 && "no_time_out_left"];
  },
};

/**
 * @param {any} header
 * @param {import('./chart.mjs').EffectiveEntry[]} effective
 * @returns {{entry: string, flags: string[]}[]} one for each effective entry, in their order
 */
export function flagLines(header, effective) {
  const match = new Match(header);
  let rally = newRally();
  return effective.map(({ id, entry }) => {
    const over = match.winner !== null;
    const rule = over ? undefined : RULES[entry.kind];
    const flags = rule ? rule(entry, id, rally, match).filter(Boolean) : [];
    match.apply(entry);
    if (entry.kind === "rally_end" || entry.kind === "replay") rally = newRally();
    return { entry: id, flags };
  });
}
