/**
 * A page that lacks what it needs says what to do and is never blank: WebAssembly turned off, a script
 * that does not load, fails or hangs, site data blocked, a host that is gone before or after it is read.
 * Real host, real Chromium: its own switches and settings, and requests that fail.
 */
import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import { isStorageBlocked, openBlockedBrowser, openBrowser } from "./support/browser.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { rallytide } from "./support/program.mjs";
import { until } from "./support/wait.mjs";

const OVERLAY = fileURLToPath(new URL("../overlay", import.meta.url));
const CHART = fileURLToPath(new URL("../demo-streams/ferry-night.jsonl", import.meta.url));
const LAPTOP = { width: 1366, height: 768 };

const KEEPS_TRYING = "Check that Rallytide is running and the network is up. This page keeps trying.";
const RELOAD = "Check that Rallytide is running and the network is up, then reload this page.";

/**
 * Every page: a part of its scripts to lose; what it shows when all is well; what it says where the host
 * gives it nothing but its scripts (`title`: in the page's title), and what once the host is gone. One
 * that was read whole stays as it is.
 * @type {{ name: string, path: string, part: string, well: [string, string], from: [string, string], gone: [string, string] }[]}
 */
const PAGES = [
  {
    name: "first page",
    path: "/",
    part: "**/shared/key.js*",
    well: [".courts", "Ferry Landing Night"],
    from: [".status", `Can't reach the host. ${RELOAD}`],
    gone: [".courts", "Ferry Landing Night"],
  },
  {
    name: "graphic",
    path: "/courts/1/graphic",
    part: "**/shared/state.js*",
    well: ["rt-strap", "Oduyale won the match"],
    from: ["title", "Connection lost. Is Rallytide running? · Graphic"],
    gone: ["title", "Connection lost. Is Rallytide running? · Graphic"],
  },
  {
    name: "booth",
    path: "/courts/1/booth",
    part: "**/shared/state.js*",
    well: ["rt-evidence", "Oduyale won the match"],
    from: ["rt-evidence", `Can't reach the host\n\n${KEEPS_TRYING}`],
    gone: ["rt-connection-state", "Connection lost. Retrying"],
  },
  {
    name: "desk",
    path: "/desk",
    part: "**/shared/html.js*",
    well: ["main", "Ferry Landing Night"],
    from: [".desk", "Can't reach the host. Is Rallytide running and the network up? This page keeps trying."],
    gone: [".desk", "Is Rallytide running and the network up? This page keeps trying."],
  },
  {
    name: "event page",
    path: "/event",
    part: "**/event/telling.js*",
    well: [".event", "Kowalczek"],
    from: [".event", "Can't reach the host. This page keeps trying."],
    gone: [".event", "This page keeps trying."],
  },
  {
    name: "charting page",
    path: "/courts/3/chart",
    part: "**/shared/html.js*",
    well: [".setup", "Start a match"],
    from: [".cannot-start", "could not start: a part of it did not load. Check that Rallytide is running"],
    gone: [".page", "Offline, nothing waiting: chart on, do not reload"],
  },
  {
    name: "cues page",
    path: "/courts/1/cues",
    part: "**/cues/keys.js*",
    well: [".title", "Ferry Landing Night"],
    from: ["main", `Can't reach the host. ${KEEPS_TRYING}`],
    gone: [".line", "Offline: mark on"],
  },
  {
    name: "practice page",
    path: "/practice",
    part: "**/practice/tally.js*",
    well: [".choose", "Show the keys"],
    from: [".cannot-start", "could not start: a part of it did not load. Check that Rallytide is running"],
    gone: [".choose", "Show the keys"],
  },
  {
    name: "review",
    path: "/review/ferry-night",
    part: "**/review/filters.js*",
    well: [".result", "Oduyale won the match"],
    from: [".result", `The match cannot be shown. ${RELOAD}`],
    gone: [".result", "Oduyale won the match"],
  },
];

async function startHost(t) {
  const data = await freshFolder(t);
  const command = ["serve", "--listen", "127.0.0.1:0", "--data", data, "--pages", OVERLAY];
  const host = await Host.start(t, { data, command });
  const { status, stderr } = await rallytide(["feed", CHART, "--to", host.http("/"), "--pace", "0"]);
  assert.equal(status, 0, stderr);
  return host;
}

/** @param {import("playwright-core").Page} page @param {[string, string]} what a place on the page, and what is to be read there */
async function see(page, [place, words]) {
  const read = () =>
    place === "title" ? page.title() : page.locator(place).first().innerText({ timeout: 1_000 }).catch(String);
  await until(`\`${place}\` to say: ${words}`, async () => (await read()).includes(words), { seen: read });
}

