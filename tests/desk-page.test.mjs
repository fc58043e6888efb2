/**
 * The desk in a real browser against a real host: a first match from an empty data folder, a sheet
 * of matches all or none, a correction seen before it is made, pause and finish, and a second
 * browser that charts.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import { openBrowser, openPage } from "./support/browser.mjs";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { until } from "./support/wait.mjs";

const OVERLAY = fileURLToPath(new URL("../overlay", import.meta.url));
const LAPTOP = { width: 1366, height: 768 };
/** Two minutes at a key every five seconds, which is a slow beginner (a planning figure of ours). */
const KEYS_IN_TWO_MINUTES = 24;
const AT = "2026-05-03T10:00:00.000Z";

async function startHost(t) {
  const data = await freshFolder(t);
  return Host.start(t, { data, command: ["serve", "--listen", "127.0.0.1:0", "--data", data, "--pages", OVERLAY] });
}

async function openDesk(t, host, room = "") {
  const browser = await openBrowser(t);
  const { page, errors } = await openPage(browser, host.http(`/desk${room}`), LAPTOP);
  t.after(() => assert.deepEqual(errors, []));
  await see(page, ".line", "Connected");
  return { browser, page };
}

/** Waits until something visible says it. */
async function see(page, selector, text) {
  let seen = [];
  await until(
    `\`${text}\` in \`${selector}\``,
    async () => {
      seen = await page.locator(selector).filter({ visible: true }).allInnerTexts();
      return seen.some((one) => (text instanceof RegExp ? text.test(one) : one.includes(text)));
    },
    { seen: () => seen },
  );
}

const press = (page, name) => page.getByRole("button", { name }).filter({ visible: true }).first().click();
const stateOf = async (host) => (await host.get("/desk/state")).json();

/** A match that is charted on court 1, by a program. */
async function charted(t, host, entries) {
  const charter = await Charter.welcomed(host, { chart: { ...headerFor("m1"), court: "1" } });
  t.after(() => charter.close());
  await charter.chart(entries);
  return charter;
}
const rallyEnd = (id, content) => ({ id, at: AT, kind: "rally_end", ...content });

test("from_an_empty_folder_to_a_charted_match_by_keyboard", async (t) => {
  const host = await startHost(t);
  const { browser, page } = await openDesk(t, host);
  let keys = 0;
  const key = (name) => ((keys += 1), page.keyboard.press(name));
  const word = (text) => ((keys += 1), page.keyboard.type(text));
  const focused = () =>
    page.evaluate(() => document.activeElement.getAttribute("aria-label") ?? document.activeElement.tagName);
  await until("the first field to have the focus", async () => (await focused()) === "INPUT");
  await word("Quill / Abara");
  await key("Tab");
  await word("Fenn / Tarrow");
  await key("Enter");
  await see(page, ".first", "Quill / Abara v Fenn / Tarrow is on court 1.");
  await until("the copy button to have the focus", async () => (await focused()) === "Copy the link: charting page");
  await key("Tab");
  assert.equal(await focused(), "Open: charting page (new tab)");
  const opens = page.context().waitForEvent("page");
  await key("Enter");
  const chart = await opens;
  await chart.locator(".line[data-line=connected]").waitFor();
  await see(page, ".who", "connected, scoring");
  await chart.keyboard.press("Space");
  keys += 1;
  await see(page, ".first > .done", "No graphic is open yet");
  assert.ok(keys <= KEYS_IN_TWO_MINUTES, `${keys} keys`);
  const graphic = await page.locator(".first .address").nth(1).innerText();
  const shown = await openPage(browser, graphic, { width: 1920, height: 1080 });
  await see(shown.page, "rt-strap", "Quill / Abara");
  await see(page, ".first > .done", "Everything works");
  await see(page, ".court .health", /Charter\s*Graphic\s*No booth/);
  t.diagnostic(`${keys} keys and words, the first shot included`);
});

test("a_second_browser_that_charts_is_shown_as_connected_and_gone_again", async (t) => {
  const host = await startHost(t);
  await charted(t, host, [rallyEnd("e1", { won_by: "a" })]).then((charter) => charter.close());
  const { browser, page } = await openDesk(t, host);
  await press(page, /^More/);
  await see(page, ".charters", "No charting laptop is connected now.");
  const laptop = await openPage(await openBrowser(t), host.http("/courts/1/chart"), LAPTOP);
  await see(page, ".charters", /^Laptop \w+( at 127\.0\.0\.1)?: connected, scoring/);
  await laptop.page.close();
  await see(page, ".charters", "No charting laptop is connected now.");
  assert.ok(browser.isConnected());
});

