// A page that lacks what it needs says what to do and is never blank: a part of it that
// does not load, a host that does not answer, a browser that keeps nothing. Real
// Chromium; storage is blocked by the browser's own setting, as people block it.

import assert from "node:assert/strict";
import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { hearErrors, openBlockedBrowser } from "../support/browser.js";
import { FakeHost } from "../support/fake-host.js";
import { seeText, useStage } from "../support/stage.js";
import { held } from "../support/states.js";

const stage = useStage();

/** Every page that can be looked at without the host's own rules: where, which part to lose, what it shows when all is well. */
const PAGES = [
  { name: "first_page", path: "/", part: "**/shared/key.js*", shown: ["main", "Set up and run the event"] },
  { name: "graphic", path: "/courts/1/graphic", part: "**/shared/state.js*", shown: ["rt-strap", "Fenn"] },
  { name: "booth", path: "/courts/1/booth", part: "**/shared/state.js*", shown: ["rt-evidence", "on offense"] },
  {
    name: "review",
    path: "/review/nothing",
    part: "**/shared/html.js*",
    shown: [".result", "There is no match “nothing”"],
  },
];

for (const { name, path, part } of PAGES) {
  for (const [how, prepare] of /** @type {const} */ ([
    ["does_not_load", (page) => page.route(part, (route) => route.abort())],
    [
      "fails",
      (page) =>
        page.route(part, (route) =>
          route.fulfill({ contentType: "text/javascript", body: "throw new Error('planted')" }),
        ),
    ],
  ]))
    test(`the_${name}_says_what_to_do_when_a_script_${how}`, () =>
      stage.play(
        {
          path: null,
          greeting: held("a"),
          expected: [/planted|does not provide an export|dynamically imported|ERR_FAILED/],
        },
        async (page, host) => {
          await prepare(page);
          await page.goto(`${host.url}${path}`);
          await seeText(page, ".cannot-start", "could not start");
          await seeText(page, ".cannot-start", /reload/i);
        },
      ));
}

test("the_first_page_says_what_to_do_when_the_host_is_gone", () =>
  stage.play({ path: null, expected: [/courts|ERR_FAILED|Failed to fetch/] }, async (page, host) => {
    await page.route("**/courts", (route) => route.abort());
    await page.goto(host.url);
    await seeText(
      page,
      ".status",
      "Can't reach the host. Check that Rallytide is running and the network is up, then reload",
    );
  }));

test("the_review_says_what_to_do_when_the_host_is_gone", () =>
  stage.play({ path: null, expected: [/review.json|ERR_FAILED|Failed to fetch/] }, async (page, host) => {
    await page.route("**/review.json", (route) => route.abort());
    await page.goto(`${host.url}/review/m`);
    await seeText(page, ".result", "Check that Rallytide is running and the network is up, then reload this page.");
  }));

test("the_booth_says_what_to_do_when_the_host_is_gone_from_the_start", () =>
  stage.play({ path: null, expected: [/WebSocket|ERR_/] }, async (page, host) => {
    await page.routeWebSocket("**/feed**", (socket) => socket.close());
    await page.goto(`${host.url}/courts/1/booth`);
    await seeText(page, "rt-evidence", "Can't reach the host");
    await seeText(
      page,
      "rt-evidence",
      "Check that Rallytide is running and the network is up. This page keeps trying.",
    );
  }));

test("the_graphic_tells_whoever_looks_at_the_page_that_the_host_is_gone_and_viewers_nothing", () =>
  stage.play({ path: null, expected: [/WebSocket|ERR_/] }, async (page, host) => {
    await page.routeWebSocket("**/feed**", (socket) => socket.close());
    await page.goto(`${host.url}/courts/1/graphic`);
    await page.waitForFunction(() => document.title === "Connection lost. Is Rallytide running? · Graphic");
    assert.equal((await page.locator("body").innerText()).trim(), "");
  }));

test("every_page_starts_in_a_browser_that_keeps_nothing", async () => {
  const host = await FakeHost.start();
  host.greeting = held("a");
  const folder = await mkdtemp(join(tmpdir(), "rallytide-blocked-"));
  await mkdir(join(folder, "Default"));
  // The setting "block all site data", as the browser itself writes it.
  const settings = { profile: { default_content_setting_values: { cookies: 2 } } };
  await writeFile(join(folder, "Default", "Preferences"), JSON.stringify(settings));
  const context = await openBlockedBrowser(folder);
  try {
    for (const { path, shown } of PAGES) {
      const page = await context.newPage();
      const errors = hearErrors(page);
      await page.goto(`${host.url}${path}`);
      assert.equal(
        await page.evaluate(() => {
          try {
            return String(localStorage.length);
          } catch (error) {
            return error.name;
          }
        }),
        "SecurityError",
      );
      await seeText(page, shown[0], shown[1]);
      // The review was asked for a match that does not exist.
      assert.deepEqual(
        errors.filter((error) => !error.includes("/review.json")),
        [],
        path,
      );
      await page.close();
    }
  } finally {
    await context.close();
    await host.stop();
    await rm(folder, { recursive: true });
  }
});