/** Scenes on every page, one after the other in one browser. */
async function onEveryPage(t, open, scene) {
  for (const each of PAGES)
    await t.test(each.name, async () => {
      const page = await open();
      try {
        await scene(page, each);
      } finally {
        await page.close();
      }
    });
}

test("a page that cannot start says what to do and is never blank", async (scenes) => {
  const host = await startHost(scenes);
  const browser = await openBrowser(scenes);
  await scenes.test("a page whose script does not load, fails or hangs says so and what to do", async (t) => {
    const faults = {
      abort: (route) => route.abort(),
      fail: (route) => route.fulfill({ contentType: "text/javascript", body: "throw new Error('planted')" }),
    };
    await onEveryPage(
      t,
      () => browser.newPage({ viewport: LAPTOP }),
      async (page, { name, path, part }) => {
        for (const fault of Object.values(faults)) {
          await page.route(part, fault);
          await page.goto(host.http(path));
          await see(page, [".cannot-start", "could not start: a part of it did not load"]);
          await see(page, [".cannot-start", name === "graphic" ? "then reload this layer" : "then reload the page"]);
          await page.unroute(part);
        }
        // What is on air says nothing while it waits.
        if (name === "graphic") return;
        let release = () => {};
        const held = new Promise((resolve) => (release = () => resolve(undefined)));
        await page.route(part, async (route) => (await held, route.continue()));
        await page.clock.install();
        await page.goto(host.http(path), { waitUntil: "commit" });
        const trouble = page.locator(".cannot-start");
        await trouble.waitFor({ state: "attached" });
        assert.notEqual((await page.locator("body").innerText()).trim(), "", "not blank while it waits");
        await until("the wait to be over", async () => (await page.clock.fastForward(1_000), trouble.isVisible()));
        await page.clock.resume();
        release();
        await trouble.waitFor({ state: "hidden" });
      },
    );
  });

  await scenes.test("a page that the host gives nothing but its scripts says so and what to do", async (t) => {
    await onEveryPage(
      t,
      () => browser.newPage({ viewport: LAPTOP }),
      async (page, { path, from }) => {
        await page.route(
          (url) => !/\.(js|css|woff2|svg)$/.test(url.pathname),
          (route) => (route.request().resourceType() === "document" ? route.continue() : route.abort()),
        );
        await page.routeWebSocket(/./, (socket) => socket.close());
        await page.goto(host.http(path));
        await see(page, from);
      },
    );
  });

  await scenes.test("practice says what to do where no match was ever kept and the host is gone", async () => {
    const page = await browser.newPage({ viewport: LAPTOP });
    await page.route("**/practice/matches/**", (route) => route.abort());
    await page.goto(host.http("/practice"));
    await page.locator(".choose button.chief").click();
    await see(page, [
      ".choose-problem",
      "No made-up match is kept in this browser yet, and the host can't be reached. Check that Rallytide is running and the network is up, then press Start again.",
    ]);
  });

  await scenes.test("a page starts in a browser that keeps nothing", async (t) => {
    const context = await openBlockedBrowser(t, LAPTOP);
    await onEveryPage(
      t,
      () => context.newPage(),
      async (page, { name, path, well }) => {
        const errors = [];
        page.on("pageerror", (error) => errors.push(String(error)));
        await page.goto(host.http(path));
        assert.equal(await isStorageBlocked(page), true, "the browser's setting blocks the page's storage");
        await see(page, well);
        if (name === "practice page") {
          await page.locator(".choose button.chief").click();
          await page.locator(".court").waitFor();
        }
        assert.deepEqual(errors, []);
      },
    );
  });

  await scenes.test(
    "a page that works out the score says that WebAssembly is turned off, the others need none",
    async (t) => {
      // Without its compiler the browser offers no WebAssembly, as where people turn it off for safety.
      const without = await openBrowser(t, ["--js-flags=--jitless"]);
      await onEveryPage(
        t,
        () => without.newPage({ viewport: LAPTOP }),
        async (page, { name, path, well }) => {
          await page.goto(host.http(path));
          assert.equal(await page.evaluate(() => typeof WebAssembly), "undefined");
          if (name !== "charting page" && name !== "practice page") return see(page, well);
          await see(page, [
            ".cannot-start",
            "This page could not start: this browser has WebAssembly turned off, and the score is worked out with it. Allow it in the browser's settings, or use another browser, then reload the page.",
          ]);
        },
      );
    },
  );

  await scenes.test("a page whose host goes says so, or has all it needs", async (t) => {
    const pages = [];
    for (const { path, well } of PAGES) {
      const page = await browser.newPage({ viewport: LAPTOP });
      await page.goto(host.http(path));
      await see(page, well);
      pages.push(page);
    }
    await host.kill();
    for (const [place, { name, gone }] of PAGES.entries()) await t.test(name, () => see(pages[place], gone));
  });
});
