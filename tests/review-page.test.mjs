/**
 * The review page in a real browser against a real host that holds a whole made-up match. What it
 * lists and counts is compared with `rallytide export` and `rallytide readings` of the same chart.
 */
import assert from "node:assert/strict";
import { parse as parseCsv } from "csv-parse/sync";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import { openBrowser, openPage } from "./support/browser.mjs";
import { Charter } from "./support/charter.mjs";
import { headerFor, numbered } from "./support/charts.mjs";
import { recordVideo } from "./support/canvas-video.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { linesOf, rallytide } from "./support/program.mjs";
import { until } from "./support/wait.mjs";

const OVERLAY = fileURLToPath(new URL("../overlay", import.meta.url));
const CHART = fileURLToPath(new URL("../demo-streams/ferry-night.jsonl", import.meta.url));
const ID = "ferry-night";
const LAPTOP = { width: 1366, height: 768 };

async function startHost(t) {
  const data = await freshFolder(t);
  const host = await Host.start(t, {
    data,
    command: ["serve", "--listen", "127.0.0.1:0", "--data", data, "--pages", OVERLAY],
  });
  const { status, stderr } = await rallytide(["feed", CHART, "--to", host.http("/"), "--pace", "0"]);
  assert.equal(status, 0, stderr);
  return host;
}

async function openReview(t, query = "") {
  const host = await startHost(t);
  const { page, errors } = await openPage(await openBrowser(t), host.http(`/review/${ID}${query}`), LAPTOP);
  t.after(() => assert.deepEqual(errors, []));
  await page.locator(".rallies > li").first().waitFor({ state: "attached" });
  return { host, page };
}

/** @returns {Promise<Record<string, string>[]>} a table of the chart */
async function table(of) {
  const { status, stdout, stderr } = await rallytide(["export", CHART, "--as", "csv", "--what", of]);
  assert.equal(status, 0, stderr);
  return parseCsv(stdout, { columns: true });
}

const shown = (page) =>
  page.locator(".rallies > li:visible").evaluateAll((items) => items.map((item) => item.dataset.rally));
const numbers = (rows) => rows.map((row) => row.rally);
const choose = (page, name, value) => page.locator(`.filters [name=${name}]`).selectOption(value);
const total = async (page, label) =>
  page
    .locator(".totals tbody tr")
    .filter({ has: page.getByRole("rowheader", { name: label, exact: true }) })
    .locator("td")
    .allInnerTexts();

test("the_rallies_listed_are_those_of_the_chart", async (t) => {
  const { page } = await openReview(t);
  const rows = await table("rallies");
  assert.deepEqual(await shown(page), numbers(rows));
  const lengths = await page.locator(".rallies .length").allInnerTexts();
  assert.deepEqual(
    lengths.map((words) => parseInt(words, 10)),
    rows.map(({ shots }) => Number(shots)),
  );
});

test("time_outs_and_notes_stand_with_the_rally_before_them_as_the_exports_say", async (t) => {
  const { host, page } = await openReview(t);
  const events = await table("events");
  assert.ok(events.length >= 5, "the match has time-outs");
  const { asides } = await (await host.get(`/matches/${ID}/review.json`)).json();
  assert.deepEqual(
    asides.map(({ entry, kind, team, what }) => [entry, kind, team, what]),
    events.map(({ entry, kind, team, what }) => [entry, kind, team, what]),
  );
  const first = asides[0];
  const beside = page.locator(`[data-rally="${first.after}"] .beside`);
  assert.equal((await beside.innerText()).toLowerCase(), first.what.toLowerCase());
  assert.equal(await page.locator(".beside li").count(), events.length);
  const { won_by: winner } = (await table("rallies"))[first.after - 1];
  await choose(page, "won", winner === "a" ? "b" : "a");
  assert.equal(await beside.isVisible(), false, "it is hidden with its rally");
});

test("a_note_is_text_wherever_it_was_written", async (t) => {
  const host = await startHost(t);
  const hostile = '<img src=x onerror="document.title=1"> & "windy"';
  const charter = await Charter.welcomed(host, { court: "beside", chart: headerFor("noted") });
  await charter.chart(
    numbered([
      { kind: "note", text: hostile },
      { kind: "shot", team: "a", stroke: "serve" },
      { kind: "note", text: "late call" },
      { kind: "rally_end", how: "ace", by: "a" },
      { kind: "note", text: "N".repeat(500) },
    ]),
  );
  const { page, errors } = await openPage(await openBrowser(t), host.http("/review/noted"), {
    width: 390,
    height: 844,
  });
  await page.locator(".beside").first().waitFor();
  assert.deepEqual(await page.locator(".list > .beside li").allInnerTexts(), [`Note: ${hostile}`]);
  assert.deepEqual(await page.locator('[data-rally="1"] .beside li').allInnerTexts(), [
    "Note: late call (during the rally)",
    `Note: ${"N".repeat(500)}`,
  ]);
  assert.ok(
    await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth),
    "a long note does not scroll sideways",
  );
  assert.deepEqual(errors, []);
});

