// The room where matches are planned: the schedule, and beside it, where somebody has
// opened one, a form, the sheet or one match.

/** @import { Desk } from "../host/desk.js" */
import { html, nothing } from "../../shared/html.js";
import { matchForm } from "../../shared/match-form/match-form.js";
import { can, matchOf } from "../state.js";
import { add, changeAdded, openMatches } from "./editing.js";
import { importSheet } from "./import-sheet.js";
import { matchChange, matchDetails } from "./match-details.js";
import { filters, schedule } from "./schedule.js";

/** @param {Desk} desk */
export function matchesRoom(desk) {
  const panels = openPanels(desk);
  const isEmpty = desk.state.host?.matches.length === 0;
  return html`<div class="matches-room" ?data-beside=${panels.length > 0}>
    <div class="bar">
      <h2 class="rt-hidden">Matches</h2>
      ${filters(desk)}
      <div class="row">
        ${isEmpty ? nothing : panelButton(desk, "new", "New match")}
        ${isEmpty || !can(desk.state, "/matches/import") ? nothing : panelButton(desk, "import", "Import matches")}
      </div>
    </div>
    <section class="list" aria-label="Matches">${schedule(desk)}</section>
    ${panels.length === 0 ? nothing : html`<div class="side">${panels}</div>`}
  </div>`;
}

/** @param {Desk} desk @param {string} name @param {string} label */
function panelButton(desk, name, label) {
  const isOpen = desk.state.place.rest[0] === name;
  return html`<button type="button" aria-expanded=${isOpen ? "true" : "false"} @click=${() => openMatches(isOpen ? "" : name)}>
    ${label}
  </button>`;
}

/** @param {Desk} desk */
function openPanels(desk) {
  const { state } = desk;
  const [opened, id = "", what] = state.place.rest;
  const importing = can(state, "/matches/import") ? [importSheet(desk)] : [];
  if (state.host?.matches.length === 0) return [newMatch(desk), ...importing];
  if (opened === "new") return [newMatch(desk)];
  if (opened === "import") return importing;
  const match = opened === "match" ? matchOf(state, id) : null;
  if (match === null) return [];
  return [what === "change" ? matchChange(desk, match) : matchDetails(desk, match)];
}

/** @param {Desk} desk */
function newMatch(desk) {
  return html`<section class="card" aria-label="New match">
    <h2>New match</h2>
    ${matchForm({
      id: "planned",
      form: desk.state.planned,
      submit: "Add match",
      change: (part) => changeAdded(desk, part),
      save: (header) => add(desk, header),
    })}
  </section>`;
}
