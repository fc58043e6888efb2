// The event's matches in the order of the sheet, forty on a screen: time, court, teams,
// how it stands. Each leads to what can be done with it.

/**
 * @import { MatchState } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 */
import { html, nothing, repeat } from "../../shared/html.js";
import { clashes } from "../courts/clashes.js";
import { changedSince, placeChangeWords } from "../courts/places.js";
import { matchStateWords } from "../page/telling.js";
import { FILTERS, countOf, wanted } from "./filtering.js";

/** @param {Desk} desk */
export function filters(desk) {
  const { state } = desk;
  const matches = state.host?.matches ?? [];
  const { filter } = state;
  return html`<div class="filters" role="group" aria-label="Which matches">
    ${FILTERS.map(
      ([show, words]) =>
        html`<button
          type="button"
          aria-pressed=${filter.show === show ? "true" : "false"}
          @click=${() => desk.change({ filter: { ...filter, show } })}
        >
          ${words} ${countOf(matches, show)}
        </button>`,
    )}
    <input
      type="search"
      aria-label="Find a team, player, round or court"
      placeholder="Find a name"
      .value=${filter.text}
      @input=${(/** @type {InputEvent} */ event) =>
        desk.change({ filter: { ...filter, text: /** @type {HTMLInputElement} */ (event.target).value } })}
    />
  </div>`;
}

/** @param {Desk} desk */
export function schedule(desk) {
  const { state } = desk;
  const matches = state.host?.matches ?? [];
  const shown = wanted(matches, state.filter);
  const [kind, id] = state.place.rest;
  const opened = kind === "match" ? (id ?? "") : "";
  if (matches.length === 0) return html`<p class="quiet">No match is planned yet.</p>`;
  if (shown.length === 0) return html`<p class="quiet">No match fits this filter.</p>`;
  return html`<ol class="matches">
    ${repeat(
      shown,
      ({ id }) => id,
      (match) => row(match, matches, opened),
    )}
  </ol>`;
}

/** @param {MatchState} match @param {readonly MatchState[]} matches @param {string} opened */
function row(match, matches, opened) {
  const { header, id, state, court } = match;
  const against = [...clashes(match, matches), ...changedSince(match).map((place) => placeChangeWords(match, place))];
  return html`<li data-state=${state}>
    <a href=${`#matches/match/${id}`} aria-current=${opened === id ? "true" : nothing}>
      <span class="time">${header.time ?? ""}</span>
      <span class="where" title=${`Court ${court ?? ""}`}><span class="rt-hidden">court </span>${court ?? "–"}</span>
      <span class="round">${header.round ?? ""}</span>
      <span class="team">${header.teams.a.name}</span>
      <span class="rt-hidden">v</span>
      <span class="team">${header.teams.b.name}</span>
      <span class="stands">${stands(match)}<span class="rt-hidden">, ${matchStateWords(match)}</span></span>
      ${against.length === 0 ? html`<span class="quiet" aria-hidden="true">›</span>` : html`<span class="clash" title=${against.join(" ")}>!<span class="rt-hidden">${against.join(" ")}</span></span>`}
    </a>
  </li>`;
}

/** How it stands or ended, short. @param {MatchState} match */
function stands({ state, score, header }) {
  if (state === "planned" || score === null || score === undefined) return "";
  if (state === "finished" && header.format.games > 1 && score.winner !== null)
    return `${score.games.a}–${score.games.b}`;
  return `${score.points.a}–${score.points.b}`;
}
