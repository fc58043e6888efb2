/**
 * How deep a match was charted: named at the head of every page and table, and where it was the score
 * alone, no page and no file shows a number about shots or ends.
 */
import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import { parse as parseCsv } from "csv-parse/sync";
import { openBrowser, openPage } from "./support/browser.mjs";
import { demoStreams } from "./support/charts.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { rallytide } from "./support/program.mjs";
import { until } from "./support/wait.mjs";

const OVERLAY = fileURLToPath(new URL("../overlay", import.meta.url));
const LAPTOP = { width: 1366, height: 768 };

/** Invented charts of each depth: file, word in a table, words on a page. */
const DEPTHS = [
  ["orchard-score-only", "score", "score only"],
  ["lantern-ends-and-cues", "ends", "ends and cues"],
  ["ferry-night", "shots", "every shot"],
];
const TABLES = ["shots", "rallies", "events", "readings"];
/** What is counted from shots or from how rallies end, and how the booth of a match charted in full names it. */
const OF_SHOTS = [
  ["pressed.won", "Rallies won under pressure"],
  ["unpressed.won", "… otherwise"],
  ["escape.share", "Came out of pressure"],
  ["escape.streak", "… current streak"],
  ["escape.best", "… best streak"],
  ["approach.reached", "Out of defense after the return"],
  ["offense.finished", "Attacks won"],
  ["neutral.first", "Attacked first from neutral"],
  ["defense.bounced", "From defense, made them let it bounce"],
  ["sitter.punished", "Won off a high ball"],
  ["speedup.won", "Speedups off a high ball, won"],
  ["speedup.won", "Other speedups, won"],
  ["gift.share", "Lost by an unforced error"],
  ["third.won", "Won with a third-shot drop"],
  ["third.won", "Won with a third-shot drive"],
  ["third.won", "Won with a third-shot lob"],
  ["player.shots", "Shots from the third on"],
  ["player.pressed", "Of these, struck on defense"],
  ["player.errors", "The team's errors"],
  ["rally.shots", "Shots in this rally"],
  ["rally.longest", "Longest rally"],
  ["charting.coverage", "Rallies charted completely"],
];
/** The same, where the line it leans on is missing. */
const ALONE = ["Rallies won without pressure", "Current streak out of pressure", "Best streak out of pressure"];
const NO_SHOTS = [...OF_SHOTS.map(([, label]) => label), ...ALONE];

const fileOf = async (name) => (await demoStreams()).find((file) => file.includes(name));

async function exported(name, ...form) {
  const { status, stdout, stderr } = await rallytide(["export", await fileOf(name), ...form]);
  assert.equal(status, 0, stderr);
  return stdout;
}

const table = async (name, what) =>
  parseCsv(await exported(name, "--as", "csv", "--what", what), { columns: true, record_delimiter: "\r\n" });

/** A host that holds the chart, and its id. */
async function hostWith(t, name) {
  const data = await freshFolder(t);
  const host = await Host.start(t, {
    data,
    command: ["serve", "--listen", "127.0.0.1:0", "--data", data, "--pages", OVERLAY],
  });
  const file = await fileOf(name);
  const { status, stderr } = await rallytide(["feed", file, "--to", host.http("/"), "--pace", "0"]);
  assert.equal(status, 0, stderr);
  const { courts } = await (await host.get("/courts")).json();
  const { court, match } = courts.find((one) => one.match !== null);
  return { host, court, id: match.id };
}

async function opened(t, browser, address) {
  const { page, errors } = await openPage(browser, address, LAPTOP);
  t.after(() => assert.deepEqual(errors, []));
  return page;
}

const said = async (page, selector, words) => {
  const text = () => page.locator(selector).innerText();
  await until(`\`${selector}\` to say ${words}`, async () => words.test(await text()), { seen: text });
  return text();
};

