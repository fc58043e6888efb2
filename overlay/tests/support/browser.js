// The browser the tests run in: the system's Chromium (CHROMIUM names another),
// driven by playwright-core. Waits are bounded and say what they waited for.

import { chromium } from "playwright-core";

export async function openBrowser() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--disable-quic"],
  });
}

/** Screen of the video the graphic is laid over. */
export const VIDEO = { width: 1920, height: 1080 };

/**
 * Hears everything that goes wrong on a page: errors of its scripts, what the console
 * says as an error (a resource that is refused among it), requests that fail. What a
 * page breaks off itself, by leaving, is none.
 * @param {import("playwright-core").Page} page
 * @returns {string[]} fills while the page is open
 */
export function hearErrors(page) {
  /** @type {string[]} */
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(`console: ${message.text()} (${message.location().url})`);
  });
  page.on("requestfailed", (request) => {
    const why = request.failure()?.errorText ?? "";
    if (why !== "net::ERR_ABORTED") errors.push(`request: ${request.url()}: ${why}`);
  });
  return errors;
}

/**
 * Opens a page that fails the test on any error of its own.
 * @param {import("playwright-core").Browser} browser
 * @param {import("playwright-core").BrowserContextOptions} [options]
 */
export async function openPage(browser, options = {}) {
  const context = await browser.newContext({ viewport: VIDEO, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
  const errors = hearErrors(page);
  return { page, errors, close: () => context.close() };
}

/**
 * @param {() => boolean | Promise<boolean>} holds
 * @param {string} what
 * @param {number} [within] ms
 */
export async function until(holds, what, within = 8000) {
  const end = Date.now() + within;
  while (!(await holds())) {
    if (Date.now() > end) throw new Error(`waited ${within} ms for: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}
