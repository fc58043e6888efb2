// Putting a court's chart right: what is chosen becomes entries, the host says what
// they would do, and only then are they recorded. Nothing is erased.

/**
 * @import { EntryJson, ListedEntry, Taken } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 * @import { Correction } from "../state.js"
 */
import { newId } from "../../shared/ids.js";
import { sentenceOf } from "../host/desk.js";
import { Refused } from "../host/host.js";
import { refusedWords } from "../page/telling.js";
import { courtOf, matchOf } from "../state.js";
import { retract } from "./correcting.js";

/** How many entries are looked at. */
const SHOWN = 40;
/** A moment of rest before the host is asked what a change does, ms. */
const REST_MS = 250;
let timer = 0;

/** @returns {{ id: string, at: string }} of something recorded now */
export const stamp = () => ({ id: `desk-${newId()}`, at: new Date().toISOString() });

/** @param {Desk} desk @param {Partial<Correction>} part */
export function change(desk, part) {
  const { correction } = desk.state;
  if (correction !== null) desk.change({ correction: { ...correction, ...part } });
}

/** @param {Desk} desk @param {string} court */
export async function openCorrection(desk, court) {
  const header = matchOf(desk.state, courtOf(desk.state, court)?.match ?? null)?.header ?? null;
  desk.change({
    correction: {
      court,
      header,
      entries: [],
      chosen: null,
      values: {},
      wanted: [],
      asked: 0,
      effect: null,
      trouble: "",
      busy: false,
    },
  });
  try {
    const { entries } = await desk.host.entries(court, SHOWN);
    change(desk, { entries });
  } catch (error) {
    change(desk, { trouble: sentenceOf(error) });
  }
}

/** @param {Desk} desk */
export function closeCorrection(desk) {
  clearTimeout(timer);
  desk.change({ correction: null });
}

/** @param {Desk} desk @param {ListedEntry | "score"} chosen */
export function choose(desk, chosen) {
  want(desk, []);
  change(desk, { chosen, values: {} });
}

/** @param {Desk} desk @param {EntryJson[]} wanted what is to be recorded; empty: nothing yet */
export function want(desk, wanted) {
  clearTimeout(timer);
  const asked = (desk.state.correction?.asked ?? 0) + 1;
  change(desk, { wanted, asked, effect: null, trouble: "" });
  if (wanted.length > 0) timer = window.setTimeout(() => void ask(desk, asked), REST_MS);
}

/** @param {Desk} desk @param {number} asked an answer to an older question is not shown */
async function ask(desk, asked) {
  const { correction } = desk.state;
  if (correction === null) return;
  const isNews = () => desk.state.correction?.asked === asked;
  try {
    const effect = await desk.host.preview(correction.court, correction.wanted);
    if (!isNews()) return;
    const trouble = effect.refused.length === 0 ? "" : `Not possible: ${refusedWords(effect.refused)}`;
    change(desk, { effect: trouble === "" ? effect : null, trouble });
  } catch (error) {
    if (isNews()) change(desk, { effect: null, trouble: sentenceOf(error) });
  }
}

/** @param {Taken} taken */
function refuseNothing({ refused }) {
  if (refused.length > 0) throw new Refused(refusedWords(refused), 422);
}

/** @param {Desk} desk */
export async function apply(desk) {
  const { correction } = desk.state;
  if (correction === null || correction.busy) return;
  const { court, wanted } = correction;
  change(desk, { busy: true });
  try {
    refuseNothing(await desk.host.record(court, wanted));
  } catch (error) {
    change(desk, { busy: false, effect: null, trouble: sentenceOf(error) });
    return;
  }
  closeCorrection(desk);
  await desk.act(async () => {}, "Corrected. Open pages follow at once.", {
    said: "The correction is undone.",
    run: async () =>
      refuseNothing(
        await desk.host.record(
          court,
          [...wanted].reverse().map(({ id }) => retract(id, stamp())),
        ),
      ),
  });
}
