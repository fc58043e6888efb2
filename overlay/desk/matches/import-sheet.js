// Many matches at once, from a sheet: dropped, chosen or pasted, checked by the host,
// and then imported all or none.

/**
 * @import { DeskHeader, ImportAnswer, ImportProblem } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 * @import { State } from "../state.js"
 */
import { labelled, textArea } from "../../shared/fields.js";
import { countWords } from "../../shared/format.js";
import { html, nothing } from "../../shared/html.js";
import { CONSENT_CAUTION } from "../../shared/match-form/match-form.js";
import { TEMPLATE } from "../../shared/match-form/values.js";
import { keepDraft, readDraft } from "../drafts.js";
import { asSentence } from "../host/host.js";
import { formatWords, versus } from "../page/telling.js";
import { saveFile } from "../page/saving.js";
import { can, matchOf } from "../state.js";
import { openMatches } from "./editing.js";

const IMPORT = "/matches/import";

/** @returns {Pick<State["sheet"], "text">} */
export const sheetDraft = () => ({ text: String(readDraft("sheet") ?? "") });

/** @param {Desk} desk @param {Partial<State["sheet"]>} part */
const change = (desk, part) => desk.change({ sheet: { ...desk.state.sheet, ...part } });

/** @param {Desk} desk */
export function importSheet(desk) {
  const { text, found, said, isOver } = desk.state.sheet;
  const canImport = found !== null && found.problems.length === 0 && found.matches.length > 0;
  const file = html`<input
    id="sheet-file"
    type="file"
    accept=".csv,text/csv,text/plain"
    aria-describedby="sheet-file-advice sheet-file-fault"
    @change=${(/** @type {Event} */ event) => load(desk, /** @type {HTMLInputElement} */ (event.target).files?.[0])}
  />`;
  return html`<section class="card sheet" aria-label="Import matches" ?data-over=${isOver}>
    <div class="head">
      <h2>Import matches</h2>
      <button type="button" @click=${() => saveFile("matches.csv", new Blob([TEMPLATE], { type: "text/csv" }))}>
        Download a template
      </button>
    </div>
    ${labelled({ id: "sheet-file", label: "A file from your spreadsheet (CSV)", advice: "Or drop it anywhere on the desk" }, file)}
    ${textArea({
      id: "sheet-text",
      label: "… or paste rows here",
      value: text,
      advice: "Only team_a and team_b are needed. Players are separated by / or ;",
      put: (typed) => {
        keepDraft("sheet", typed === "" ? null : typed);
        change(desk, { text: typed, found: null });
      },
    })}
    <p class="caution">${CONSENT_CAUTION}</p>
    <div class="row">
      <button type="button" class=${canImport ? "" : "chief"} @click=${() => check(desk)}>Check</button>
      ${
        canImport
          ? html`<button type="button" class="chief" @click=${() => take(desk)}>
              Import ${countWords(found.matches.length, "match", "matches")}
            </button>`
          : nothing
      }
    </div>
    <p class="sheet-said" role="status">${said}</p>
    ${found === null ? nothing : found.problems.length > 0 ? problemTable(found.problems, text) : matchTable(found.matches)}
  </section>`;
}

/**
 * Wherever on the desk a file is dropped: a browser would show it in place of the page.
 * @param {Desk} desk
 */
export function followDrops(desk) {
  /** @param {DragEvent} event */
  const carriesFile = (event) => event.dataTransfer?.types.includes("Files") === true;
  document.addEventListener("dragover", (event) => {
    if (!carriesFile(event)) return;
    event.preventDefault();
    if (!desk.state.sheet.isOver) change(desk, { isOver: true });
  });
  document.addEventListener("dragleave", (event) => {
    if (event.relatedTarget === null) change(desk, { isOver: false });
  });
  document.addEventListener("drop", (event) => {
    if (!carriesFile(event)) return;
    event.preventDefault();
    change(desk, { isOver: false });
    if (!can(desk.state, IMPORT)) return;
    openMatches("import");
    void load(desk, event.dataTransfer?.files[0]);
  });
}

/** @param {Desk} desk @param {File | undefined} file */
async function load(desk, file) {
  if (file === undefined) return;
  const before = desk.state.sheet.text;
  put(desk, await file.text());
  await check(desk);
  if (before.trim() === "" || before === desk.state.sheet.text) return;
  await desk.act(async () => {}, `The rows of ${file.name} replace those that stood there.`, {
    said: "The rows from before are back.",
    run: async () => {
      put(desk, before);
      await check(desk);
    },
  });
}

/** @param {Desk} desk @param {string} text */
function put(desk, text) {
  // As a text field has it: rows are counted alike here, in the field and by the host.
  const rows = text.replaceAll(/\r\n?/g, "\n");
  keepDraft("sheet", rows);
  change(desk, { text: rows, found: null });
}

/** @param {ImportAnswer} answer */
function verdict({ matches, problems, ignored = [] }) {
  if (problems.length > 0)
    return `${countWords(problems.length, "problem")}. Nothing is imported; fix these and check again.`;
  if (matches.length === 0)
    return "There is no match in it: below the row with the names of the columns each row is one match.";
  const left =
    ignored.length === 0
      ? ""
      : ` Left out, because Rallytide has no use for ${ignored.length === 1 ? "this column" : "these columns"}: ${ignored.join(", ")}.`;
  return `${countWords(matches.length, "match", "matches")} found, no problem. Nothing is imported yet.${left}`;
}

/** @param {Desk} desk */
async function check(desk) {
  const found = await ask(desk, "check");
  if (found !== null) change(desk, { found, said: verdict(found) });
}

/** @param {Desk} desk */
async function take(desk) {
  const found = await ask(desk, "import");
  if (found === null) return;
  if (found.problems.length > 0) return change(desk, { found, said: verdict(found) });
  keepDraft("sheet", null);
  change(desk, { text: "", found: null, said: "" });
  openMatches();
  const ids = found.matches.map(({ id }) => id);
  await desk.act(async () => {}, `${countWords(ids.length, "match", "matches")} imported.`, {
    said: "The imported matches that had not started are removed.",
    run: async () => {
      // Those that have begun meanwhile stay.
      for (const id of ids) if (matchOf(desk.state, id)?.state === "planned") await desk.host.removeMatch(id);
    },
  });
}

/** @param {Desk} desk @param {"check" | "import"} how @returns {Promise<ImportAnswer | null>} */
async function ask(desk, how) {
  const { text } = desk.state.sheet;
  if (text.trim() === "") {
    change(desk, { said: "There is nothing to check yet: drop or choose a file, or paste its rows." });
    return null;
  }
  try {
    return await desk.host.importMatches(text, how);
  } catch (error) {
    change(desk, { found: null });
    desk.fail(error);
    return null;
  }
}

/** @param {readonly ImportProblem[]} problems @param {string} text */
function problemTable(problems, text) {
  const lines = text.split(/\r\n|\n|\r/);
  return table(
    "Problems by row",
    ["Row", "Column", "What is wrong", "The row"],
    problems.map(({ line, column, message }) => [
      String(line),
      column ?? "",
      asSentence(message),
      lines[line - 1] ?? "",
    ]),
  );
}

/** @param {readonly DeskHeader[]} matches */
function matchTable(matches) {
  return table(
    "Matches found",
    ["Time", "Court", "Round", "Teams", "Format"],
    matches.map((header) => [
      header.time ?? "",
      header.court ?? "",
      header.round ?? header.title ?? "",
      versus(header),
      formatWords(header),
    ]),
  );
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
