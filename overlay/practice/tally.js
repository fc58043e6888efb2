// What a set of practice rallies adds up to: how much was right, how far behind,
// and what to practice next. Pure.

/**
 * @import { Comparison, Finding, Kind, Row } from "./compare.js"
 */
import { lagOf } from "./compare.js";

/** @typedef {{ name: string, of: number, mistaken: number, instead: string | null }} Weak `instead`: what was charted most often in its place */
/**
 * @typedef {object} Tally
 * @property {number} shots played that were to be charted
 * @property {number} right of these, charted without any mistake
 * @property {number} rallies
 * @property {number} clean of these, without any mistake at all
 * @property {Record<Kind, number>} found
 * @property {{ median: number, worst: number, of: number } | null} lag
 * @property {Weak[]} strokes the ones mistaken, the most often mistaken first
 * @property {Weak[]} cues the ones missed, the most often missed first
 */

/** @returns {Record<Kind, number>} */
const nothing = () => ({
  missed: 0,
  extra: 0,
  stroke: 0,
  contact: 0,
  side: 0,
  cue_missed: 0,
  cue_extra: 0,
  end_missed: 0,
  end_how: 0,
  end_side: 0,
  end_extra: 0,
});

/** @param {readonly Comparison[]} comparisons one a rally @returns {Tally} */
export function tally(comparisons) {
  const rows = comparisons.flatMap((one) => one.rows);
  // A shot nobody charted and nobody asked for counts neither way.
  const played = rows.filter((one) => one.played !== null && (one.charted !== null || one.findings.length > 0));
  const found = nothing();
  for (const one of comparisons) for (const { kind } of findingsOf(one)) found[kind] += 1;
  return {
    shots: played.length,
    right: played.filter((one) => one.charted !== null && one.findings.length === 0).length,
    rallies: comparisons.length,
    clean: comparisons.filter((one) => findingsOf(one).length === 0).length,
    found,
    lag: lagOf(rows),
    strokes: weakest(played, ({ played: one }) => (one === null ? [] : [one.stroke]), ["missed", "stroke", "contact"]),
    cues: weakest(played, ({ played: one }) => one?.cues ?? [], ["cue_missed"]),
  };
}

/** @param {Comparison} comparison */
export const findingsOf = ({ rows, end }) => [...rows.flatMap(({ findings }) => findings), ...end];

/**
 * @param {readonly Row[]} rows @param {(row: Row) => readonly string[]} namesOf what was there to be charted
 * @param {readonly Kind[]} kinds the findings that speak against it @returns {Weak[]}
 */
function weakest(rows, namesOf, kinds) {
  /** @type {Map<string, Weak & { taken: Map<string, number> }>} */
  const weak = new Map();
  for (const row of rows) {
    for (const name of namesOf(row)) {
      const one = weak.get(name) ?? { name, of: 0, mistaken: 0, instead: null, taken: new Map() };
      weak.set(name, one);
      one.of += 1;
      const against = row.findings.find((finding) => kinds.includes(finding.kind) && isAbout(finding, name));
      if (against === undefined) continue;
      one.mistaken += 1;
      if (against.kind === "stroke" && against.instead !== undefined)
        one.taken.set(against.instead, (one.taken.get(against.instead) ?? 0) + 1);
    }
  }
  const mistaken = [...weak.values()].filter((one) => one.mistaken > 0);
  mistaken.sort(
    (one, other) =>
      other.mistaken - one.mistaken ||
      other.mistaken / other.of - one.mistaken / one.of ||
      one.name.localeCompare(other.name),
  );
  return mistaken.map(({ taken, ...one }) => ({
    ...one,
    instead: [...taken].sort((one_, other) => other[1] - one_[1])[0]?.[0] ?? null,
  }));
}

/** A cue's finding names the cue; one about a stroke or its contact stands in that stroke's row. @param {Finding} finding @param {string} name */
const isAbout = ({ kind, what }, name) => !kind.startsWith("cue") || what === name;
