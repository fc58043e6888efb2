// Teams that are wanted in two places: still playing on another court, or planned for
// the same time twice. Pure.

/** @import { MatchState } from "../../types/host.js" */
import { notKnownYet } from "./places.js";

/** @param {string} name */
const plain = (name) => name.trim().toLowerCase();

/** Who plays, each by name: teams and players. @param {MatchState} match @returns {Map<string, string>} */
function whoPlays({ header }) {
  const names = [header.teams.a, header.teams.b].flatMap((team) => [team.name, ...(team.players ?? [])]);
  return new Map(names.filter((name) => plain(name) !== "").map((name) => [plain(name), name]));
}

/** Of those who play a match one who plays in the other, too. @param {MatchState} match @param {MatchState} other */
function inBoth(match, other) {
  const playing = whoPlays(match);
  const name = match.id === other.id ? undefined : [...whoPlays(other).keys()].find((one) => playing.has(one));
  return name === undefined ? null : (playing.get(name) ?? null);
}

/**
 * Who of a match is still playing elsewhere, a sentence each.
 * @param {MatchState} match @param {readonly MatchState[]} matches all of the event
 * @returns {string[]}
 */
export function stillPlaying(match, matches) {
  return matches.flatMap((other) => {
    const who = other.state === "on" ? inBoth(match, other) : null;
    return who === null ? [] : [`${who} is still playing on court ${other.court ?? ""}.`];
  });
}

/**
 * What to mind about a match that waits: of the next one on its court who is not known
 * yet or still playing elsewhere, of any who is planned for the same time twice.
 * @param {MatchState} match @param {readonly MatchState[]} matches all of the event
 * @returns {string[]}
 */
export function clashes(match, matches) {
  if (match.state !== "planned") return [];
  const { time = "", court } = match.header;
  const isNext = matches.find((one) => one.state === "planned" && one.header.court === court)?.id === match.id;
  const twice = matches.flatMap((other) => {
    const isSameTime = other.state === "planned" && time !== "" && other.header.time === time;
    const who = isSameTime ? inBoth(match, other) : null;
    return who === null ? [] : [`${who} is also planned for ${time} on court ${other.header.court || "1"}.`];
  });
  return [...(isNext ? [...notKnownYet(match), ...stillPlaying(match, matches)] : []), ...twice];
}
