// Places that other matches fill, as far as the desk has to know: not known yet when
// the match is next, or decided otherwise after it was begun. Pure.

/** @import { MatchState, PlaceState } from "../../types/host.js" */

/** @param {PlaceState} place */
const placeWords = ({ outcome, called }) => `the ${outcome} of ${called}`;

/** Who a match still waits for, a sentence each. @param {MatchState} match @returns {string[]} */
export const notKnownYet = ({ places }) =>
  places
    .filter(({ now, differs }) => now === null && !differs)
    .map((place) => `It is not known yet who is ${placeWords(place)}.`);

/** @param {MatchState} match */
export const changedSince = ({ places }) => places.filter(({ differs }) => differs);

/** @param {MatchState} match @param {PlaceState} place */
export function placeChangeWords({ header }, place) {
  const has = header.teams[place.team].name;
  return place.now === null
    ? `This match was begun with ${has}, but ${placeWords(place)} is open again.`
    : `This match was begun with ${has}, but ${placeWords(place)} is now ${place.now.name}.`;
}
