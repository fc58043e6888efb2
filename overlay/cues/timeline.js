// The strokes of a match in time: what the chart holds, as far as corrections have left
// it, with when the person at the strokes recorded each. Pure.

/** @import { Entry } from "../shared/charting/local-chart.js" */

/** @typedef {Entry & { seq: number }} Stored */
/**
 * A shot, or the end of a rally.
 * @typedef {object} Moment
 * @property {string} id
 * @property {"shot" | "end"} kind
 * @property {string | null} team who struck the shot
 * @property {string} stroke of a shot
 * @property {number | null} player
 * @property {number} at ms since 1970, by the clock of whoever recorded it
 * @property {number} rally counted from 1
 * @property {number} n of a shot: its number in the rally, as far as it was recorded
 */

/**
 * What remains after all corrections, in the order it happened: the rules of the
 * chart format, as the host applies them.
 * @param {readonly Stored[]} entries in the order of the host
 * @returns {{ id: string, at: string, inserted: boolean, play: any }[]}
 */
export function effective(entries) {
  const place = new Map(entries.map(({ id }, at) => [id, at]));
  /** Of each entry the latest correction that is in force. @type {(number | undefined)[]} */
  const deciding = [];
  for (let at = entries.length - 1; at >= 0; at -= 1) {
    const { kind, target } = /** @type {Stored & { target?: string }} */ (entries[at]);
    const corrects = (kind === "retract" || kind === "amend") && deciding[at] === undefined;
    const on = corrects ? place.get(String(target)) : undefined;
    if (on !== undefined) deciding[on] ??= at;
  }
  /** @type {Map<number, number[]>} */
  const inserted = new Map();
  const FIRST = -1;
  for (const [at, { kind, after }] of entries.entries())
    if (kind === "insert") {
      const anchor = after === null ? FIRST : (place.get(String(after)) ?? FIRST);
      inserted.set(anchor, [...(inserted.get(anchor) ?? []), at]);
    }
  /** @type {{ id: string, at: string, inserted: boolean, play: any }[]} */
  const laid = [];
  const put = (/** @type {number} */ at) => {
    const recorded = /** @type {any} */ (entries[at]);
    const content = /** @type {any} */ (entries[deciding[at] ?? at]);
    if (content.kind === "retract") return;
    const play = content.kind === "amend" ? content.with : content.kind === "insert" ? content.entry : content;
    laid.push({ id: recorded.id, at: recorded.at, inserted: recorded.kind === "insert", play });
  };
  const putInserted = (/** @type {number} */ anchor) => {
    const waiting = [...(inserted.get(anchor) ?? [])];
    for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
      put(at);
      waiting.push(...(inserted.get(at) ?? []));
    }
  };
  putInserted(FIRST);
  for (const [at, { kind }] of entries.entries()) {
    if (kind === "retract" || kind === "amend" || kind === "insert") continue;
    put(at);
    putInserted(at);
  }
  return laid;
}

/**
 * @typedef {object} Timeline
 * @property {Moment[]} moments in order
 * @property {ReadonlyMap<string, string | null>} behind for every entry in force, the moment it stands behind
 */

/**
 * The shots and ends of rallies. One that was put in later was recorded when it was put
 * in, so it counts as halfway between its neighbors.
 * @param {readonly Stored[]} entries
 * @returns {Timeline}
 */
export function timelineOf(entries) {
  /** @type {(Moment & { late: boolean })[]} */
  const moments = [];
  /** @type {Map<string, string | null>} */
  const behind = new Map();
  let rally = 1;
  let n = 0;
  for (const { id, at, inserted, play } of effective(entries)) {
    behind.set(id, moments.at(-1)?.id ?? null);
    const isEnd = play.kind === "rally_end" || play.kind === "replay";
    if (!isEnd && play.kind !== "shot") continue;
    n = isEnd ? 0 : n + 1;
    moments.push({
      id,
      kind: isEnd ? "end" : "shot",
      team: isEnd ? null : play.team,
      stroke: isEnd ? "" : play.stroke,
      player: play.player ?? null,
      at: Date.parse(at),
      rally,
      n,
      late: inserted,
    });
    if (isEnd) rally += 1;
  }
  const timed = moments.map(({ late, ...moment }, place) => {
    if (!late) return moment;
    const before = last(moments.slice(0, place), (one) => !one.late)?.at;
    const after = moments.slice(place + 1).find((one) => !one.late)?.at;
    const at = before !== undefined && after !== undefined ? (before + after) / 2 : (before ?? after ?? moment.at);
    return { ...moment, at };
  });
  return { moments: timed, behind };
}

/**
 * @template T
 * @param {readonly T[]} list @param {(one: T) => boolean} fits
 * @returns {T | undefined} the last one that fits
 */
export function last(list, fits) {
  for (let place = list.length - 1; place >= 0; place -= 1) {
    const one = /** @type {T} */ (list[place]);
    if (fits(one)) return one;
  }
  return undefined;
}
