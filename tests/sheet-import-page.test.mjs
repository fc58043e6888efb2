/**
 * A sheet as people have it, through the desk in a real browser into a real host: a workbook with
 * several tabs, a step that asks which column is which and remembers it, Windows-1252, pasted cells,
 * problems by row. The files were saved by other programs (crates/sheet/tests/files).
 */
import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import { openBrowser, openPage } from "./support/browser.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { until } from "./support/wait.mjs";

const OVERLAY = fileURLToPath(new URL("../overlay", import.meta.url));
const LAPTOP = { width: 1366, height: 768 };
const saved = (name) => fileURLToPath(new URL(`../crates/sheet/tests/files/${name}`, import.meta.url));

async function openImport(t) {
  const data = await freshFolder(t);
  const command = ["serve", "--listen", "127.0.0.1:0", "--data", data, "--pages", OVERLAY];
  const host = await Host.start(t, { data, command });
  const browser = await openBrowser(t);
  const { page, errors } = await openPage(browser, host.http("/desk#matches/import"), LAPTOP);
  // A sheet that is refused is a 422, which a browser notes as an error.
  t.after(() =>
    assert.deepEqual(
      errors.filter((error) => !/422/.test(error)),
      [],
    ),
  );
  await page.locator(".sheet").waitFor();
  return { host, page };
}

const choose = (page, file) => page.locator("#sheet-file").setInputFiles(file);
const press = (page, name) => page.locator(".sheet").getByRole("button", { name }).click();

async function said(page, text) {
  let seen = "";
  const read = async () => ((seen = await page.locator(".sheet-said").innerText()), seen.includes(text));
  await until(`\`${text}\` to be said`, read, { seen: () => seen });
}

/** The cells of a table, row by row. */
const tableOf = (page, name) =>
  page
    .getByRole("region", { name })
    .locator("tbody tr")
    .evaluateAll((rows) => rows.map((row) => [...row.cells].map((cell) => cell.textContent.trim())));

/** What the host has planned, in words. */
async function planned(host) {
  const { matches } = await (await host.get("/desk/state")).json();
  return matches.map(({ header }) => {
    const { time = "", court, round = "", teams } = header;
    return [time, court, round, teams.a.name, teams.b.name].join("|");
  });
}

test("a_workbook_with_titles_merged_headings_and_several_rows_is_shown_and_then_planned", async (t) => {
  const { host, page } = await openImport(t);
  await choose(page, saved("calc-merged.ods"));
  await said(page, "4 matches found, no problem. Nothing is imported yet.");
  assert.match(await page.locator(".sheet-form").innerText(), /ODS workbook/);
  assert.match(await page.locator(".sheet-ignored").innerText(), /not used: Referee/);
  assert.deepEqual(await tableOf(page, /^Rows left out/), [["9", "It names no teams.", "Lunch break"]]);
  const shown = await tableOf(page, "Matches found");
  assert.deepEqual(shown[1].slice(0, 6), [
    "10:30",
    "2",
    "Pool B",
    "Zoë Marsh / Øyvind Lund v Ada Büchel / Jörg Pell",
    "Zoë Marsh / Øyvind Lund v Ada Büchel / Jörg Pell",
    "#D55E00 v –",
  ]);
  assert.deepEqual(await planned(host), []);
  await press(page, "Import 4 matches");
  await until("the matches to be planned", async () => (await planned(host)).length === 4);
  assert.deepEqual(await planned(host), [
    "09:30|1|Pool A|Ines Quill / Tobi Abara|Maro Fenn / Lise Tarrow",
    "10:30|2|Pool B|Zoë Marsh / Øyvind Lund|Ada Büchel / Jörg Pell",
    "11:30|3|Pool C|Nia Crane / Otto Reed|Ivy Stone / Sol Hale",
    "13:00|1|Final|Winner of Pool A|Winner of Pool B",
  ]);
});

test("of_a_workbook_the_tab_with_matches_is_read_and_another_can_be_chosen", async (t) => {
  const { page } = await openImport(t);
  await choose(page, saved("openpyxl-tabs.xlsx"));
  await said(page, "2 matches found");
  const tab = page.getByLabel("Tab of the workbook");
  assert.deepEqual(await tab.locator("option").allInnerTexts(), ["Notes (no matches found)", "Saturday", "Sunday"]);
  assert.equal(await tab.inputValue(), "Saturday");
  await tab.selectOption("Sunday");
  await said(page, "1 match found");
  assert.deepEqual((await tableOf(page, "Matches found"))[0].slice(0, 2), ["1", "Wren v Swift"]);
});