for (const [name, word, words] of DEPTHS) {
  test(`the depth of ${name} is named at the head of every page and table`, async (t) => {
    for (const what of TABLES) {
      const rows = await table(name, what);
      if (word !== "score" || what !== "shots") assert.ok(rows.length > 0, `${what} has lines`);
      for (const row of rows) assert.equal(row.charting, word, `${what}: ${JSON.stringify(row)}`);
      const [head] = (await exported(name, "--as", "csv", "--what", what)).split("\r\n");
      assert.ok(head.split(",").includes("charting"), what);
    }
    assert.match(await exported(name, "--as", "html"), new RegExp(`<p class="about">[^<]*charted: ${words}`));
    const { host, court, id } = await hostWith(t, name);
    const browser = await openBrowser(t);
    const booth = await opened(t, browser, host.http(`/courts/${court}/booth`));
    await said(booth, "rt-team-numbers", new RegExp(`Charted: ${words}`));
    if (word === "shots") {
      const numbers = await said(booth, "main", /Rallies charted completely/);
      for (const [, label] of OF_SHOTS) assert.ok(numbers.includes(label), `the booth says \`${label}\``);
    }
    const review = await opened(t, browser, host.http(`/review/${id}`));
    await said(review, "header", new RegExp(`Charted: ${words}`));
  });
}

const [SCORE_ONLY] = DEPTHS[0];

test("a_score_only_chart_has_no_number_about_shots_or_ends_in_any_file", async () => {
  const page = await exported(SCORE_ONLY, "--as", "html");
  assert.ok(page.includes("Rallies won on serve"), "what the score tells is there");
  for (const words of NO_SHOTS) assert.ok(!page.includes(words), `the report says \`${words}\``);
  assert.doesNotMatch(page, /\d+ shots?\b/, "the report counts no shots");
  assert.deepEqual(await table(SCORE_ONLY, "shots"), []);
  const indicators = new Set(OF_SHOTS.map(([indicator]) => indicator));
  const readings = (await table(SCORE_ONLY, "readings")).filter(
    ({ indicator }) => indicators.has(indicator) || indicator === "initiative" || indicator === "depth",
  );
  assert.ok(readings.length > 30, "the readings are listed");
  for (const row of readings) {
    const told = ["value", "part", "whole", "range_low", "range_high", "toward", "text"].map((column) => row[column]);
    assert.equal(told.join(""), "", `${row.indicator} ${row.team}`);
    assert.ok(row.flags.split(" ").includes("not_charted"), row.indicator);
  }
  for (const row of await table(SCORE_ONLY, "rallies")) {
    for (const column of [
      ...["shots", "shots_recorded", "complete", "third_stroke", "last_stroke", "first_holder", "last_holder"],
      ...["changes", "attackable_a", "attackable_b", "how", "fault", "by", "by_name", "by_player"],
    ])
      assert.equal(row[column], "", `rally ${row.rally}: ${column}`);
  }
  const captions = await exported(SCORE_ONLY, "--as", "webvtt", "--what", "captions");
  assert.doesNotMatch(captions, /offense|defense|neutral|shot/);
});

test("a_score_only_charts_booth_and_review_show_no_number_about_shots_or_ends", async (t) => {
  const { host, court, id } = await hostWith(t, SCORE_ONLY);
  const browser = await openBrowser(t);
  const booth = await opened(t, browser, host.http(`/courts/${court}/booth`));
  const numbers = await said(booth, "main", /Rallies won on serve/);
  for (const words of NO_SHOTS) assert.ok(!numbers.includes(words), `the booth says \`${words}\``);
  for (const selector of ["rt-player-numbers", "rt-rally-ribbon", "rt-tide-line"])
    assert.equal(await booth.locator(selector).isVisible(), false, selector);
  const review = await opened(t, browser, host.http(`/review/${id}`));
  await review.locator(".rallies > li").first().waitFor({ state: "attached" });
  const lengths = await review.locator(".rallies .length").allInnerTexts();
  assert.deepEqual([...new Set(lengths)], ["no shots charted"]);
  const totals = await review
    .locator(".totals tbody tr")
    .evaluateAll((rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));
  const ofTheScore = ["Rallies won", "Won on serve"];
  for (const [label, ...cells] of totals) {
    if (ofTheScore.includes(label)) for (const cell of cells) assert.match(cell, /^\d+ of \d+$/, label);
    else assert.deepEqual(cells, ["not charted", "not charted"], label);
  }
  assert.ok(totals.length > ofTheScore.length);
  assert.equal(await review.locator(".of-players table").count(), 0);
});
