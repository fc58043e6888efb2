// What the host has of a match: fetched where others have charted it meanwhile.

/** @import { Entry } from "../../shared/charting/local-chart.js" */
import { withKey } from "../../shared/key.js";

/**
 * @param {string} court @param {string} id of the match
 * @returns {Promise<{ entry: Entry, seq: number, state: "stored" }[] | null>} null where it cannot be had
 */
export async function chartedSoFar(court, id) {
  try {
    const response = await fetch(withKey(`/courts/${court}/chart.jsonl`, location.href));
    const lines = response.ok
      ? (await response.text())
          .trimEnd()
          .split("\n")
          .map((line) => JSON.parse(line))
      : [];
    const [header, ...entries] = lines;
    if (header?.id !== id) throw new Error(`the host answers ${response.status} for \`${id}\``);
    return entries.map(({ seq, ...entry }) => ({ entry, seq, state: "stored" }));
  } catch (error) {
    console.warn(`the chart so far could not be fetched, its score is taken: ${String(error)}`);
    return null;
  }
}
