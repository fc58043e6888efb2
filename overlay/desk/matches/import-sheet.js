// Many matches at once, from a sheet: dropped, chosen or pasted, shown as the host
// reads it, and then imported all or none.

/**
 * @import { DeskHeader, ImportAnswer } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 */
import { labelled, textArea } from "../../shared/fields.js";
import { countWords } from "../../shared/format.js";
import { html, nothing } from "../../shared/html.js";
import { CONSENT_CAUTION } from "../../shared/match-form/match-form.js";
import { TEMPLATE } from "../../shared/match-form/values.js";
import { asSentence } from "../host/host.js";
import { saveFile } from "../page/saving.js";
import { formatWords, versus } from "../page/telling.js";
import { check, load, removeFile, take, type } from "./importing.js";
import { sheetColumns } from "./sheet-columns.js";
import { sizeWords } from "./sheet-file.js";

/** @param {Desk} desk */
export function importSheet(desk) {
  const { text, file, found, said, isOver, isBusy } = desk.state.sheet;
  const canImport = found !== null && found.problems.length === 0 && found.matches.length > 0;
  const picker = html`<input
    id="sheet-file"
    type="file"
    accept=".csv,.tsv,.txt,.xlsx,.xlsm,.ods,text/csv,text/plain"
    aria-describedby="sheet-file-advice sheet-file-fault"
    @change=${(/** @type {Event} */ event) => pick(desk, /** @type {HTMLInputElement} */ (event.target))}
  />`;
  return html`<section class="card sheet" aria-label="Import matches" ?data-over=${isOver}>
    <div class="head">
      <h2>Import matches</h2>
      <button type="button" @click=${() => saveFile("matches.csv", new Blob([TEMPLATE], { type: "text/csv" }))}>
        Download a template
      </button>
    </div>
    ${labelled({ id: "sheet-file", label: "A file from your spreadsheet (XLSX, ODS or CSV)", advice: "Or drop it anywhere on the desk" }, picker)}
    ${
      file === null
        ? textArea({
            id: "sheet-text",
            label: "… or paste cells here",
            value: text,
            advice:
              "With a row of headings. Only the two teams are needed; time, court, round, players and colors where you have them.",
            put: (typed) => type(desk, typed),
          })
        : html`<p class="sheet-workbook">
            <span>${file.name}, ${sizeWords(file.size)}</span>
            <button type="button" @click=${() => removeFile(desk)}>Remove</button>
          </p>`
    }
    <p class="caution">${CONSENT_CAUTION}</p>
    <div class="row">
      <button type="button" class=${canImport ? "" : "chief"} ?disabled=${isBusy} @click=${() => void checkAndShow(desk)}>Check</button>
      ${
        canImport
          ? html`<button type="button" class="chief" ?disabled=${isBusy} @click=${() => take(desk)}>
              Import ${countWords(found.matches.length, "match", "matches")}
            </button>`
          : nothing
      }
    </div>
    <p class="sheet-said" role="status">${said}</p>
    ${found === null ? nothing : answer(desk, found)}
  </section>`;
}

/** What was found stands below the field, which may fill the screen. @param {Desk} desk */
async function checkAndShow(desk) {
  await check(desk);
  document.querySelector(".sheet-said")?.scrollIntoView({ block: "start" });
}

/** @param {Desk} desk @param {HTMLInputElement} picker */
function pick(desk, picker) {
  void load(desk, picker.files?.[0]);
  // So that the same file, mended, can be chosen once more.
  picker.value = "";
}

/** @param {Desk} desk @param {ImportAnswer} found */
function answer(desk, found) {
  const { matches, problems, ignored, left_out, sheet } = found;
  return html`${sheet === null ? nothing : sheetColumns(desk, sheet)}
  ${problems.length > 0 ? problemTable(found) : nothing}
  ${
    ignored.length === 0
      ? nothing
      : html`<p class="sheet-ignored">
          ${ignored.length === 1 ? "This column is" : "These columns are"} not used: ${ignored.join(", ")}.
        </p>`
  }
  ${problems.length > 0 || left_out.length === 0 ? nothing : leftOutTable(found)}
  ${matches.length === 0 ? nothing : matchTable(matches)}`;
}

/** @param {ImportAnswer} found */
function problemTable({ problems }) {
  return table(
    "Problems by row",
    ["Row", "Column", "What is wrong", "The row"],
    problems.map(({ line, column, message, row }) => [
      line === null ? "" : String(line),
      column ?? "",
      asSentence(message),
      row,
    ]),
  );
}

/** @param {ImportAnswer} found */
function leftOutTable({ left_out }) {
  return table(
    "Rows left out: they are no matches",
    ["Row", "Why", "The row"],
    left_out.map(({ line, why, row }) => [String(line), asSentence(why), row]),
  );
}

/** What a match says, by column. @type {readonly (readonly [head: string, cell: (header: DeskHeader) => string])[]} */
const COLUMNS = [
  ["Time", ({ time = "" }) => time],
  ["Court", ({ court = "" }) => court],
  ["Round", ({ round, title = "" }) => round ?? title],
  ["Teams", versus],
  ["Players", (header) => ofBoth(header, ({ players = [] }) => players.join(" / "))],
  ["Colors", (header) => ofBoth(header, ({ color = "" }) => color)],
  ["Format", formatWords],
];

/** @param {readonly DeskHeader[]} matches */
function matchTable(matches) {
  const said = COLUMNS.filter(([, cell]) => matches.some((header) => cell(header) !== ""));
  return table(
    "Matches found",
    said.map(([head]) => head),
    matches.map((header) => said.map(([, cell]) => cell(header))),
  );
}

/** @param {DeskHeader} header @param {(team: DeskHeader["teams"]["a"]) => string} words */
function ofBoth({ teams }, words) {
  const [a, b] = [words(teams.a), words(teams.b)];
  return a === "" && b === "" ? "" : `${a || "–"} v ${b || "–"}`;
}

/** @param {string} caption @param {string[]} heads @param {string[][]} rows */
function table(caption, heads, rows) {
  return html`<div class="scroll" tabindex="0" role="region" aria-label=${caption}>
    <table>
      <caption>
        ${caption}
      </caption>
      <thead>
        <tr>
          ${heads.map((head) => html`<th scope="col">${head}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          (cells) =>
            html`<tr>
              ${cells.map((cell) => html`<td>${cell}</td>`)}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}
