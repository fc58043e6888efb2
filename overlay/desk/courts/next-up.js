// The schedule beside the courts: what is next, who is wanted in two places, and a way
// to start any of it on any court.

/**
 * @import { MatchState } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 */
import { choiceField, textField } from "../../shared/fields.js";
import { html, nothing } from "../../shared/html.js";
import { COURT_NAME_WORDS, isCourtName } from "../../shared/match-form/values.js";
import { keepSounds } from "../host/alerts.js";
import { versus } from "../page/telling.js";
import { plannedCourt } from "../state.js";
import { start } from "./actions.js";
import { clashes } from "./clashes.js";

/** How many are shown. */
const SHOWN = 6;

/** @param {Desk} desk */
export function nextUp(desk) {
  const matches = desk.state.host?.matches ?? [];
  const waiting = matches.filter(({ state }) => state === "planned");
  return html`<section class="next-up card" aria-label="Next up">
    <h2>Next up</h2>
    ${
      waiting.length === 0
        ? html`<p class="quiet">
            ${matches.length === 0 ? "No match is planned yet." : "No other match is planned."}
          </p>
            <a class="button" href="#matches/new">Add a match</a>`
        : html`<ol>
            ${waiting.slice(0, SHOWN).map((one) => item(one, matches))}
          </ol>`
    }
    ${matches.length === 0 ? nothing : html`<a class="button" href="#matches">All matches (${matches.length})</a>`}
    ${waiting.length === 0 ? nothing : elsewhere(desk, waiting)} ${sounds(desk)}
  </section>`;
}

/** @param {MatchState} match @param {readonly MatchState[]} matches */
function item(match, matches) {
  const { header } = match;
  return html`<li>
    <span class="time">${header.time ?? ""}</span>
    <span class="who"><span>${header.teams.a.name}</span><span>${header.teams.b.name}</span></span>
    <span class="where">${header.round ?? ""}<span>court ${plannedCourt(match)}</span></span>
    ${clashes(match, matches).map((words) => html`<span class="clash">${words}</span>`)}
  </li>`;
}

/** Another match than the next one, or another court. @param {Desk} desk @param {readonly MatchState[]} waiting */
function elsewhere(desk, waiting) {
  const { start: form } = desk.state;
  const match = waiting.find(({ id }) => id === form.match) ?? /** @type {MatchState} */ (waiting[0]);
  const court = form.court ?? plannedCourt(match);
  const submit = async (/** @type {SubmitEvent} */ event) => {
    event.preventDefault();
    const name = court.trim();
    const fault = isCourtName(name) ? "" : COURT_NAME_WORDS;
    desk.change({ start: { ...form, fault } });
    if (fault === "" && (await start(desk, match.id, name)))
      desk.change({ start: { match: "", court: null, fault: "" } });
  };
  return html`<details class="more">
    <summary>Start another one</summary>
    <form class="new-court" novalidate @submit=${submit}>
      ${choiceField({
        id: "start-match",
        label: "Match",
        value: match.id,
        choices: waiting.map((one) => [one.id, versus(one.header)]),
        put: (id) => desk.change({ start: { match: id, court: null, fault: "" } }),
      })}
      ${textField({
        id: "start-court",
        label: "Court",
        value: court,
        fault: form.fault,
        longest: 64,
        put: (text) => desk.change({ start: { ...form, match: match.id, court: text } }),
      })}
      <button>Start</button>
    </form>
  </details>`;
}

/** @param {Desk} desk */
function sounds(desk) {
  const { sounds: on } = desk.state;
  return html`<label class="tick">
    <input
      type="checkbox"
      .checked=${on}
      @change=${() => {
        keepSounds(!on);
        desk.change({ sounds: !on });
      }}
    />Sound when a charter is lost or a match ends
  </label>`;
}
