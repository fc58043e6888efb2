/**
 * `rallytide export`: tables, subtitles and pages, read by independent readers; what they hold is
 * what score and readings say; the same effective chart gives the same bytes.
 */
import assert from "node:assert/strict";
import { readFile, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import { test } from "node:test";
import { pathToFileURL } from "node:url";
import { parse as parseCsv } from "csv-parse/sync";
import webvtt from "webvtt-parser";
import { openBrowser, openPage } from "./support/browser.mjs";
import { DEMO_MATCH, chartFile, chartText, demoStreams, headerFor, numbered } from "./support/charts.mjs";
import { freshFolder } from "./support/folders.mjs";
import { linesOf, rallytide } from "./support/program.mjs";

const AXE = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

const HOSTILE = '=1+1 <img src=x onerror="document.title=\'hit\'"> & --> "a",b';

/** Every form, as the options that ask for it. */
const FORMS = [
  ...["shots", "rallies", "events", "readings"].map((what) => ["--as", "csv", "--what", what]),
  ...["captions", "chapters"].map((what) => ["--as", "webvtt", "--what", what]),
  ["--as", "html"],
];

async function exported(args, options) {
  const { status, stdout, stderr } = await rallytide(["export", ...args], options);
  assert.equal(status, 0, `export ${args.join(" ")}: ${stderr}`);
  return stdout;
}

async function table(file, what, options) {
  const text = await exported([file, "--as", "csv", "--what", what], options);
  return parseCsv(text, { columns: true, record_delimiter: "\r\n" });
}

/** A rally with slips and their corrections, and the same charted right at once. */
function twice() {
  const header = headerFor("twice");
  const right = numbered([
    { kind: "shot", team: "a", stroke: "serve" },
    { kind: "shot", team: "b", stroke: "return" },
    { kind: "shot", team: "a", stroke: "drop", cues: ["attackable"] },
    { kind: "shot", team: "b", stroke: "volley", player: 1 },
    { kind: "rally_end", how: "winner", by: "b" },
    { kind: "note", text: HOSTILE },
    { kind: "time_out", team: "a" },
  ]);
  const wrong = right.map((entry) => (entry.id === "e3" ? { ...entry, stroke: "lob", cues: undefined } : entry));
  wrong.splice(4, 0, { id: "x1", at: right[4].at, kind: "shot", team: "a", stroke: "block" });
  const { id, at, ...third } = right[2];
  const mended = [
    ...wrong,
    { id: "k1", at: right[6].at, kind: "amend", target: "e3", with: third },
    { id: "k2", at: right[6].at, kind: "retract", target: "x1" },
  ];
  return { right: { header, entries: right }, mended: { header, entries: mended } };
}

for (const form of FORMS) {
  test(`${form.join(" ")} gives the same bytes for the same effective chart`, async () => {
    const { right, mended } = twice();
    const expected = await exported(["-", ...form], { input: chartText(right) });
    assert.equal(await exported(["-", ...form], { input: chartText(mended) }), expected);
    assert.equal(await exported(["-", ...form], { input: chartText(right) }), expected);
  });

  test(`${form.join(" ")} of a chart with faults is refused and names the line`, async () => {
    const input = `${JSON.stringify(headerFor("bad"))}\n{"id":"x1","at":"2025-05-03T10:00:02.000Z","kind":"smash"}\n`;
    const { status, stdout, stderr } = await rallytide(["export", "-", ...form], { input });
    assert.equal(status, 1);
    assert.equal(stdout, "");
    assert.match(stderr, /line 2: /);
  });

  test(`${form.join(" ")} of every invented chart is written without a word on stderr`, async () => {
    for (const file of await demoStreams()) {
      const { status, stdout, stderr } = await rallytide(["export", file, ...form]);
      assert.deepEqual([status, stderr], [0, ""], file);
      assert.ok(stdout.length > 0, file);
    }
  });
}

for (const [what, args, named] of [
  ["a part of another form", ["--as", "csv", "--what", "captions"], ["captions", "shots"]],
  ["a part of the page", ["--as", "html", "--what", "shots"], ["html"]],
  ["a time where no video is", ["--as", "csv", "--start", "2026-05-02T09:58:30Z"], ["--start", "webvtt"]],
  ["a mark where no table is", ["--as", "html", "--bom"], ["--bom", "csv"]],
  ["a start that is no time", ["--as", "webvtt", "--start", "noon"], ["noon", "RFC 3339"]],
  ["an offset that is no number", ["--as", "webvtt", "--offset", "nan"], ["nan"]],
  [
    "start and offset at once",
    ["--as", "webvtt", "--start", "2026-05-02T09:58:30Z", "--offset", "3"],
    ["--start", "--offset"],
  ],
]) {
  test(`${what} is wrong usage`, async () => {
    const { status, stdout, stderr } = await rallytide(["export", DEMO_MATCH, ...args]);
    assert.equal(status, 2, stderr);
    assert.equal(stdout, "");
    for (const word of named) assert.ok(stderr.includes(word), `\`${word}\` is not named: ${stderr}`);
  });
}

// Tables.

test("the_table_of_rallies_says_what_score_says", async () => {
  for (const file of await demoStreams()) {
    const scores = (await linesOf(["score", file, "--json"])).map((line) => JSON.parse(line));
    const byEntry = new Map(scores.map(({ entry, score }) => [entry, score]));
    const counted = (await table(file, "rallies")).filter((row) => row.counted === "1");
    assert.equal(counted.length, scores.at(-1).score.rallies, file);
    for (const row of counted) {
      const score = byEntry.get(row.entry);
      assert.ok(score, `${file}: ${row.entry}`);
      assert.equal(row.call_after, score.call === null ? "" : `call ${score.call}`, `${file}: ${row.entry}`);
      assert.equal(row.match_over, score.winner === null ? "0" : "1", `${file}: ${row.entry}`);
    }
  }
});

test("the_table_of_shots_says_what_readings_say_after_the_last_entry_about_each_shot", async () => {
  const lines = (await linesOf(["readings", DEMO_MATCH, "--each", "--only", "initiative,depth"])).map((line) =>
    JSON.parse(line),
  );
  const rows = await table(DEMO_MATCH, "shots");
  const shots = new Set(rows.map((row) => row.entry));
  const ends = new Set((await table(DEMO_MATCH, "rallies")).map((row) => row.entry));
  const after = new Map();
  let current = null;
  for (const { entry, readings } of lines) {
    if (ends.has(entry)) current = null;
    if (shots.has(entry)) current = entry;
    if (current !== null) after.set(current, readings);
  }
  const recorded = rows.filter((row) => row.entry !== "");
  assert.ok(recorded.length > 1000);
  for (const row of recorded) {
    const readings = after.get(row.entry);
    const lean = readings.find(({ indicator }) => indicator === "initiative");
    assert.equal(row.holder, lean.value.toward ?? "nobody", row.entry);
    assert.equal(Number(row.strength).toFixed(5), lean.value.strength.toFixed(5), row.entry);
    for (const team of ["a", "b"]) {
      assert.equal(
        row[`reasons_against_${team}_count`],
        String(lean.why.filter((reason) => reason.team === team).length),
        row.entry,
      );
      const depth = readings.find((one) => one.indicator === "depth" && one.team === team);
      assert.equal(row[`depth_${team}`], depth.value.text, row.entry);
      assert.equal(row[`depth_${team}_source`], depth.flags.includes("inferred") ? "inferred" : "seen", row.entry);
    }
  }
});

test("the_table_of_readings_has_every_final_reading", async () => {
  const readings = (await linesOf(["readings", DEMO_MATCH])).map((line) => JSON.parse(line));
  const rows = await table(DEMO_MATCH, "readings");
  assert.deepEqual(
    rows.map((row) => [row.indicator, row.team, row.slot, row.type, row.part]),
    readings.map((one) => [
      one.indicator,
      one.team ?? "",
      one.slot ?? "",
      one.value.type,
      String(one.value.part ?? ""),
    ]),
  );
});

test("every_line_ends_in_crlf_and_no_text_is_a_formula", async () => {
  const header = headerFor("hostile");
  header.teams.a.name = HOSTILE;
  header.teams.b.players[0] = "@SUM(A1:A9)";
  const input = chartText({ header, entries: twice().right.entries });
  for (const what of ["shots", "rallies", "events", "readings"]) {
    const text = await exported(["-", "--as", "csv", "--what", what], { input });
    assert.ok(text.endsWith("\r\n"));
    for (const row of parseCsv(text, { record_delimiter: "\r\n" })) {
      for (const cell of row) assert.doesNotMatch(cell, /^[=+@\t\r\n-]/);
    }
  }
  const [shot] = await table("-", "shots", { input });
  assert.equal(shot.team_name, `'${HOSTILE}`);
  const marked = await exported(["-", "--as", "csv", "--bom"], { input });
  assert.ok(marked.startsWith("\ufeffmatch,"));
});

// Subtitles.

test("subtitles_are_sound_for_an_independent_parser_and_for_a_browser", async (t) => {
  const folder = await freshFolder(t);
  const browser = await openBrowser(t);
  const hostile = headerFor("hostile");
  hostile.teams.b.name = HOSTILE;
  const charts = [
    ...(await demoStreams()),
    await chartFile(folder, { header: hostile, entries: twice().right.entries }),
  ];
  for (const file of charts) {
    for (const [what, kind] of [
      ["captions", "metadata"],
      ["chapters", "chapters"],
    ]) {
      const text = await exported([file, "--as", "webvtt", "--what", what, "--offset", "5"]);
      const { cues, errors } = new webvtt.WebVTTParser().parse(text, kind);
      assert.deepEqual(errors, [], `${file} ${what}`);
      const seen = await cuesInBrowser(browser, text, kind === "chapters" ? "chapters" : "subtitles");
      const times = ({ id, startTime, endTime }) => [id, Math.round(startTime * 1000), Math.round(endTime * 1000)];
      assert.deepEqual(seen.map(times), cues.map(times), `${file} ${what}`);
      assert.equal(new Set(seen.map(({ id }) => id)).size, seen.length, "every cue has an id of its own");
      seen.forEach((cue, place) =>
        assert.ok(place === 0 || cue.startTime >= seen[place - 1].endTime, `${cue.id} overlaps`),
      );
    }
  }
});

test("a_browser_shows_hostile_names_as_they_are_written", async (t) => {
  const header = headerFor("hostile");
  header.teams.b.name = HOSTILE;
  const text = await exported(["-", "--as", "webvtt"], {
    input: chartText({ header, entries: twice().right.entries }),
  });
  const seen = await cuesInBrowser(await openBrowser(t), text, "subtitles");
  assert.ok(
    seen.some((cue) => cue.shown.includes(HOSTILE)),
    JSON.stringify(seen),
  );
});

test("cues_before_the_video_are_left_out_and_that_is_said", async () => {
  const { status, stdout, stderr } = await rallytide(["export", DEMO_MATCH, "--as", "webvtt", "--offset", "-600"]);
  assert.equal(status, 0);
  assert.match(stderr, /^note: \d+ of \d+ cues end before the video begins/);
  assert.match(stdout, /^WEBVTT\n\n\S+\n00:00:0/);
});

/** What Chromium makes of a file: cues, and the text it would show. */
async function cuesInBrowser(browser, text, kind) {
  const { page } = await openPage(browser, "about:blank", { width: 800, height: 600 });
  const cues = await page.evaluate(
    ([file, trackKind]) =>
      new Promise((resolve, reject) => {
        const video = document.createElement("video");
        const track = document.createElement("track");
        track.kind = trackKind;
        track.src = URL.createObjectURL(new Blob([file], { type: "text/vtt" }));
        track.onerror = () => reject(new Error("the track was not read"));
        track.onload = () =>
          resolve(
            [...track.track.cues].map((cue) => ({
              id: cue.id,
              startTime: cue.startTime,
              endTime: cue.endTime,
              shown: cue.getCueAsHTML().textContent,
            })),
          );
        video.append(track);
        document.body.append(video);
        track.track.mode = "hidden";
      }),
    [text, kind],
  );
  await page.close();
  return cues;
}

// The page.

/** Opens a page from the disk, and notes what it asks for. */
async function openExport(t, text, options = {}, browser = null) {
  const file = join(await freshFolder(t), "match.html");
  await writeFile(file, text);
  const context = await (browser ?? (await openBrowser(t))).newContext({
    viewport: { width: 800, height: 1280 },
    ...options,
  });
  const page = await context.newPage();
  const asked = [];
  page.on("request", (request) => asked.push(request.url()));
  const url = pathToFileURL(file).href;
  await page.goto(url);
  return { page, asked, url };
}

async function axeFindings(page) {
  await page.evaluate(AXE);
  const { violations } = await page.evaluate(() => globalThis.axe.run(document));
  return violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 200)}`);
}

/** A chart of every depth: the page of a longer one has more of the same. */
const DEPTHS = ["five-lessons", "lantern-ends-and-cues", "orchard-score-only"];

test("the_page_is_accessible_in_light_and_dark_on_tablet_and_phone_and_asks_for_nothing", async (t) => {
  const browser = await openBrowser(t);
  const files = (await demoStreams()).filter((file) => DEPTHS.some((name) => file.includes(name)));
  assert.equal(files.length, DEPTHS.length);
  for (const file of files) {
    const text = await exported([file, "--as", "html"]);
    for (const options of [{ colorScheme: "light" }, { colorScheme: "dark", viewport: { width: 360, height: 740 } }]) {
      const { page, asked, url } = await openExport(t, text, options, browser);
      await page.evaluate(() => {
        for (const details of [...document.querySelectorAll("details")].slice(0, 3)) details.open = true;
      });
      assert.deepEqual(await axeFindings(page), [], file);
      assert.deepEqual(asked, [url]);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(wide <= 0, `${file}: nothing stands out at the side`);
    }
  }
});

test("a_chart_without_shots_shows_no_number_that_had_no_case", async () => {
  const file = (await demoStreams()).find((name) => name.includes("orchard-score-only"));
  const page = await exported([file, "--as", "html"]);
  assert.ok(page.includes("Rallies won on serve"));
  for (const label of ["Came out of pressure", "under pressure", "Attacks won", "Longest rally"]) {
    assert.ok(!page.includes(label), label);
  }
});

test("hostile_names_are_text_on_the_page", async (t) => {
  const header = headerFor("hostile", {}, { title: HOSTILE });
  header.teams.a = { name: HOSTILE, players: [HOSTILE, '</style></title><script>document.title="hit"</script>'] };
  const text = await exported(["-", "--as", "html"], { input: chartText({ header, entries: twice().right.entries }) });
  const { page } = await openExport(t, text);
  assert.equal(await page.title(), HOSTILE);
  assert.equal(await page.locator("h1").textContent(), HOSTILE);
  assert.equal(await page.locator("img, script").count(), 0);
  assert.deepEqual(await axeFindings(page), []);
});

test("the_page_needs_no_script_and_a_rally_opens_with_the_keyboard", async (t) => {
  const { page } = await openExport(t, await exported([DEMO_MATCH, "--as", "html"]), { javaScriptEnabled: false });
  const rally = page.locator("#rally-3");
  assert.equal(await rally.locator("ol").isVisible(), false);
  await rally.locator("summary").focus();
  await page.keyboard.press("Enter");
  assert.equal(await rally.locator("ol").isVisible(), true);
  assert.equal(await rally.locator("svg.ribbon").getAttribute("role"), "img");
});

test("every_shot_is_on_paper", async (t) => {
  const { page } = await openExport(t, await exported([DEMO_MATCH, "--as", "html"]));
  await page.emulateMedia({ media: "print" });
  const hidden = await page.evaluate(
    () =>
      [...document.querySelectorAll(".shots li")].filter((shot) => shot.getBoundingClientRect().height === 0).length,
  );
  assert.equal(hidden, 0);
  const pdf = await page.pdf({ preferCSSPageSize: true });
  const boxes = new Set(pdf.toString("latin1").match(/\/MediaBox \[[^\]]+\]/g));
  assert.equal(boxes.size, 1);
  const [, , width, height] = [...boxes][0].match(/[\d.]+/g).map(Number);
  assert.deepEqual([Math.round(width), Math.round(height)], [595, 842], "A4 in points");
});

test("a_long_match_stays_one_page_that_can_be_used", async (t) => {
  const input = (await linesOf(["simulate", "--seed", "5", "--points", "21", "--games", "5"]))
    .map((line) => `${line}\n`)
    .join("");
  const entries = input.split("\n").length - 2;
  assert.ok(entries > 2000, `${entries} entries`);
  const { page } = await openExport(t, await exported(["-", "--as", "html"], { input }));
  const last = page.locator("nav.rallies a").last();
  await last.click();
  const href = await last.getAttribute("href");
  const rally = page.locator(href);
  await rally.locator("summary").click();
  await rally.locator("ol").waitFor({ state: "visible" });
  const top = await rally.evaluate((node) => node.getBoundingClientRect().top);
  assert.ok(top < 1280, "the link leads to the rally");
});
