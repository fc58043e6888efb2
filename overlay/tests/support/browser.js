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
 * Opens a page that fails the test on any error of its own.
 * @param {import("playwright-core").Browser} browser
 * @param {object} [options] of the context
 */
export async function openPage(browser, options = {}) {
  const context = await browser.newContext({ viewport: VIDEO, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
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
