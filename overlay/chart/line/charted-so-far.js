// What the host has of a match: fetched where others have charted it meanwhile.

/**
 * @import { MatchHeader } from "../../types/messages.js"
 * @import { Entry } from "../../shared/charting/local-chart.js"
 * @import { KeptEntry, Seat } from "./shelf.js"
 */
import { withKey } from "../../shared/key.js";

/**
 * @param {string} court @param {string} id of the match
 * @returns {Promise<{ entry: Entry, seq: number, seat?: Seat, state: "stored" }[] | null>} null where it cannot be had
 */
export async function chartedSoFar(court, id) {
  try {
    const [header, ...entries] = await chartOf(court);
    if (header?.id !== id) throw new Error(`the host has \`${header?.id ?? "no match"}\` there, not \`${id}\``);
    return entries.map(({ seq, seat, ...entry }) => ({ entry, seq, seat, state: "stored" }));
  } catch (error) {
    console.warn(`the chart so far could not be fetched, its score is taken: ${String(error)}`);
    return null;
  }
}

/**
 * What this page may take back: cues of the second seat are the other person's to undo.
 * @param {readonly Pick<KeptEntry, "entry" | "seat">[]} kept @returns {Entry[]}
 */
export const ofThisSeat = (kept) => kept.filter(({ seat }) => seat !== "cues").map(({ entry }) => entry);

/** @param {string} court @returns {Promise<MatchHeader | null>} the match on it, where there is one and the host tells */
export async function matchOn(court) {
  try {
    const [header] = await chartOf(court);
    return header ?? null;
  } catch (error) {
    console.warn(`which match is on the court could not be learned: ${String(error)}`);
    return null;
  }
}

/** @param {string} court @returns {Promise<any[]>} the lines of the chart; none without a match */
async function chartOf(court) {
  const response = await fetch(withKey(`/courts/${court}/chart.jsonl?seats=true`, location.href));
  if (response.status === 404) return [];
  if (!response.ok) throw new Error(`the host answers ${response.status}`);
  return (await response.text())
    .trimEnd()
    .split("\n")
    .map((line) => JSON.parse(line));
}
