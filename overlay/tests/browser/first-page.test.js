// The first page: the courts and their links, or why there are none.

import assert from "node:assert/strict";
import { test } from "node:test";
import { seeText, useStage } from "../support/stage.js";

const stage = useStage();

test("the_desk_comes_first_and_is_one_key_away", () =>
  stage.play({ path: "/?key=k1" }, async (page, host) => {
    await seeText(page, ".courts", "A match");
    await page.keyboard.press("Tab");
    assert.equal(await page.locator(":focus").evaluate((link) => Reflect.get(link, "href")), `${host.url}/desk?key=k1`);
  }));

test("every_court_has_its_match_and_its_links", () =>
  stage.play({ path: "/" }, async (page, host) => {
    await seeText(page, ".courts", "A match");
    const links = await page
      .locator(".courts a")
      .evaluateAll((all) => all.map((link) => String(Reflect.get(link, "href"))));
    assert.deepEqual(
      links.map((link) => link.replace(host.url, "")),
      [
        "/courts/1/chart",
        "/courts/1/cues",
        "/courts/1/graphic",
        "/courts/1/booth",
        "/courts/2/chart",
        "/courts/2/cues",
        "/courts/2/graphic",
        "/courts/2/booth",
      ],
    );
    await seeText(page, ".courts", "no match");
  }));

test("without_a_host_the_page_says_so", () =>
  stage.play({ path: "/any/folder/index/index.html", expected: [/404/] }, async (page) => {
    await seeText(page, ".status", "Can't reach the host. Check that Rallytide is running");
  }));
