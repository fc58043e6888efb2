/**
 * Charting from a video on the laptop: entries carry the video's time, also after going back to
 * insert a missed shot. The video is recorded by the browser itself from a canvas.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import { SCHEME } from "../overlay/shared/charting/scheme.js";
import { openBrowser } from "./support/browser.mjs";
import { beginByForm } from "./support/chart-page.mjs";
import { recordVideo } from "./support/canvas-video.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { until } from "./support/wait.mjs";

const OVERLAY = fileURLToPath(new URL("../overlay", import.meta.url));
const LAPTOP = { width: 1366, height: 768 };
const CODE = new Map(SCHEME.map(({ action, code }) => [action, code]));
const BEGAN = Date.UTC(2020, 4, 9, 10, 0, 0);

async function startHost(t) {
  const folder = await freshFolder(t);
  return Host.start(t, {
    data: folder,
    command: ["serve", "--listen", "127.0.0.1:0", "--data", folder, "--pages", OVERLAY],
  });
}

async function openPage(t, host) {
  const browser = await openBrowser(t);
  const context = await browser.newContext({ viewport: LAPTOP, timezoneId: "Europe/Berlin" });
  const page = await context.newPage();
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  await page.goto(host.http("/courts/1/chart"));
  await page.locator(".setup").waitFor();
  const file = { name: "recording.webm", mimeType: "video/webm", buffer: await recordVideo(page) };
  return { page, errors, file };
}

/** Opens the video by the dialog, and says when it began: in the laptop's zone, two hours ahead. */
async function openVideo(page, file, from = ".ways") {
  await page.locator(`${from} [data-do="film"]`).press("Enter");
  await page.locator("dialog.film-choice [name=film]").setInputFiles(file);
  await page.locator(".film-chosen").filter({ hasText: "is open" }).waitFor();
}

async function closeDialog(page) {
  await page.locator('dialog.film-choice button[value=""]').press("Enter");
  // Until it is closed, no key reaches the page below it.
  await page.locator("dialog.film-choice").waitFor({ state: "hidden" });
}

async function chartVideo(t, host) {
  const opened = await openPage(t, host);
  const { page, file } = opened;
  await openVideo(page, file);
  await page.locator("dialog.film-choice [name=began]").fill("2020-05-09T12:00:00");
  await closeDialog(page);
  await beginByForm(page);
  return opened;
}

const press = async (page, ...actions) => {
  for (const action of actions) await page.keyboard.press(CODE.get(action));
};
const video = (page, name) => page.locator("video").evaluate((node, wanted) => node[wanted], name);
const seeked = (page) => until("the video to be where it was sent", async () => !(await video(page, "seeking")));

async function allSaved(page) {
  await until(
    "everything to be saved",
    async () => (await page.locator(".line").textContent()) === "Connected, all saved",
  );
}

async function loggedEntries(host) {
  const id = JSON.parse(await host.now()).match.id;
  return (await host.logged(id)).map((entry) => ({ ...entry, ms: Date.parse(entry.at) - BEGAN }));
}

test("entries carry the time of the video, also the shot inserted after going back", async (t) => {
  const host = await startHost(t);
  const { page, errors } = await chartVideo(t, host);
  await press(page, "film:on", "next", "film:on", "stroke:drop");
  await press(page, "film:back", "film:frame_on", "older", "older", "insert", "stroke:lob:bounce", "cancel");
  await allSaved(page);
  const told = await loggedEntries(host);
  // The drop after it is turned over to the other side.
  assert.deepEqual(
    told.map(({ kind, stroke, entry }) => stroke ?? entry?.stroke ?? kind),
    ["serve", "return", "drop", "lob", "amend"],
  );
  assert.deepEqual(
    told.slice(0, 3).map(({ ms }) => ms),
    [1000, 2000, 2000],
  );
  // One picture further than 1 s: at most a tenth of a second, however many a second there are.
  assert.ok(told[3].ms > 1000 && told[3].ms < 1100, String(told[3].ms));
  assert.deepEqual(errors, []);
});

test("a video is played, paused, slowed and stepped by keys that chart nothing", async (t) => {
  const host = await startHost(t);
  const { page } = await chartVideo(t, host);
  await press(page, "film:slower", "film:slower");
  assert.equal(await video(page, "playbackRate"), 0.5);
  await press(page, "film:faster");
  assert.equal(await video(page, "playbackRate"), 0.75);
  await press(page, "film:play");
  await until("the video to play", async () => (await video(page, "currentTime")) > 0.2);
  await press(page, "film:play");
  await until("the video to stand", () => video(page, "paused"));
  await press(page, "film:far_back");
  await seeked(page);
  assert.equal(await video(page, "currentTime"), 0);
  await press(page, "film:far_on");
  await seeked(page);
  const length = await video(page, "duration");
  assert.ok(Number.isFinite(length) && (await video(page, "currentTime")) === length);
  assert.equal(await page.locator(".recent li").count(), 0);
});

