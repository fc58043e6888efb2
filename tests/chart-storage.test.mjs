/**
 * The charters' page where the browser keeps nothing: site data blocked by a real setting of the
 * browser, a full disk that refuses what it is given. It charts without, says so, and offers the chart.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { isStorageBlocked, openBlockedBrowser, openBrowser, openPage } from "./support/browser.mjs";
import { LAPTOP, allSaved, begin, openChart, press, startHost, textOf } from "./support/chart-page.mjs";
import { headerFor } from "./support/charts.mjs";
import { until } from "./support/wait.mjs";

const saysSo = (page) =>
  until("the page to say that nothing is saved here", async () => /saves nothing/.test(await textOf(page, "main")), {
    seen: () => textOf(page, "main"),
  });

test("with site data blocked a match is charted to the end, and its file is offered", async (t) => {
  const host = await startHost(t);
  const context = await openBlockedBrowser(t, LAPTOP);
  const { page, errors } = await openPage(context, host.http("/courts/1/chart"), LAPTOP);
  await page.locator(".setup").waitFor();
  assert.equal(await isStorageBlocked(page), true, "the browser's setting blocks the page's storage");
  await saysSo(page);
  const header = headerFor("blocked");
  await begin(page, header);
  await press(page, ["Space", "Space", "Digit2", "Enter"]);
  await until("the host to have it", async () => (await host.logged(header.id)).length === 3);
  await host.kill();
  await press(page, ["Space"]);
  const download = page.waitForEvent("download");
  await page.locator('[data-do="save-kept"]').press("Enter");
  const file = await readFile(await (await download).path(), "utf8");
  assert.equal(file.trimEnd().split("\n").length, 5);
  assert.deepEqual(errors, []);
});

test("on a full disk the page charts on, says so and offers the chart", async (t) => {
  const host = await startHost(t);
  const { page } = await openChart(t, host, { browser: await openBrowser(t) });
  const header = headerFor("full");
  await begin(page, header);
  await press(page, ["Space"]);
  await allSaved(page);
  // Chromium lets small writes through whatever the quota: the disk refuses them here.
  await page.evaluate(() => {
    IDBObjectStore.prototype.put = () => {
      throw new DOMException("no room", "QuotaExceededError");
    };
  });
  await press(page, ["Space"]);
  await saysSo(page);
  await press(page, ["KeyK", "Digit2", "Enter"]);
  await until("the host to have it", async () => (await host.logged(header.id)).length === 4);
  assert.equal(await page.locator('[data-do="save-kept"]').isVisible(), true);
});
