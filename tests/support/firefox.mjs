/**
 * A real Firefox: Debian's (`FIREFOX` names another), driven by puppeteer-core over WebDriver BiDi,
 * the W3C's protocol that Firefox speaks itself.
 */
import { existsSync } from "node:fs";
import puppeteer from "puppeteer-core";
import { LAPTOP } from "./chart-page.mjs";
import { chartFile } from "./charts.mjs";
import { until } from "./wait.mjs";

const FIREFOX = process.env.FIREFOX ?? "/usr/bin/firefox-esr";

/**
 * @param {import('node:test').TestContext} t the test that owns the browser
 * @param {Record<string, unknown>} [settings] as `about:config` names them
 * @returns {Promise<import('puppeteer-core').Browser>}
 */
export async function openFirefox(t, settings = {}) {
  if (!existsSync(FIREFOX)) {
    throw new Error(`there is no Firefox at \`${FIREFOX}\`: install \`firefox-esr\`, or name one with \`FIREFOX\``);
  }
  const browser = await puppeteer.launch({
    browser: "firefox",
    executablePath: FIREFOX,
    headless: true,
    extraPrefsFirefox: settings,
  });
  t.after(() => browser.close());
  return browser;
}

/**
 * Keys that this client knows by what they write alone; Enter as WebDriver's table of keys has it
 * (W3C WebDriver, 17.4.2 "Keyboard actions"), else it would be the one of the number pad.
 * @type {Record<string, string>}
 */
const CALLED = { Space: " ", Enter: "\uE006" };

/**
 * Opens a page; `errors` fills with whatever its scripts throw and the console calls an error.
 * `keys` takes what `press` of `chart-page.mjs` types.
 * @param {import('puppeteer-core').Browser} browser
 * @param {string} url
 * @param {{ width: number, height: number }} [viewport]
 */
export async function openFirefoxPage(browser, url, viewport = LAPTOP) {
  const page = await browser.newPage();
  await page.setViewport(viewport);
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(message.text());
  });
  await page.goto(url);
  const keys = { keyboard: { press: (code) => page.keyboard.press(CALLED[code] ?? code) } };
  return { page, keys, errors };
}

/** @param {import('puppeteer-core').Page} page @param {string} selector @returns {Promise<string>} its words, empty where it is not there */
export const wordsOf = (page, selector) =>
  page.evaluate((wanted) => document.querySelector(wanted)?.textContent ?? "", selector);

/** Opens the charting page and waits until the court has answered. */
export async function openFirefoxChart(browser, host) {
  const opened = await openFirefoxPage(browser, host.http("/courts/1/chart"));
  await opened.page.waitForSelector(".setup");
  await until("the page to connect", () => opened.page.$('.line:not([data-line="connecting"])'), {
    seen: () => wordsOf(opened.page, "body"),
  });
  return opened;
}

/** Brings the header to the page as somebody would: a chart file without entries. */
export async function beginIn(page, header, folder) {
  const field = await page.$(".setup [name=file]");
  await field.uploadFile(await chartFile(folder, `${JSON.stringify(header)}\n`));
  await (await page.$(".setup button")).press("Enter");
  await page.waitForSelector(".court");
}

export const allSavedIn = (page) =>
  until("everything to be saved", async () => (await wordsOf(page, ".line")) === "Connected, all saved", {
    within: 90_000,
    seen: () => wordsOf(page, ".line"),
  });
