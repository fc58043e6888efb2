// Night and daylight: as the system has it, as somebody chooses it on the page, as
// the address says; kept by the browser; the graphic takes no part.

import assert from "node:assert/strict";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { useStage } from "../support/stage.js";
import { held } from "../support/states.js";

/** @import { Page } from "playwright-core" */

const stage = useStage();

const ground = (/** @type {Page} */ page) =>
  page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
const NIGHT = "rgb(8, 21, 33)";
const DAYLIGHT = "rgb(239, 232, 216)";
const seeGround = (/** @type {Page} */ page, /** @type {string} */ color, /** @type {string} */ what) =>
  until(async () => (await ground(page)) === color, what);

for (const path of ["/", "/courts/1/booth"]) {
  test(`${path}_is_light_by_day_and_dark_by_night_as_the_system_is`, () =>
    stage.play({ path, greeting: held("a"), context: { colorScheme: "light" } }, async (page) => {
      await seeGround(page, DAYLIGHT, "daylight");
      await page.emulateMedia({ colorScheme: "dark" });
      await seeGround(page, NIGHT, "night");
    }));

  test(`on_${path}_somebody_chooses_and_finds_it_again`, () =>
    stage.play({ path, greeting: held("a"), context: { colorScheme: "light" } }, async (page) => {
      await page.getByLabel("Display").selectOption("dark");
      await seeGround(page, NIGHT, "night as chosen");
      await page.reload();
      await seeGround(page, NIGHT, "night as kept");
      assert.equal(await page.getByLabel("Display").inputValue(), "dark");
    }));

  test(`on_${path}_the_address_decides_until_somebody_chooses`, () =>
    stage.play({ path: `${path}?theme=dark`, greeting: held("a"), context: { colorScheme: "light" } }, async (page) => {
      await seeGround(page, NIGHT, "night as the address says");
      await page.getByLabel("Display").selectOption("light");
      await seeGround(page, DAYLIGHT, "daylight as chosen");
    }));
}

test("where_the_browser_keeps_nothing_the_choice_still_holds", () =>
  stage.play(
    {
      path: "/",
      context: { colorScheme: "light" },
      prepare: (page) =>
        page.addInitScript(() =>
          Object.defineProperty(globalThis, "localStorage", {
            get() {
              throw new DOMException("The operation is insecure.", "SecurityError");
            },
          }),
        ),
    },
    async (page) => {
      await page.getByLabel("Display").selectOption("dark");
      await seeGround(page, NIGHT, "night as chosen");
    },
  ));

test("the_graphic_over_the_video_is_the_same_whatever_the_machine_likes", () =>
  stage.play(
    { path: "/courts/1/graphic?pieces=score", greeting: held("a"), context: { colorScheme: "light" } },
    async (page) => {
      await page.locator("rt-score-plate .rt-score").waitFor();
      assert.equal(await ground(page), "rgba(0, 0, 0, 0)");
      const plate = () =>
        page.locator("rt-score-plate .rt-score").evaluate((node) => getComputedStyle(node).backgroundColor);
      assert.equal(await plate(), "rgb(14, 34, 51)");
      await page.emulateMedia({ colorScheme: "dark" });
      assert.equal(await plate(), "rgb(14, 34, 51)");
    },
  ));
