/**
 * The same pages in another browser, Debian's Firefox: the charting page charts a match, through a
 * reload and without its host, and where the browser keeps nothing; the other pages open and follow
 * a match live, without an error on their console.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { plain } from "../overlay/tests/support/typist.js";
import { allSavedIn, beginIn, openFirefox, openFirefoxChart, openFirefoxPage, wordsOf } from "./support/firefox.mjs";
import { effectiveOf, press, restartHost, startHost, typed } from "./support/chart-page.mjs";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { freshFolder } from "./support/folders.mjs";
import { until } from "./support/wait.mjs";

const AT = "2026-05-03T10:00:00.000Z";
/** What Firefox itself writes on the console where nobody answers. */
const NOBODY_ANSWERS = /can’t establish a connection|was interrupted/;

const says = (page, selector, words) =>
  until(`\`${selector}\` to say ${words}`, async () => words.test(await wordsOf(page, selector)), {
    seen: () => wordsOf(page, "body"),
  });

/** One browser for all of it; every host has an address, and so a memory, of its own. */
test("in Firefox", async (own) => {
  const browser = await openFirefox(own);

  await own.test(
    "rallies charted in Firefox, through a reload and without the host, are the ones that were played",
    async (t) => {
      const host = await startHost(t);
      const { header, entries, typist } = await typed(host, 5, { rallies: 4 });
      const { page, keys, errors } = await openFirefoxChart(browser, host);
      await beginIn(page, header, await freshFolder(t));
      const [third, twoThirds] = [1, 2].map((part) => Math.floor((typist.codes.length * part) / 3));
      await press(keys, typist.codes.slice(0, third));
      await allSavedIn(page);
      // In the middle of a rally.
      await page.reload();
      await page.waitForSelector(".court");
      await press(keys, typist.codes.slice(third, twoThirds));
      await host.kill();
      await press(keys, typist.codes.slice(twoThirds));
      await says(page, ".line", /\d+ waiting/);
      const again = await restartHost(t, host);
      await allSavedIn(page);
      assert.deepEqual(plain(await effectiveOf(again, header.id)), plain(entries));
      assert.equal(JSON.parse(await again.now()).score.call, typist.answer.score.call);
      assert.deepEqual(
        errors.filter((error) => !NOBODY_ANSWERS.test(error)),
        [],
      );
    },
  );

  await own.test("keys that Firefox has a use for itself chart, and the next one does, too", async (t) => {
    const host = await startHost(t);
    const { page, keys, errors } = await openFirefoxChart(browser, host);
    const header = headerFor("own-keys");
    await beginIn(page, header, await freshFolder(t));
    // Both open the quick find, F1 a page about Firefox, Backspace is "back" for some.
    const codes = ["Space", "Space", "Slash", "KeyJ", "Quote", "KeyJ", "KeyJ", "Backspace", "Digit2", "Enter"];
    await press(keys, codes);
    await press(keys, ["F1"]);
    await page.waitForSelector("dialog[open]");
    await allSavedIn(page);
    const told = (await effectiveOf(host, header.id)).map(({ kind, stroke, how }) => stroke ?? how ?? kind);
    assert.deepEqual(told, ["serve", "return", "lob", "dink", "volley", "dink", "out"]);
    assert.deepEqual(errors, []);
  });

  await own.test("every page opens in Firefox, and graphic, booth and desk follow a match live", async (t) => {
    const host = await startHost(t);
    const header = { ...headerFor("live", { points: 11, games: 1 }), court: "1" };
    const charter = await Charter.welcomed(host, { chart: header });
    t.after(() => charter.close());
    const rally = (n, ...shots) => charter.chart(shots.map((one, place) => ({ id: `r${n}-${place}`, at: AT, ...one })));
    const shot = (team, stroke, more = {}) => ({ kind: "shot", team, stroke, ...more });
    await rally(1, shot("a", "serve"), shot("b", "return"), { kind: "rally_end", how: "net", by: "b" });
    const pages = {};
    const errors = {};
    for (const path of ["courts/1/graphic", "courts/1/booth", "desk", "", "courts/1/cues", "practice", "review/live"]) {
      const opened = await openFirefoxPage(browser, host.http(`/${path}`));
      pages[path] = opened.page;
      errors[path] = opened.errors;
    }
    const { "courts/1/graphic": graphic, "courts/1/booth": booth, desk } = pages;
    for (const page of [graphic, booth, desk]) await says(page, "body", /Alder/);
    await rally(2, shot("a", "serve"), shot("b", "return"), shot("a", "drive", { cues: ["attackable"] }));
    await says(graphic, "rt-strap", /high ball/);
    await says(booth, "rt-evidence", /high ball/);
    await rally(3, { kind: "rally_end", how: "winner", by: "a" });
    for (const page of [graphic, booth]) await says(page, "body", /2–0–2/);
    await says(desk, "body", /2–0–2/);
    for (const [path, seen] of Object.entries(errors)) assert.deepEqual(seen, [], `the page /${path}`);
  });
});

for (const [where, settings] of Object.entries({
  "with site data blocked": { "network.cookie.cookieBehavior": 2 },
  "in a private window": { "browser.privatebrowsing.autostart": true },
}))
  test(`Firefox ${where} charts a rally`, async (t) => {
    const host = await startHost(t);
    const browser = await openFirefox(t, settings);
    const { page, keys, errors } = await openFirefoxChart(browser, host);
    const header = headerFor("kept");
    await beginIn(page, header, await freshFolder(t));
    await press(keys, ["Space", "Space", "Digit2", "Enter"]);
    await until("the host to have it", async () => (await host.logged(header.id)).length === 3);
    const isKept = !/saves nothing/.test(await wordsOf(page, "main"));
    assert.equal(isKept, where === "in a private window");
    if (!isKept) assert.notEqual(await page.$('[data-do="save-kept"]'), null, "the chart is offered as a file");
    const cues = await openFirefoxPage(browser, host.http("/courts/1/cues"));
    await cues.page.waitForSelector(".pad");
    assert.deepEqual(cues.errors, []);
    assert.deepEqual(errors, []);
  });