test("without a host the video is charted to its end and saved as a file", async (t) => {
  const host = await startHost(t);
  const { page } = await chartVideo(t, host);
  await host.kill();
  await until("the page to notice", async () => (await page.locator(".line").getAttribute("data-line")) === "lost");
  await press(page, "film:on", "next", "film:on", "end:winner", "confirm");
  const download = page.waitForEvent("download");
  await page.locator('[data-do="save"]').press("Enter");
  const text = await readFile(await (await download).path(), "utf8");
  const [, ...entries] = text
    .trim()
    .split("\n")
    .map((line) => JSON.parse(line));
  assert.deepEqual(
    entries.map(({ at, stroke, how }) => [stroke ?? how, at]),
    [
      ["serve", "2020-05-09T10:00:01.000Z"],
      ["ace", "2020-05-09T10:00:02.000Z"],
    ],
  );
});

test("after a reload the same file goes on where it was left, and leaving it brings the own clock back", async (t) => {
  const host = await startHost(t);
  const { page, file } = await chartVideo(t, host);
  await press(page, "film:on", "next", "film:on");
  await allSaved(page);
  await page.reload();
  await page.locator(".court").waitFor();
  await openVideo(page, file, ".court");
  await closeDialog(page);
  await seeked(page);
  assert.equal(await video(page, "currentTime"), 2);
  await press(page, "next");
  await page.locator('.court [data-do="film"]').press("Enter");
  await page.locator('[data-do="film-leave"]').press("Enter");
  await closeDialog(page);
  assert.equal(await page.locator(".picture").isHidden(), true);
  await press(page, "stroke:drop");
  await allSaved(page);
  const [, returned, dropped] = await loggedEntries(host);
  assert.equal(returned.ms, 2000);
  assert.ok(dropped.ms > 10 * 24 * 3600 * 1000, "the laptop is long after the recording");
});

test("a file that is no video is refused in words", async (t) => {
  const host = await startHost(t);
  const { page } = await openPage(t, host);
  await page.locator('.ways [data-do="film"]').press("Enter");
  await page
    .locator("dialog.film-choice [name=film]")
    .setInputFiles({ name: "notes.webm", mimeType: "video/webm", buffer: Buffer.from("no video") });
  await page.locator(".film-chosen").filter({ hasText: "cannot show that file" }).waitFor();
  await closeDialog(page);
  await beginByForm(page);
  assert.equal(await page.locator(".picture").isHidden(), true);
});

test("the page with a video fits a small laptop and tablets, and axe finds nothing", async (t) => {
  const host = await startHost(t);
  const { page } = await chartVideo(t, host);
  await press(page, "film:on", "next", "next", "stroke:drop", "cue:attackable", "next", "end:out");
  await page.evaluate(
    await readFile(
      createRequire(new URL("../overlay/package.json", import.meta.url)).resolve("axe-core/axe.min.js"),
      "utf8",
    ),
  );
  const look = async (state) => {
    for (const viewport of [LAPTOP, { width: 1280, height: 800 }, { width: 800, height: 1280 }]) {
      await page.setViewportSize(viewport);
      if (process.env.LOOK !== undefined)
        await page.screenshot({ path: `${process.env.LOOK}/video-${state}-${viewport.width}.png` });
      const [width, height] = await page.evaluate(() => [
        document.documentElement.scrollWidth,
        document.documentElement.scrollHeight,
      ]);
      assert.ok(
        width <= viewport.width && height <= viewport.height,
        `${state} is ${width}×${height} on ${viewport.width}×${viewport.height}`,
      );
      const small = await page
        .locator("button:visible, input:not([type=checkbox]):visible, a.button:visible")
        .evaluateAll((all) => all.filter((one) => one.getBoundingClientRect().height < 48).map((one) => one.outerHTML));
      assert.deepEqual(small, [], state);
    }
    const { violations } = await page.evaluate(() => globalThis.axe.run());
    assert.deepEqual(
      violations.map(({ id, nodes }) => `${state} ${id}: ${nodes[0]?.html}`),
      [],
    );
  };
  await look("charting");
  await page.setViewportSize(LAPTOP);
  await page.locator('.court [data-do="film"]').press("Enter");
  await look("dialog");
});
