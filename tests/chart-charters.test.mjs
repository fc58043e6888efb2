/**
 * More than one charter, and charts as files: who charts is never in doubt, nothing is counted
 * twice, and a chart finished without a host gives the same score everywhere.
 */
import assert from "node:assert/strict";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { plain } from "../overlay/tests/support/typist.js";
import { openBrowser, openPage } from "./support/browser.mjs";
import {
  LAPTOP,
  allSaved,
  begin,
  effectiveOf,
  lineOf,
  openChart,
  press,
  startHost,
  textOf,
  typed,
} from "./support/chart-page.mjs";
import { Charter } from "./support/charter.mjs";
import { freshFolder } from "./support/folders.mjs";
import { linesOf } from "./support/program.mjs";
import { until } from "./support/wait.mjs";

/** A laptop that has begun to chart, and everything of it saved. */
async function firstLaptop(t, codes) {
  const host = await startHost(t);
  const { header } = await typed(host, 3, { rallies: 1 });
  const browser = await openBrowser(t);
  const { page: first } = await openChart(t, host, { browser });
  await begin(first, header);
  await press(first, codes);
  await allSaved(first);
  return { host, header, browser, first };
}

async function anotherLaptop(browser, host) {
  const context = await browser.newContext({ viewport: LAPTOP });
  const { page } = await openPage(context, host.http("/courts/1/chart"), LAPTOP);
  return page;
}

const stopped = (page, line) =>
  until(`the page to be told it is ${line}`, async () => (await lineOf(page)) === line, {
    seen: () => textOf(page, ".line"),
  });
const recent = (page) => page.locator(".recent li").allTextContents();

test("a second laptop charts only after its charter took the court over, and goes on in the middle of a rally", async (t) => {
  const { host, header, browser, first } = await firstLaptop(t, ["Space", "Space", "KeyK"]);
  const charted = await recent(first);
  const second = await anotherLaptop(browser, host);
  await second.locator(".gate").waitFor();
  assert.match(await textOf(second, ".gate"), /Another laptop charts this court[\s\S]*told and stops/);
  await press(second, ["Space"]);
  await second.locator('[data-do="take-over"]').press("Enter");
  await stopped(first, "taken_over");
  assert.match(await textOf(first, ".gate"), /has taken over this court[\s\S]*Everything charted here is saved/);
  await stopped(second, "connected");
  await press(first, ["KeyJ", "ArrowRight"]);
  assert.deepEqual(await recent(second), charted);
  await press(second, ["KeyJ", "Digit2", "Enter"]);
  await allSaved(second);
  const logged = await host.logged(header.id);
  assert.deepEqual(
    logged.map(({ stroke, how }) => stroke ?? how),
    ["serve", "return", "drop", "dink", "out"],
  );
  assert.deepEqual(
    logged.slice(3).map(({ team, by }) => team ?? by),
    [header.first_serve === "a" ? "b" : "a", header.first_serve === "a" ? "b" : "a"],
  );
});

test("a court taken over and taken back is charted on from what the other one charted", async (t) => {
  const { host, header, browser, first } = await firstLaptop(t, ["ArrowLeft"]);
  const second = await anotherLaptop(browser, host);
  await stopped(second, "elsewhere");
  await second.locator('[data-do="take-over"]').press("Enter");
  await stopped(first, "taken_over");
  await stopped(second, "connected");
  await press(second, ["ArrowLeft", "ArrowRight", "ArrowRight", "ArrowRight"]);
  await allSaved(second);
  await first.locator('[data-do="take-over"]').press("Enter");
  await stopped(second, "taken_over");
  await stopped(first, "connected");
  const { call } = JSON.parse(await host.now()).score;
  await until("the first to know the score", async () => (await textOf(first, ".call")) === call, {
    seen: () => textOf(first, ".call"),
  });
  // What the other one charted can be put right here.
  await press(first, ["ArrowUp", "ArrowLeft", "Escape"]);
  await allSaved(first);
  const told = await effectiveOf(host, header.id);
  assert.deepEqual(
    told.map(({ won_by }) => won_by),
    ["a", "a", "b", "b", "a"],
  );
});

test("a laptop that comes back finds that another one charts now, stops, and what it had waiting becomes a file", async (t) => {
  const { host, header, browser, first } = await firstLaptop(t, ["ArrowLeft"]);
  await first.context().setOffline(true);
  await stopped(first, "lost");
  await press(first, ["ArrowRight"]);
  const second = await anotherLaptop(browser, host);
  // The first keeps its seat while it is away: nobody charts beside it unnoticed.
  await stopped(second, "elsewhere");
  await second.locator('[data-do="take-over"]').press("Enter");
  await stopped(second, "connected");
  await press(second, ["ArrowRight"]);
  await allSaved(second);
  await first.context().setOffline(false);
  await until("the first to stop", async () => ["elsewhere", "taken_over"].includes(await lineOf(first)), {
    seen: () => textOf(first, ".line"),
  });
  const saved = first.waitForEvent("download");
  await first.locator('[data-do="take-over"]').press("Enter");
  const file = await readFile(await (await saved).path(), "utf8");
  assert.equal(file.trimEnd().split("\n").length, 3);
  await stopped(first, "connected");
  await allSaved(first);
  assert.deepEqual(
    (await host.logged(header.id)).map(({ won_by }) => won_by),
    ["a", "b"],
  );
});