test("what_the_desk_asks_each_second_is_answered_and_read_to_its_end", async (t) => {
  const host = await startHost(t);
  const { page } = await openDesk(t, host);
  const ends = [];
  page.on("requestfinished", (request) => ends.push([request.url(), ""]));
  page.on("requestfailed", (request) => ends.push([request.url(), request.failure().errorText]));
  const asked = () => ends.filter(([url]) => url.endsWith("/desk/state"));
  await until("three answers about the state", () => asked().length >= 3, { seen: () => ends });
  assert.deepEqual(
    asked().map(([, error]) => error),
    asked().map(() => ""),
  );
});

test("the_undo_of_the_first_step_does_not_take_a_charted_match_away", async (t) => {
  const host = await startHost(t);
  const { page } = await openDesk(t, host);
  await page.getByLabel("First team", { exact: true }).first().fill("Heron / Owl");
  await page.getByLabel("Second team", { exact: true }).first().fill("Lantern / Kite");
  await press(page, "Start this match on its court");
  await see(page, ".notice", "Undo");
  const charter = await Charter.welcomed(host, {});
  t.after(() => charter.close());
  await charter.chart([rallyEnd("e1", { won_by: "a" })]);
  await see(page, ".court .points", "1");
  await press(page, "Undo");
  await see(page, ".said", "The match has been charted since; nothing is removed.");
  assert.equal((await stateOf(host)).courts[0].state, "playing");
});

/** @param {number} bad how many of the 64 lines are at fault */
function sheet(bad) {
  const lines = Array.from(
    { length: 64 },
    (_, at) =>
      `${1 + (at % 4)},Round ${1 + Math.floor(at / 16)},Team ${at} / One,Team ${at} / Two,${at < bad ? "eleven" : 11}`,
  );
  return `${["court,title,team_a,team_b,points", ...lines].join("\r\n")}\r\n`;
}

test("a_sheet_of_64_matches_is_planned_whole_or_not_at_all", async (t) => {
  const host = await startHost(t);
  const { page } = await openDesk(t, host, "#matches/import");
  const choose = (text) =>
    page
      .locator(".sheet input[type=file]")
      .setInputFiles({ name: "m.csv", mimeType: "text/csv", buffer: Buffer.from(text) });
  await choose(sheet(2));
  await see(page, ".sheet-said", "2 problems. Nothing is imported");
  const cells = await page
    .getByRole("region", { name: "Problems by row" })
    .locator("tbody tr")
    .evaluateAll((rows) =>
      rows.map((row) => [row.cells[0].textContent, row.cells[1].textContent, row.cells[3].textContent]),
    );
  assert.deepEqual(cells, [
    ["2", "points", "1 · Round 1 · Team 0 / One · Team 0 / Two · eleven"],
    ["3", "points", "2 · Round 1 · Team 1 / One · Team 1 / Two · eleven"],
  ]);
  assert.deepEqual((await stateOf(host)).matches, []);
  await choose(sheet(0));
  await see(page, ".sheet-said", "64 matches found, no problem. Nothing is imported yet.");
  assert.deepEqual((await stateOf(host)).matches, []);
  await press(page, "Import 64 matches");
  await see(page, ".said", "64 matches imported.");
  const rows = await page.locator(".matches .team").allInnerTexts();
  assert.deepEqual(
    [rows.length, rows[0], rows[2], rows[126]],
    [128, "Team 0 / One", "Team 1 / One", "Team 63 / One"],
    "in the order of the sheet",
  );
  assert.equal((await stateOf(host)).matches.length, 64);
  await press(page, "Undo");
  await see(page, ".said", "removed");
  assert.deepEqual((await stateOf(host)).matches, []);
});

test("a_correction_does_what_its_preview_said_and_its_undo_takes_it_back", async (t) => {
  const host = await startHost(t);
  await charted(t, host, [rallyEnd("e1", { won_by: "a" }), rallyEnd("e2", { won_by: "a", how: "net", by: "b" })]);
  const { page } = await openDesk(t, host);
  const call = async () => JSON.parse(await host.now()).score.call;
  assert.equal(await call(), "2-0-2");
  await press(page, /^Correct …/);
  await press(page, /^Rally 2: /);
  await page.getByLabel("Won by").first().selectOption("b");
  await see(page, ".effect", "Rally 2:");
  await see(page, ".effect .after", "call 0–1–1");
  assert.equal(await call(), "2-0-2", "a preview stores nothing");
  await press(page, "Apply");
  await see(page, ".said", "Corrected. Open pages follow at once.");
  assert.equal(await call(), "0-1-1");
  await press(page, "Undo");
  await see(page, ".said", "The correction is undone.");
  assert.equal(await call(), "2-0-2");
  const log = await readFile(host.logFile("m1"), "utf8");
  assert.equal(log.trim().split("\n").length, 1 + 2 + 2, "nothing was erased");
});

