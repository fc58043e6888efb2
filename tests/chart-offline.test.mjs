/**
 * The charters' page on a bad line: whatever happens to it, the chart the host has in the end is
 * the one that was typed, once and in order.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { plain } from "../overlay/tests/support/typist.js";
import { openBrowser } from "./support/browser.mjs";
import {
  LAPTOP,
  allSaved,
  begin,
  effectiveOf,
  lineOf,
  openChart,
  press,
  pressInTime,
  restartHost,
  startHost,
  stopClock,
  textOf,
  typed,
} from "./support/chart-page.mjs";
import { StallingProxy } from "./support/stalling-proxy.mjs";
import { until } from "./support/wait.mjs";

const waiting = async (page) => Number(/(\d+) waiting/.exec(await textOf(page, ".line"))?.[1] ?? 0);

async function offline(page) {
  await until("the page to notice", async () => (await lineOf(page)) === "lost", { seen: () => textOf(page, ".line") });
}

test("five minutes without a line, a reload and two restarts of the host lose and repeat nothing", async (t) => {
  const host = await startHost(t);
  const { header, entries, typist } = await typed(host, 5, { minutes: 6 });
  const context = await (await openBrowser(t)).newContext();
  const clock = await stopClock(context);
  const { page } = await openChart(t, host, { context });
  await begin(page, header);
  await allSaved(page);
  await clock.start();
  const minute = (count) => typist.times.findIndex((time) => time - typist.times[0] >= count * 60_000);
  const [gone, back] = [minute(0.5), minute(3)];
  await pressInTime(page, typist, 0, gone);
  await host.kill();
  await pressInTime(page, typist, gone, back);
  assert.equal(await lineOf(page), "lost");
  assert.ok((await waiting(page)) > 50, `${await textOf(page, ".line")}`);
  // A reload needs the host, so it comes back for a moment, and with it goes what waits.
  const again = await restartHost(t, host);
  await page.reload();
  await page.locator(".court").waitFor();
  await again.kill();
  await pressInTime(page, typist, back, minute(5.5));
  assert.equal(await lineOf(page), "lost");
  const last = await restartHost(t, host);
  await pressInTime(page, typist, minute(5.5));
  await page.clock.resume();
  await allSaved(page);
  assert.deepEqual(plain(await effectiveOf(last, header.id)), plain(entries));
  assert.equal(JSON.parse(await last.now()).score.call, typist.answer.score.call);
});

test("a connection that drops every few seconds loses and repeats nothing", async (t) => {
  const host = await startHost(t);
  const { header, entries, typist } = await typed(host, 7, { rallies: 10 });
  const context = await (await openBrowser(t)).newContext({ viewport: LAPTOP });
  let route;
  await context.routeWebSocket(/\/intake$/, (socket) => {
    route = socket;
    socket.connectToServer();
  });
  const clock = await stopClock(context);
  const { page } = await openChart(t, host, { context });
  await begin(page, header);
  await allSaved(page);
  await clock.start();
  let drops = 0;
  for (let at = 0; at < typist.codes.length; at += 5) {
    await pressInTime(page, typist, at, Math.min(at + 5, typist.codes.length));
    await route.close();
    drops += 1;
  }
  await page.clock.resume();
  await allSaved(page);
  t.diagnostic(`${drops} drops`);
  assert.deepEqual(plain(await effectiveOf(host, header.id)), plain(entries));
});

test("a dead Wi-Fi, on which sockets stay open and nothing passes, is noticed, charted through and survived", async (t) => {
  const host = await startHost(t);
  const { header, entries, typist } = await typed(host, 5, { rallies: 4 });
  const proxy = await StallingProxy.start(t, host.port);
  const { page } = await openChart(t, host, { address: `http://127.0.0.1:${proxy.port}/courts/1/chart` });
  await begin(page, header);
  const half = Math.floor(typist.codes.length / 2);
  await press(page, typist.codes.slice(0, half));
  await allSaved(page);
  proxy.stall();
  await press(page, typist.codes.slice(half));
  await offline(page);
  assert.ok((await waiting(page)) > 0);
  proxy.flow();
  await allSaved(page);
  assert.deepEqual(plain(await effectiveOf(host, header.id)), plain(entries));
});

test("a network that the browser itself calls gone loses and repeats nothing", async (t) => {
  const host = await startHost(t);
  const { header, entries, typist } = await typed(host, 5, { rallies: 4 });
  const context = await (await openBrowser(t)).newContext({ viewport: LAPTOP });
  const { page } = await openChart(t, host, { context });
  await begin(page, header);
  const half = Math.floor(typist.codes.length / 2);
  await press(page, typist.codes.slice(0, half));
  await context.setOffline(true);
  await press(page, typist.codes.slice(half));
  await offline(page);
  assert.ok((await waiting(page)) > 0);
  await context.setOffline(false);
  await allSaved(page);
  assert.deepEqual(plain(await effectiveOf(host, header.id)), plain(entries));
});

test("a laptop that runs the host itself charts on when its Wi-Fi goes", async (t) => {
  const host = await startHost(t);
  const { header } = await typed(host, 5, { rallies: 1 });
  const { page } = await openChart(t, host);
  await begin(page, header);
  await allSaved(page);
  await page.evaluate(() => {
    globalThis.linesSeen = [];
    new MutationObserver(() => globalThis.linesSeen.push(document.querySelector(".line").dataset.line)).observe(
      document.querySelector(".line"),
      { attributes: true },
    );
    dispatchEvent(new Event("offline"));
  });
  await press(page, ["Space", "Space"]);
  await allSaved(page);
  // Longer than the page doubts the line.
  await until("two beats to be answered", async () => (await page.evaluate(() => performance.now())) > 4_000);
  assert.deepEqual(await page.evaluate(() => globalThis.linesSeen), []);
});

test("a disk that takes nothing more is said, and the host still gets everything", async (t) => {
  const host = await startHost(t);
  const { header } = await typed(host, 5, { rallies: 1 });
  const { page } = await openChart(t, host);
  await begin(page, header);
  await press(page, ["Space"]);
  await allSaved(page);
  await page.evaluate(() => {
    IDBObjectStore.prototype.put = () => {
      throw new DOMException("no room", "QuotaExceededError");
    };
  });
  await press(page, ["Space"]);
  await until("the host to have it", async () => (await host.logged(header.id)).length === 2);
  await until("it to be said", async () => (await textOf(page, ".line")) === "Saved by the host, not on this laptop", {
    seen: () => textOf(page, ".line"),
  });
  await host.kill();
  await press(page, ["KeyK"]);
  await until(
    "it to be said loudly",
    async () => /^NOT SAVED: 1 entry is only in this page/.test(await textOf(page, ".line")),
    { seen: () => textOf(page, ".line") },
  );
});
