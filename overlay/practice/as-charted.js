// A rally as the local chart has it, in the form in which it is compared with how it was
// played. Pure.

/**
 * @import { Team } from "../types/messages.js"
 * @import { Entry, Seen } from "../shared/charting/local-chart.js"
 * @import { Charted, Timed } from "./compare.js"
 */
import { winnerOf } from "./made-up.js";

/**
 * What the volunteer has charted, after all corrections.
 * @param {readonly Seen[]} recent @param {ReadonlyMap<string, number | null>} keyed @returns {Charted}
 */
export function chartedFrom(recent, keyed) {
  /** @type {Map<string, Timed & { cues: string[] }>} */
  const shots = new Map();
  /** @type {Charted["end"]} */
  let end = null;
  let ends = 0;
  for (const { entry, shot } of recent) {
    if (entry.kind === "shot") {
      shots.set(entry.id, {
        team: /** @type {Team} */ (entry["team"]),
        stroke: String(entry["stroke"]),
        contact: shot?.contact ?? null,
        cues: [.../** @type {string[]} */ (entry["cues"] ?? [])],
        at: keyed.get(entry.id) ?? null,
      });
    } else if (entry.kind === "cue") {
      const about = shots.get(String(entry["shot"])) ?? [...shots.values()].at(-1);
      about?.cues.push(String(entry["cue"]));
    } else if (entry.kind === "rally_end" || entry.kind === "replay") {
      ends += 1;
      end = endOf(entry);
    }
  }
  return { shots: [...shots.values()], end, ends };
}

/** @param {Entry} entry @returns {NonNullable<Charted["end"]>} */
function endOf(entry) {
  const by = /** @type {Team | undefined} */ (entry["by"]) ?? null;
  const how = entry.kind === "replay" ? "replay" : entry["how"] === undefined ? null : String(entry["how"]);
  const told = /** @type {Team | undefined} */ (entry["won_by"]);
  return { how, by, won_by: told ?? winnerOf(how ?? "", by ?? "a") };
}
