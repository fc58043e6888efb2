// How a sheet was read, and the step where somebody says which tab, which row of
// headings and which column is which.

/**
 * @import { ReadSheet } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 */
import { choice, choiceField } from "../../shared/fields.js";
import { html, nothing } from "../../shared/html.js";
import { asSentence } from "../host/host.js";
import { choose } from "./importing.js";

/** @type {readonly (readonly [meaning: string, words: string])[]} */
const MEANINGS = [
  ["", "Not used"],
  ["team_a", "First team"],
  ["team_b", "Second team"],
  ["both_teams", "Both teams (A v B)"],
  ["players_a", "First team's players"],
  ["players_b", "Second team's players"],
  ["player_a1", "First team, player 1"],
  ["player_a2", "First team, player 2"],
  ["player_b1", "Second team, player 1"],
  ["player_b2", "Second team, player 2"],
  ["court", "Court"],
  ["time", "Time"],
  ["round", "Round"],
  ["title", "Title"],
  ["color_a", "First team's color"],
  ["color_b", "Second team's color"],
  ["discipline", "Doubles or singles"],
  ["scoring", "Scoring"],
  ["points", "Points per game"],
  ["win_by", "Win by"],
  ["games", "Best of"],
  ["first_serve", "Serves first"],
  ["id", "Match id"],
];

/** @param {Desk} desk @param {ReadSheet} sheet */
export function sheetColumns(desk, sheet) {
  return html`<p class="sheet-form">${asSentence(`read as ${sheet.form}`)}</p>
    ${sheet.tabs.length > 1 ? tabChoice(desk, sheet) : nothing}
    <details class="sheet-columns" ?open=${desk.state.sheet.isStepOpen}>
      <summary>Which column is which</summary>
      ${headingChoice(desk, sheet)}
      <div class="scroll" tabindex="0" role="region" aria-label="Columns of the sheet">
        <table>
          <thead>
            <tr>
              <th scope="col">Column</th>
              <th scope="col">Heading</th>
              <th scope="col">First rows</th>
              <th scope="col">Is</th>
            </tr>
          </thead>
          <tbody>
            ${sheet.columns.map((_, place) => columnRow(desk, sheet, place))}
          </tbody>
        </table>
      </div>
    </details>`;
}

/** @param {Desk} desk @param {ReadSheet} sheet */
function tabChoice(desk, { tab, tabs }) {
  return choiceField({
    id: "sheet-tab",
    label: "Tab of the workbook",
    value: tab ?? "",
    choices: tabs.map(({ name, has_matches }) => [name, has_matches ? name : `${name} (no matches found)`]),
    put: (name) => void choose(desk, { tab: name, heading: null, columns: null }),
  });
}

/** @param {Desk} desk @param {ReadSheet} sheet */
function headingChoice(desk, { heading, first_rows }) {
  return choiceField({
    id: "sheet-heading",
    label: "Row with the headings",
    value: String(heading ?? 0),
    choices: [
      ...first_rows.map(({ line, row }) => /** @type {const} */ ([String(line), `Row ${line}: ${shortened(row)}`])),
      ["0", "No row has headings"],
    ],
    put: (row) => void choose(desk, { heading: Number(row), columns: null }),
  });
}

/** @param {string} text */
const shortened = (text) => (text.length > 60 ? `${text.slice(0, 59)}…` : text);

/** @param {Desk} desk @param {ReadSheet} sheet @param {number} place */
function columnRow(desk, sheet, place) {
  const column = sheet.columns[place];
  if (column === undefined) return nothing;
  const { letters, heading, examples, meaning } = column;
  return html`<tr>
    <td>${letters}</td>
    <td>${heading}</td>
    <td>${examples.filter((cell) => cell !== "").join(" · ")}</td>
    <td>
      ${choice({
        id: `sheet-column-${place}`,
        spoken: `Column ${letters}${heading === "" ? "" : `, ${heading}`}`,
        value: meaning ?? "",
        choices: MEANINGS,
        put: (chosen) => void choose(desk, { columns: withMeaning(sheet, place, chosen) }),
      })}
    </td>
  </tr>`;
}

/**
 * A meaning is one column's: the one that had it before has none.
 * @param {ReadSheet} sheet @param {number} place @param {string} meaning
 */
function withMeaning({ columns }, place, meaning) {
  return columns.map((column, at) => {
    if (at === place) return meaning === "" ? null : meaning;
    return column.meaning === meaning ? null : column.meaning;
  });
}
