/**
 * A real browser: the system's Chromium (`CHROMIUM` names another), driven by playwright-core.
 */
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { freshFolder } from "./folders.mjs";

/** How long a page may take to show something: it holds what is said for a second as it is. */
const PAGE_PATIENCE_MS = 20_000;

/** Chromium's own word for "block" in its settings of a profile. */
const BLOCK = 2;

/** @param {string[]} [more] switches of the browser's own */
const launching = (more = []) => ({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--disable-quic", ...more],
});

/**
 * @param {import('node:test').TestContext} t the test that owns the browser
 * @param {string[]} [switches] of the browser's own
 * @returns {Promise<import('playwright-core').Browser>}
 */
export async function openBrowser(t, switches) {
  const browser = await chromium.launch(launching(switches));
  t.after(() => browser.close());
  return browser;
}

/**
 * A browser in which sites may keep nothing, as a person sets it.
 * @param {import('node:test').TestContext} t the test that owns the browser
 * @param {{ width: number, height: number }} viewport
 */
export async function openBlockedBrowser(t, viewport) {
  const folder = await freshFolder(t);
  await mkdir(join(folder, "Default"), { recursive: true });
  const preferences = { profile: { default_content_setting_values: { cookies: BLOCK } } };
  await writeFile(join(folder, "Default", "Preferences"), JSON.stringify(preferences));
  const context = await chromium.launchPersistentContext(folder, { ...launching(), viewport });
  t.after(() => context.close());
  return context;
}

/** A private window, as a person opens one: what it keeps is gone with it. */
export async function openPrivateWindow(t, viewport) {
  const context = await chromium.launchPersistentContext(await freshFolder(t), {
    ...launching(["--incognito"]),
    viewport,
  });
  t.after(() => context.close());
  return context;
}

/** Whether the browser refuses the page its storage. @param {import('playwright-core').Page} page */
export const isStorageBlocked = (page) =>
  page.evaluate(() => {
    try {
      return localStorage.getItem("x") !== null;
    } catch (error) {
      return error instanceof DOMException && error.name === "SecurityError";
    }
  });

/**
 * Opens a page; `errors` fills with whatever goes wrong in its scripts.
 * @param {import('playwright-core').Browser} browser
 * @param {string} url
 * @param {{ width: number, height: number }} viewport
 */
export async function openPage(browser, url, viewport) {
  const page = await browser.newPage({ viewport });
  page.setDefaultTimeout(PAGE_PATIENCE_MS);
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  await page.goto(url);
  return { page, errors };
}

/**
 * What a screenshot covers of the video below it. The browser itself reads the picture.
 * @param {import('playwright-core').Page} page
 * @param {number[][]} points x and y
 * @returns {Promise<{ width: number, height: number, alphas: number[], share: number }>} how opaque
 *   the points are, 0 to 255, and which share of the picture is opaque
 */
export async function coverOf(page, points) {
  const png = await page.screenshot({ omitBackground: true });
  return page.evaluate(
    async ([base64, places]) => {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      const picture = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
      const { width, height } = picture;
      const context = new OffscreenCanvas(width, height).getContext("2d");
      context.drawImage(picture, 0, 0);
      const { data } = context.getImageData(0, 0, width, height);
      let opaque = 0;
      for (let place = 3; place < data.length; place += 4) if (data[place] > 200) opaque += 1;
      const alphas = places.map(([x, y]) => data[(y * width + x) * 4 + 3]);
      return { width, height, alphas, share: opaque / (width * height) };
    },
    [png.toString("base64"), points],
  );
}