test("filters_combine_count_as_the_exports_do_and_stand_in_the_address", async (t) => {
  const { page } = await openReview(t);
  const rows = await table("rallies");
  const check = async (name, value, keeps) => {
    await choose(page, name, value);
    const kept = rows.filter(keeps);
    assert.ok(kept.length > 0 && kept.length < rows.length, `${name} tells rallies apart`);
    assert.deepEqual(await shown(page), numbers(kept), `${name} ${value}`);
    return kept;
  };
  await check("won", "a", (row) => row.won_by === "a");
  const kept = await check("third", "drop", (row) => row.won_by === "a" && row.third_stroke === "drop");
  const counted = kept.filter((row) => row.counted === "1");
  assert.deepEqual(await total(page, "Rallies won"), [
    `${counted.length} of ${counted.length}`,
    `0 of ${counted.length}`,
  ]);
  assert.match(page.url(), /won=a&third=drop/);
  await page.reload();
  await page.locator(".rallies > li").first().waitFor({ state: "attached" });
  assert.deepEqual(await shown(page), numbers(kept));
  await page.locator("[data-do=all]").click();
  await check("long", "8", (row) => Number(row.shots) >= 8);
});

test("pressed_spells_are_counted_as_the_indicator_counts_them", async (t) => {
  const { page, host } = await openReview(t);
  const readings = (await linesOf(["readings", CHART, "--only", "escape.share"])).map((line) => JSON.parse(line));
  const said = readings.map(({ value: { part, whole } }) => `${part} of ${whole}`);
  assert.ok(readings.every(({ value }) => value.part > 0 && value.part < value.whole));
  assert.deepEqual(await total(page, "Came out of pressure"), said);
  const { rallies } = await (await host.get(`/matches/${ID}/review.json`)).json();
  const lost = rallies.filter(({ spells }) =>
    spells.some(({ team, pressed, outcome }) => team === "a" && pressed && outcome === "lost"),
  );
  await choose(page, "pressed", "lost-a");
  assert.deepEqual(
    await shown(page),
    lost.map(({ number }) => String(number)),
  );
  const won = new Map((await table("rallies")).map((row) => [row.rally, row.won_by]));
  assert.ok((await shown(page)).every((number) => won.get(number) === "b"));
});

test("single_keys_can_be_switched_off_and_stay_off", async (t) => {
  const { page } = await openReview(t);
  const rally = () => new URL(page.url()).searchParams.get("rally");
  const keys = page.getByLabel("Keys: N next");
  await keys.press("n");
  assert.equal(rally(), "1", "the switch itself takes no key away");
  await keys.focus();
  await keys.press("Space");
  await page.keyboard.press("n");
  assert.equal(rally(), "1");
  await page.reload();
  await page.locator(".rallies > li").first().waitFor({ state: "attached" });
  assert.equal(await keys.isChecked(), false);
  await page.keyboard.press("n");
  assert.equal(rally(), "1");
  await keys.press("Space");
  await keys.press("n");
  assert.equal(rally(), "2");
});

test("by_keyboard_alone_a_rally_is_reached_opened_and_told", async (t) => {
  const { page } = await openReview(t);
  const open = () =>
    page.locator(".rallies details[open]").evaluateAll((all) => all.map((one) => one.parentElement.dataset.rally));
  await page.keyboard.press("n");
  await page.keyboard.press("n");
  await until("the second rally alone to be open", async () => (await open()).join() === "2");
  await page.keyboard.press("p");
  await until("the first rally alone to be open", async () => (await open()).join() === "1");
  assert.match(page.url(), /rally=1/);
  const strokes = (await table("shots")).filter(({ rally }) => rally === "1").length;
  assert.equal(await page.locator("details[open] .shots li").count(), strokes);
  await page.keyboard.press("Enter");
  await until("the rally to be closed", async () => (await open()).length === 0);
});

