// Which matches of the schedule are looked at. They keep the order of the sheet. Pure.

/** @import { MatchState } from "../../types/host.js" */

/** @typedef {"all" | "running" | "planned" | "finished"} Shown */

/** What each filter lets through; an interrupted match is still to be played. @type {Record<Shown, readonly MatchState["state"][]>} */
const STATES = {
  all: ["planned", "on", "finished", "put_aside"],
  running: ["on"],
  planned: ["planned", "put_aside"],
  finished: ["finished"],
};

export const FILTERS = /** @type {const} */ ([
  ["all", "All"],
  ["running", "On court"],
  ["planned", "Planned"],
  ["finished", "Finished"],
]);

/** @param {readonly MatchState[]} matches @param {Shown} shown */
export const countOf = (matches, shown) => matches.filter(({ state }) => STATES[shown].includes(state)).length;

/**
 * @param {readonly MatchState[]} matches
 * @param {{ show: Shown, text: string }} filter every word of the text has to be found
 */
export function wanted(matches, { show, text }) {
  const words = text
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== "");
  return matches.filter((match) => {
    const said = wordsOf(match).toLowerCase();
    return STATES[show].includes(match.state) && words.every((word) => said.includes(word));
  });
}

/** @param {MatchState} match */
function wordsOf({ header, court }) {
  const { a, b } = header.teams;
  const players = [...(a.players ?? []), ...(b.players ?? [])];
  return [
    a.name,
    b.name,
    ...players,
    header.title ?? "",
    header.round ?? "",
    header.time ?? "",
    `court ${court ?? ""}`,
  ].join(" ");
}