test("which_column_is_which_is_asked_once_and_remembered_for_these_headings", async (t) => {
  const { host, page } = await openImport(t);
  await choose(page, saved("calc-unknown-names.ods"));
  await said(page, "1 problem. Nothing is imported");
  const step = page.getByRole("region", { name: "Columns of the sheet" });
  await step.waitFor();
  assert.deepEqual(
    (await tableOf(page, "Columns of the sheet")).map((row) => row.slice(0, 3)),
    [
      ["A", "Rot", "Heron · Kite"],
      ["B", "Blau", "Owl · Lark"],
      ["C", "Feld", "1 · 2"],
    ],
  );
  await page.getByLabel("Column A, Rot").selectOption("Second team");
  await said(page, "1 problem");
  await page.getByLabel("Column B, Blau").selectOption("First team");
  await said(page, "2 matches found");
  await page.getByLabel("Column C, Feld").selectOption("Court");
  await until("the court to be shown", async () => (await tableOf(page, "Matches found"))[1]?.[0] === "2");
  await press(page, "Import 2 matches");
  await until("the matches to be planned", async () => (await planned(host)).length === 2);
  assert.deepEqual(await planned(host), ["|1||Owl|Heron", "|2||Lark|Kite"]);
  await page.locator(".notice").getByText("2 matches imported.").waitFor();

  await page.goto(host.http("/desk#matches/import"));
  await page.reload();
  await page.locator("#sheet-text").fill("Rot\tBlau\tFeld\nWren\tSwift\t3\n");
  await press(page, "Check");
  await said(page, "1 match found, no problem. Nothing is imported yet. The columns are as you chose them");
  assert.deepEqual((await tableOf(page, "Matches found"))[0].slice(0, 2), ["3", "Swift v Wren"]);
});

test("forty_matches_in_windows_1252_with_semicolons_and_one_bad_row_are_told_then_planned", async (t) => {
  const { host, page } = await openImport(t);
  const sheet = (bad) =>
    [
      "Grün-Weiß Cup;;;;",
      "",
      "Zeit;Court;Round;Team 1;Team 2;Points",
      ...Array.from({ length: 40 }, (_, at) => {
        const time = `${9 + Math.floor(at / 4)}:${at % 2 === 0 ? "00" : "30"}`;
        return `${time};Court ${1 + (at % 4)};Pool ${1 + (at % 4)};Bär ${at};Øst ${at};${at === bad ? "elf" : 11}`;
      }),
    ].join("\r\n");
  // ISO 8859-1, which Windows-1252 has in common from 0xA0 on (WHATWG Encoding Standard, section 9).
  const file = (bad) => ({ name: "day.csv", mimeType: "text/csv", buffer: Buffer.from(sheet(bad), "latin1") });
  await choose(page, file(7));
  await said(page, "1 problem. Nothing is imported; fix it and check again. The file does not say");
  assert.deepEqual(await tableOf(page, "Problems by row"), [
    ["11", "Points", "“elf” is no whole number from 1 to 99.", "10:30 · Court 4 · Pool 4 · Bär 7 · Øst 7 · elf"],
  ]);
  await choose(page, file(-1));
  await said(page, "40 matches found");
  assert.match(await page.locator(".sheet-ignored").innerText(), /not used: Zeit/);
  await press(page, "Import 40 matches");
  await until("the matches to be planned", async () => (await planned(host)).length === 40);
  assert.equal((await planned(host))[39], "|4|Pool 4|Bär 39|Øst 39");
});

test("a_file_that_is_no_sheet_is_refused_with_what_to_do", async (t) => {
  const { page } = await openImport(t);
  await choose(page, saved("calc-bad-row.xls"));
  await said(page, "1 problem. Nothing is imported");
  const [[, , sentence]] = await tableOf(page, "Problems by row");
  assert.match(sentence, /old Excel workbook.*save it as XLSX/);
  await press(page, "Remove");
  await page.locator("#sheet-text").waitFor();
});