test("the_referees_word_is_seen_on_the_graphic", async (t) => {
  const host = await startHost(t);
  await charted(t, host, [rallyEnd("e1", { won_by: "a" })]);
  const { browser, page } = await openDesk(t, host);
  const graphic = await openPage(browser, host.http("/courts/1/graphic"), { width: 1920, height: 1080 });
  await press(page, /^Correct …/);
  await press(page, "Set the score (referee's ruling)");
  await page
    .getByLabel(/^Points of /)
    .first()
    .fill("7");
  await see(page, ".effect .after", "7");
  await press(page, "Apply");
  await see(graphic.page, "rt-strap", "7–0–2");
});

test("a_pause_is_shown_and_a_finished_match_can_be_reopened", async (t) => {
  const host = await startHost(t);
  await charted(t, host, [rallyEnd("e1", { won_by: "a" })]);
  const { browser, page } = await openDesk(t, host);
  const graphic = await openPage(browser, host.http("/courts/1/graphic"), { width: 1920, height: 1080 });
  await see(graphic.page, "rt-strap", "1–0–2");
  await press(page, /^Pause/);
  await see(page, ".court .state", "Paused");
  await see(graphic.page, "rt-strap", "Play is paused");
  await press(page, "Undo");
  await see(page, ".court .state", "Playing");
  await press(page, /^More/);
  await press(page, "End match …");
  await press(page, "Stopped early: no winner");
  await see(page, ".court .state", "Finished");
  await press(page, /^Reopen/);
  await see(page, ".court .state", "Playing");
  await press(page, /^More/);
  await press(page, "End match …");
  await press(page, / retired: /);
  await see(page, ".court .state", "Finished");
  await see(page, ".court .score", "won the match");
  await press(page, "Undo");
  await see(page, ".court .state", "Playing");
});

test("the_undo_of_taking_off_and_of_reopening_leaves_pause_and_winner_as_they_were", async (t) => {
  const host = await startHost(t);
  await charted(t, host, [rallyEnd("e1", { won_by: "a" })]);
  const { page } = await openDesk(t, host);
  await press(page, /^Pause/);
  await see(page, ".court .state", "Paused");
  await press(page, /^More/);
  await press(page, "Remove from court");
  await press(page, "Remove it");
  await see(page, ".court .state", "No match");
  await press(page, "Undo");
  await see(page, ".court .state", "Paused");
  await press(page, /^Resume/);
  await see(page, ".court .state", "Playing");
  await press(page, /^More/);
  await press(page, "End match …");
  await press(page, / retired: /);
  await see(page, ".court .score", "won the match");
  const won = await page.locator(".court .score").innerText();
  await press(page, /^Reopen/);
  await see(page, ".court .state", "Playing");
  await press(page, "Undo");
  await see(page, ".court .score", "won the match");
  assert.equal(await page.locator(".court .score").innerText(), won);
});

test("names_and_colors_changed_at_the_desk_are_on_the_graphic_at_once", async (t) => {
  const host = await startHost(t);
  await charted(t, host, [rallyEnd("e1", { won_by: "a" })]);
  const { browser, page } = await openDesk(t, host, "#matches");
  const graphic = await openPage(browser, host.http("/courts/1/graphic"), { width: 1920, height: 1080 });
  await page.locator(".matches a").first().click();
  await press(page, /^Change: /);
  const form = page.getByRole("region", { name: "Change a match" });
  await form.getByLabel("First team", { exact: true }).fill("Otter / Heron");
  await form.getByText("Colors", { exact: true }).click();
  await form.getByLabel("Team colors").selectOption("yes");
  await form.getByLabel("First team's color").fill("#d55e00");
  await press(page, "Save");
  await see(page, ".said", "Saved. Open pages follow at once.");
  await see(graphic.page, "rt-strap", "Otter / Heron");
  await until(
    "the color to be on the graphic",
    async () =>
      (await graphic.page.evaluate(() => document.documentElement.style.getPropertyValue("--rt-a"))) === "#d55e00",
  );
});
