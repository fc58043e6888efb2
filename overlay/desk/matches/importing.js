// Importing a sheet: a file or pasted rows, checked by the host, then imported all or
// none. What somebody said about the columns is remembered for the next sheet with the
// same headings.

/**
 * @import { ImportAnswer } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 * @import { SheetChoices, SheetImport } from "../state.js"
 */
import { countWords } from "../../shared/format.js";
import { keepDraft, readDraft } from "../drafts.js";
import { can, matchOf, nothingSaid } from "../state.js";
import { openMatches } from "./editing.js";
import { decodeRows } from "./sheet-file.js";

export const IMPORT = "/matches/import";
/** What was said about the columns, by headings. */
const SAID = "sheet-columns";
/** So many sheets are remembered. */
const REMEMBERED = 20;

/** @returns {Pick<SheetImport, "text">} */
export const sheetDraft = () => ({ text: String(readDraft("sheet") ?? "") });

/** @param {Desk} desk @param {Partial<SheetImport>} part */
const change = (desk, part) => desk.change({ sheet: { ...desk.state.sheet, ...part } });

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
export async function load(desk, file) {
  if (file === undefined) return;
  const before = desk.state.sheet;
  const rows = decodeRows(await file.arrayBuffer());
  put(desk, rows === null ? { text: "", file } : { text: rows.text, file: null });
  await check(desk, rows?.caution);
  if (before.text.trim() === "" || before.text === desk.state.sheet.text) return;
  await desk.act(async () => {}, `The rows of ${file.name} replace those that stood there.`, {
    said: "The rows from before are back.",
    run: async () => {
      put(desk, before);
      await check(desk);
    },
  });
}

/** @param {Desk} desk @param {Pick<SheetImport, "text" | "file">} sheet */
function put(desk, { text, file }) {
  // As a text field has it: rows are counted alike here, in the field and by the host.
  const rows = text.replaceAll(/\r\n?/g, "\n");
  keepDraft("sheet", rows === "" ? null : rows);
  change(desk, { text: rows, file, choices: nothingSaid(), headings: "", found: null, said: "", isStepOpen: false });
}

/** What was said of the columns stays, in case the headings do. @param {Desk} desk @param {string} text */
export function type(desk, text) {
  keepDraft("sheet", text === "" ? null : text);
  change(desk, { text, file: null, found: null, said: "" });
}

/** @param {Desk} desk */
export const removeFile = (desk) => put(desk, { text: "", file: null });

/** Asks again with what somebody has said. @param {Desk} desk @param {Partial<SheetChoices>} part */
export async function choose(desk, part) {
  change(desk, { choices: { ...desk.state.sheet.choices, ...part } });
  await ask(desk, "check").then((found) => tell(desk, found));
}

/** @param {Desk} desk @param {string} [caution] what to look at beside the rows */
export async function check(desk, caution = "") {
  const before = desk.state.sheet;
  change(desk, { choices: nothingSaid() });
  let found = await ask(desk, "check");
  const headings = headingsOf(found);
  const isSame = headings === before.headings && Object.values(before.choices).some((choice) => choice !== null);
  const kept = isSame ? before.choices : remembered()[headings];
  if (found !== null && kept !== undefined) {
    change(desk, { choices: { ...desk.state.sheet.choices, ...kept } });
    found = await ask(desk, "check");
  }
  change(desk, { headings });
  const again = "The columns are as you chose them for these headings before.";
  tell(desk, found, [caution, kept === undefined || isSame ? "" : again]);
}

/** @param {Desk} desk @param {ImportAnswer | null} found @param {string[]} [cautions] */
function tell(desk, found, cautions = []) {
  if (found === null) return;
  const said = [verdict(found), ...cautions].filter((words) => words !== "").join(" ");
  const isStepOpen = desk.state.sheet.isStepOpen || found.sheet?.is_clear === false;
  change(desk, { found, said, isStepOpen });
}

/** @param {ImportAnswer} answer */
function verdict({ matches, problems }) {
  if (problems.length > 0)
    return `${countWords(problems.length, "problem")}. Nothing is imported; fix ${problems.length === 1 ? "it" : "these"} and check again.`;
  return `${countWords(matches.length, "match", "matches")} found, no problem. Nothing is imported yet.`;
}

/** @param {Desk} desk */
export async function take(desk) {
  const found = await ask(desk, "import");
  if (found === null) return;
  if (found.problems.length > 0) return tell(desk, found);
  remember(desk.state.sheet);
  put(desk, { text: "", file: null });
  openMatches();
  const ids = found.matches.map(({ id }) => id);
  await desk.act(async () => {}, `${countWords(ids.length, "match", "matches")} imported.`, {
    said: "The imported matches that had not started are removed.",
    run: async () => {
      // Those that have started meanwhile stay.
      for (const id of ids) if (matchOf(desk.state, id)?.state === "planned") await desk.host.removeMatch(id);
    },
  });
}

/** @param {Desk} desk @param {"check" | "import"} how @returns {Promise<ImportAnswer | null>} */
async function ask(desk, how) {
  const { text, file, choices } = desk.state.sheet;
  if (file === null && text.trim() === "") {
    change(desk, { said: "There is nothing to check yet: drop or choose a file, or paste its rows." });
    return null;
  }
  change(desk, { isBusy: true });
  try {
    return await desk.host.importMatches(file ?? text, how, choices);
  } catch (error) {
    change(desk, { found: null });
    desk.fail(error);
    return null;
  } finally {
    change(desk, { isBusy: false });
  }
}

/** @param {ImportAnswer | null} found the headings of a sheet, in one text; empty: it has none */
function headingsOf(found) {
  const headings = found?.sheet?.columns.map(({ heading }) => heading.trim().toLowerCase()) ?? [];
  return headings.some((heading) => heading !== "") ? headings.join("\n") : "";
}

/** @returns {Record<string, Pick<SheetChoices, "heading" | "columns">>} */
const remembered = () => Object(readDraft(SAID, { isLasting: true }) ?? {});

/** @param {SheetImport} sheet */
function remember({ headings, choices: { heading, columns } }) {
  if (headings === "" || columns === null) return;
  const { [headings]: _, ...others } = remembered();
  const kept = Object.entries(others).slice(1 - REMEMBERED);
  keepDraft(SAID, { ...Object.fromEntries(kept), [headings]: { heading, columns } }, { isLasting: true });
}