test("a second window of the same browser charts on, and the first one stops", async (t) => {
  const host = await startHost(t);
  const { header } = await typed(host, 3, { rallies: 1 });
  const context = await (await openBrowser(t)).newContext();
  const { page: first } = await openChart(t, host, { context });
  await begin(first, header);
  await press(first, ["Space", "Space"]);
  await allSaved(first);
  const { page: second } = await openChart(t, host, { context });
  await stopped(first, "elsewhere");
  assert.match(await textOf(first, ".gate"), /Another window of this browser/);
  await press(second, ["KeyK"]);
  await allSaved(second);
  await first.locator('[data-do="take-over"]').press("Enter");
  await stopped(second, "elsewhere");
  await stopped(first, "connected");
  await press(first, ["KeyJ"]);
  await allSaved(first);
  assert.deepEqual(
    (await host.logged(header.id)).map(({ stroke }) => stroke),
    ["serve", "return", "drop", "dink"],
  );
});

test("what somebody else brings to the court meanwhile is taken up with the next entry", async (t) => {
  const host = await startHost(t);
  const { header } = await typed(host, 3, { rallies: 1 });
  const { page } = await openChart(t, host);
  await begin(page, header);
  await press(page, ["ArrowRight"]);
  await allSaved(page);
  const welcome = await Charter.welcomed(host, { client: "probe" });
  const { seat } = welcome.welcome;
  await welcome.close();
  // The same seat from elsewhere, as the host's own desk would write.
  const desk = await Charter.welcomed(host, { client: seat });
  await desk.chart([
    { id: "fix", at: "2026-05-09T10:00:00.000Z", kind: "score_fix", points: { a: 7, b: 5 }, serving: "a", server: 1 },
  ]);
  await desk.close();
  await press(page, ["ArrowLeft"]);
  await until("the page to know the score", async () => (await textOf(page, ".call")) === "8-5-1", {
    seen: () => textOf(page, ".call"),
  });
  await allSaved(page);
  assert.equal(JSON.parse(await host.now()).score.call, "8-5-1");
});

test("a chart finished offline is a file that the program scores as the page does, and is brought to a host later", async (t) => {
  const host = await startHost(t);
  const { header, entries, typist } = await typed(host, 6, { games: 1 });
  const context = await (await openBrowser(t)).newContext({ acceptDownloads: true });
  const { page } = await openChart(t, host, { context });
  await begin(page, header);
  await allSaved(page);
  await host.kill();
  await press(page, typist.codes);
  await until("the match to be over", async () => /Match over/.test(await textOf(page, ".serving")), {
    seen: () => textOf(page, ".serving"),
  });
  const download = page.waitForEvent("download");
  await page.locator('[data-do="save"]').press("Enter");
  const file = join(await freshFolder(t), "chart.jsonl");
  await writeFile(file, await readFile(await (await download).path()));
  const scores = (await linesOf(["score", file, "--json"])).map((line) => JSON.parse(line).score);
  const onPage = typist.answer.score;
  assert.deepEqual(scores.at(-1), onPage);
  assert.ok((await textOf(page, ".serving")).includes(header.teams[onPage.winner].name));
  // Another laptop, another host.
  const later = await startHost(t);
  const { page: other } = await openChart(t, later);
  await other.locator(".setup [name=file]").setInputFiles(file);
  await other.locator(".setup button").press("Enter");
  await other.locator(".court").waitFor();
  await allSaved(other);
  assert.deepEqual(plain(await effectiveOf(later, header.id)), plain(entries));
  assert.deepEqual(JSON.parse(await later.now()).score, onPage);
});

test("a file that is no chart, or a torn one, is refused with the line, and nothing is begun", async (t) => {
  const host = await startHost(t);
  const { header } = await typed(host, 3, { rallies: 1 });
  const { page } = await openChart(t, host);
  const shot = { id: "s1", at: "2026-05-09T10:00:00.000Z", kind: "shot", team: "a", stroke: "serve" };
  for (const [text, words] of [
    ['{"kind":"shot"}\n', /line 1 of the file is no match header/],
    [`${JSON.stringify(header)}\n${JSON.stringify(shot)}\n{"id":"s2","at":"20`, /line 3 of the file is not JSON/],
    [`${JSON.stringify(header)}\n${JSON.stringify({ ...shot, stroke: "hammer" })}\n`, /line 2 of the file: .*hammer/],
    [
      `${JSON.stringify(header)}\n${JSON.stringify(shot)}\n${JSON.stringify({ ...shot, id: "s2", seq: 1 })}\n`,
      /all of them must or none/,
    ],
  ]) {
    await page
      .locator(".setup [name=file]")
      .setInputFiles({ name: "chart.jsonl", mimeType: "application/jsonl", buffer: Buffer.from(text) });
    await page.locator(".setup button").press("Enter");
    await until(`${words} to be said`, async () => words.test(await textOf(page, ".setup-problem")), {
      seen: () => textOf(page, ".setup-problem"),
    });
    assert.equal(await page.locator(".court").isHidden(), true);
  }
  assert.equal(
    JSON.parse(await (await host.get("/courts")).text()).courts.find(({ court }) => court === "1")?.match ?? null,
    null,
  );
});
