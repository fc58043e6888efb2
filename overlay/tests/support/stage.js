// Sets a scene for a browser test: one browser and one fake host for a file,
// and pages that are checked for errors of their own when a test ends.

import assert from "node:assert/strict";
import { after, before } from "node:test";
import { openBrowser, openPage } from "./browser.js";
import { FakeHost } from "./fake-host.js";

/** What a browser says about a host that is gone, or does not let it in. */
const CUT =
  /WebSocket connection|net::ERR_(CONNECTION|EMPTY|SOCKET)|\/feed.*403|403.*\/feed|Failed to fetch|this link was replaced/;

/** @import { Browser, BrowserContextOptions, Locator, Page } from "playwright-core" */
/** @import { FakeDesk } from "./fake-desk.js" */

/** @typedef {{ path: string | null, greeting?: unknown, desk?: FakeDesk | null, context?: BrowserContextOptions, expected?: RegExp[], prepare?: (page: Page) => Promise<unknown> }} Setting */

export function useStage() {
  /** @type {Browser} */
  let browser;
  before(async () => {
    browser = await openBrowser();
  });
  after(() => browser.close());

  /**
   * Opens `path` (null: a blank page of no origin) on a fresh host that greets with `greeting`, runs `scene`,
   * and fails on any error of the page, console and failed requests among it, that `expected` does not name.
   * @param {Setting} setting
   * @param {(page: Page, host: FakeHost) => Promise<void>} scene
   */
  const play = async ({ path, greeting = null, desk = null, context = {}, expected = [], prepare }, scene) => {
    const host = await FakeHost.start();
    host.greeting = greeting;
    host.desk = desk;
    const { page, errors, close } = await openPage(browser, context);
    try {
      await prepare?.(page);
      if (path !== null) await page.goto(`${host.url}${path}`);
      await scene(page, host);
      const isMeant = (/** @type {string} */ error) =>
        expected.some((pattern) => pattern.test(error)) ||
        host.refused.some((path) => error.includes(path)) ||
        (host.hasCut && CUT.test(error));
      assert.deepEqual(
        errors.filter((error) => !isMeant(error)),
        [],
      );
    } finally {
      await close();
      await host.stop();
    }
  };
  return {
    play,
    /** One for the whole file; there from the first test on. */
    get browser() {
      return browser;
    },
  };
}

/** Text as a person sees it, hidden parts left out. @param {Page} page @param {string} selector */
export const textOf = (page, selector) => page.locator(selector).innerText();

/**
 * @param {Page | Locator} page or a part of it
 * @param {string} selector
 * @param {string | RegExp} text
 */
export async function seeText(page, selector, text) {
  const found = page.locator(selector).filter({ hasText: text, visible: true });
  await found
    .first()
    .waitFor({ state: "visible" })
    .catch(async () => {
      const seen = await page.locator(selector).allInnerTexts();
      throw new Error(`waited for \`${text}\` in \`${selector}\`, last seen: ${JSON.stringify(seen)}`);
    });
}