test("a_rally_and_a_shot_lead_to_their_moment_in_the_coachs_video", async (t) => {
  const { page } = await openReview(t);
  const place = () => page.locator("video").evaluate((video) => video.currentTime);
  await page
    .locator("[name=film]")
    .setInputFiles({ name: "ours.webm", mimeType: "video/webm", buffer: await recordVideo(page) });
  await page.locator("[data-do=align]").waitFor();
  await page.keyboard.press("n");
  await page.locator("details[open] .shots li").first().waitFor();
  await page.locator("video").evaluate((video) => (video.currentTime = 1.2));
  await page.locator("[data-do=align]").click();
  await page.locator(".film-words", { hasText: "is served at" }).waitFor();
  const [first, second] = (await table("shots"))
    .filter(({ rally }) => rally === "1")
    .map(({ match_seconds }) => Number(match_seconds));
  await page.locator("details[open] button.shot").nth(1).click();
  await until(
    "the video to be at the second shot",
    async () => Math.abs((await place()) - (1.2 + (second - first) - 1)) < 0.05,
    { seen: place },
  );
  await page.locator("details[open] button.shot").nth(0).click();
  await until("the video to be at the serve", async () => Math.abs((await place()) - 0.2) < 0.05, { seen: place });
  const fitted = await page.locator(".files a", { hasText: "captions" }).getAttribute("href");
  const start = new URL(fitted).searchParams.get("start");
  const { stdout } = await rallytide(["export", CHART, "--as", "webvtt", "--start", start]);
  assert.equal(await (await fetch(fitted)).text(), stdout);
  assert.match(stdout, /^00:00:01\.[12]\d\d --> /m, "the first rally is captioned where it is served in the video");
});

test("what_can_be_taken_away_is_what_the_command_gives", async (t) => {
  const { page } = await openReview(t);
  await page.locator(".files a", { hasText: "shots" }).waitFor();
  for (const [label, options] of [
    ["rallies", ["--as", "csv", "--what", "rallies"]],
    ["chapters", ["--as", "webvtt", "--what", "chapters"]],
    ["page", ["--as", "html"]],
  ]) {
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.locator(".files a", { hasText: new RegExp(`^${label}$`) }).click(),
    ]);
    const { stdout } = await rallytide(["export", CHART, ...options]);
    assert.equal(await readFile(await download.path(), "utf8"), stdout, label);
    assert.match(download.suggestedFilename(), /^ferry-night\.(rallies\.csv|chapters\.vtt|match\.html)$/);
  }
});

test("a_file_that_is_no_video_is_refused_in_words", async (t) => {
  const { page } = await openReview(t);
  await page
    .locator("[name=film]")
    .setInputFiles({ name: "notes.webm", mimeType: "video/webm", buffer: Buffer.from("no video") });
  await page.locator(".film-words", { hasText: "cannot show that file" }).waitFor();
});

test("a_match_that_does_not_exist_leads_to_those_that_do", async (t) => {
  const host = await startHost(t);
  const refused = await host.get("/matches/ferry-nigth/review.json");
  assert.equal(refused.status, 404);
  assert.match(await refused.text(), /no match `ferry-nigth`.*`ferry-night`/);
  const { page } = await openPage(await openBrowser(t), host.http("/review/ferry-nigth"), LAPTOP);
  await page.locator(".result", { hasText: "There is no match “ferry-nigth”" }).waitFor();
  await page.locator(".matches a").click();
  await page.locator(".rallies > li").first().waitFor();
  await page.goto(host.http("/"));
  await page.locator(".reviews a").click();
  await page.locator(".rallies > li").first().waitFor();
});

test("the_review_fits_laptops_and_tablets_and_axe_finds_nothing", async (t) => {
  const { page } = await openReview(t, "?rally=3");
  await page.locator("details[open] .shots li").first().waitFor();
  await page.locator(".files a", { hasText: "chart" }).waitFor();
  await page.evaluate(
    await readFile(
      createRequire(new URL("../overlay/package.json", import.meta.url)).resolve("axe-core/axe.min.js"),
      "utf8",
    ),
  );
  for (const viewport of [
    LAPTOP,
    { width: 1920, height: 1080 },
    { width: 1024, height: 768 },
    { width: 768, height: 1024 },
  ]) {
    await page.setViewportSize(viewport);
    if (process.env.LOOK !== undefined)
      await page.screenshot({ path: `${process.env.LOOK}/review-${viewport.width}.png` });
    const wide = await page.evaluate(() =>
      document.documentElement.scrollWidth <= innerWidth
        ? []
        : [...document.querySelectorAll("body *")]
            .filter((node) => node.getBoundingClientRect().right > innerWidth)
            .map((node) => node.outerHTML.slice(0, 80)),
    );
    assert.deepEqual(wide, [], `wider than ${viewport.width}`);
  }
  const { violations } = await page.evaluate(() => globalThis.axe.run());
  assert.deepEqual(
    violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`),
    [],
  );
});
