/**
 * The charters' page where the browser keeps nothing: site data blocked by a real setting of the
 * browser, no room left by its own quota. It charts without, says so, and offers the chart. And in a
 * private window.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { isStorageBlocked, openBlockedBrowser, openBrowser, openPage, openPrivateWindow } from "./support/browser.mjs";
import { LAPTOP, allSaved, begin, openChart, press, restartHost, startHost, textOf } from "./support/chart-page.mjs";
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

/** The browser itself gives this host's pages no more room than a byte (of DevTools' protocol, Storage domain). */
async function fillDisk(context, page, host) {
  const devTools = await context.newCDPSession(page);
  await devTools.send("Storage.overrideQuotaForOrigin", { origin: host.http(""), quotaSize: 1 });
}

const offersFile = async (page) => {
  const download = page.waitForEvent("download");
  await page.locator('[data-do="save-kept"]').press("Enter");
  const lines = (await readFile(await (await download).path(), "utf8")).trimEnd().split("\n");
  return lines.slice(1).map((line) => JSON.parse(line).kind);
};

test("on a disk that is full from the beginning a match is charted, and its file is offered", async (t) => {
  const host = await startHost(t);
  const context = await (await openBrowser(t)).newContext({ viewport: LAPTOP });
  const page = await context.newPage();
  await fillDisk(context, page, host);
  await page.goto(host.http("/courts/1/chart"));
  await page.locator(".setup").waitFor();
  const header = headerFor("full-before");
  await begin(page, header);
  await press(page, ["Space"]);
  await saysSo(page);
  await press(page, ["Space", "Digit2", "Enter"]);
  await until("the host to have it", async () => (await host.logged(header.id)).length === 3);
  assert.deepEqual(await offersFile(page), ["shot", "shot", "rally_end"]);
});

test("on a disk that fills up the page charts on, says so and offers the chart", async (t) => {
  const host = await startHost(t);
  const { page } = await openChart(t, host);
  const header = headerFor("full");
  await begin(page, header);
  await press(page, ["Space"]);
  await allSaved(page);
  // Chromium remembers for half a minute how much room there was: until then the disk refuses here.
  await page.evaluate(() => {
    IDBObjectStore.prototype.put = () => {
      throw new DOMException("no room", "QuotaExceededError");
    };
  });
  await press(page, ["Space"]);
  await saysSo(page);
  await until("the host to have the second shot", async () => /^Saved by the host/.test(await textOf(page, ".line")));
  await host.kill();
  await press(page, ["KeyK", "Digit2", "Enter"]);
  await until(
    "it to be said that this is only here",
    async () => /NOT SAVED: 2 entries are only in this page/.test(await textOf(page, ".line")),
    {
      seen: () => textOf(page, ".line"),
    },
  );
  assert.deepEqual(await offersFile(page), ["shot", "shot", "shot", "rally_end"]);
});

test("a private window charts, and keeps what it charts as long as it is open", async (t) => {
  const host = await startHost(t);
  const context = await openPrivateWindow(t, LAPTOP);
  const { page, errors } = await openChart(t, host, { context });
  const header = headerFor("private");
  await begin(page, header);
  await press(page, ["Space", "Space"]);
  await allSaved(page);
  assert.doesNotMatch(await textOf(page, "main"), /saves nothing/);
  await host.kill();
  await press(page, ["KeyK"]);
  await until("the key to wait", async () => /1 waiting/.test(await textOf(page, ".line")), {
    seen: () => textOf(page, ".line"),
  });
  const again = await restartHost(t, host);
  await page.reload();
  await page.locator(".court").waitFor();
  await press(page, ["Digit2", "Enter"]);
  await allSaved(page);
  const kinds = (await again.logged(header.id)).map(({ kind }) => kind);
  assert.deepEqual(kinds, ["shot", "shot", "shot", "rally_end"]);
  assert.deepEqual(errors, []);
});
