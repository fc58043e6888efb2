// The warning at a match that was begun with another team than a place says, with one
// button to follow it.

/**
 * @import { MatchState, PlaceState } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 */
import { html } from "../../shared/html.js";
import { versus } from "../page/telling.js";
import { changedSince, placeChangeWords } from "./places.js";

/** What was charted stays. @param {Desk} desk @param {MatchState} match */
export const placeCautions = (desk, match) =>
  changedSince(match).map(
    (place) =>
      html`<p class="caution">${placeChangeWords(match, place)}
        ${
          place.now === null
            ? ""
            : html`<button type="button" @click=${() => follow(desk, match, place)}>
                Change to ${place.now.name}<span class="rt-hidden"> in ${versus(match.header)}</span>
              </button>`
        }
      </p>`,
  );

/** @param {Desk} desk @param {MatchState} match @param {PlaceState} place */
function follow(desk, { id, header }, { team, now }) {
  if (now === null) return;
  const { players: _players, ...rest } = header.teams[team];
  const sheet = { ...rest, name: now.name, ...(now.players.length === 0 ? {} : { players: now.players }) };
  const after = { ...header, teams: { ...header.teams, [team]: sheet } };
  return desk.act(
    () => desk.host.changeMatch(id, after),
    `${now.name} is in this match now, shown everywhere at once.`,
    {
      said: `${header.teams[team].name} is in this match again.`,
      run: () => desk.host.changeMatch(id, header),
    },
  );
}
