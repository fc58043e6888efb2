// The page for everybody: a day of forty matches on a phone, a team's own matches,
// what is live stays live, and what it says when the host is gone.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { FORTY } from "../support/desk-scenes.js";
import { FakeDesk } from "../support/fake-desk.js";
import { seeText, useStage } from "../support/stage.js";
import { SCORE } from "../support/states.js";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const PHONE = { viewport: { width: 390, height: 844 } };
const stage = useStage();

const onPhone = (desk, path, scene, more = {}) => stage.play({ path, desk, context: PHONE, ...more }, scene);
const texts = async (page, selector) =>
  (await page.locator(selector).allInnerTexts()).map((text) => text.replace(/\s+/g, " "));
const widest = (page) => page.evaluate(() => document.documentElement.scrollWidth);

test("forty_matches_fit_a_phone_and_are_found_by_team_player_and_round", () => {
  const desk = FORTY();
  const long = "Featherstonehaugh-Whitcombe / Papadimitropoulos";
  desk.match("m30").header.teams.a = {
    name: long,
    players: ["Ada Featherstonehaugh-Whitcombe", "Leo Papadimitropoulos"],
  };
  return onPhone(desk, "/event", async (page) => {
    await seeText(page, "h1", "Scores and schedule");
    assert.deepEqual(await texts(page, "nav a"), ["On court 4", "To come 21", "Results 16"]);
    assert.equal(await widest(page), 390, "nothing stands beside the screen");
    const find = page.getByLabel("Find a team, player, round or court");
    await find.fill("papadim");
    assert.deepEqual(await texts(page, "#to-come .name a"), [long, "Ueda / Jansen"]);
    assert.equal(await page.locator("#now, #results").count(), 0);
    await find.fill("qf 3");
    assert.equal(await page.locator("#to-come li").count(), 1);
    await find.fill("nobody of that name");
    await seeText(page, "main", "No match has that name in it.");
  });
});

test("a_teams_own_matches_are_one_tap_away_and_have_an_address", () =>
  onPhone(FORTY(), "/event", async (page, host) => {
    await page.locator("#now .name a").first().click();
    await seeText(page, ".whose", "Zamora / Haddad");
    const teams = await page.locator(".teams").allInnerTexts();
    assert.ok(teams.length > 5 && teams.every((both) => both.includes("Zamora / Haddad")), teams.join("\n"));
    await page.goto(`${host.url}/event#team=Sato%20%2F%20Lind`);
    await seeText(page, ".whose", "Sato / Lind");
    await page.getByRole("link", { name: "All matches" }).click();
    await seeText(page, "nav", "To come 21");
    assert.equal(await page.evaluate(() => location.hash), "");
  }));

test("scores_follow_the_host_without_a_touch", () => {
  const desk = FORTY();
  return onPhone(desk, "/event", async (page) => {
    await seeText(page, "#now li:first-child .points[data-now]", "3");
    desk.match("m16").score = { ...SCORE, points: { a: 10, b: 5 }, serving: "a", game_point: "a", match_point: "a" };
    await seeText(page, "#now li:first-child .points[data-now]", "10");
    await seeText(page, "#now li:first-child .stands", "match point Zamora / Haddad");
    desk.putOn("4", "m19");
    await seeText(page, "#now li:nth-child(4) .stands", "About to start");
    await seeText(page, "nav", "To come 20");
  });
});

test("a_host_that_is_gone_is_said_with_the_time_of_what_is_shown_and_comes_back", () =>
  onPhone(FORTY(), "/event", async (page, host) => {
    await seeText(page, "#now", "Court 1");
    const { port } = host;
    await host.stop();
    await seeText(
      page,
      ".line",
      /^Can't reach the host\. Shown below: as of \d\d:\d\d:\d\d\. This page keeps trying\.$/,
    );
    await seeText(page, "#now", "Court 1");
    await host.listen(port);
    await until(
      () =>
        page
          .locator(".line")
          .innerText()
          .then((words) => words === ""),
      "the host to be heard again",
      20_000,
    );
  }));

test("a_link_that_opens_nothing_is_said_in_words", () => {
  const desk = new FakeDesk();
  desk.event = () => ({ status: 403, body: "no" });
  return onPhone(desk, "/event", (page) => seeText(page, ".line", "This link does not open the schedule."));
});

test("an_event_without_a_match_says_so", () =>
  onPhone(new FakeDesk(), "/event", (page) => seeText(page, "main", "No match is planned yet.")));

test("a_page_nobody_looks_at_asks_for_nothing", () => {
  const desk = FORTY();
  return onPhone(desk, "/event", async (page) => {
    await seeText(page, "#now", "Court 1");
    await page.evaluate(() => {
      Object.defineProperty(document, "visibilityState", { value: "hidden", configurable: true });
      document.dispatchEvent(new Event("visibilitychange"));
    });
    const asked = desk.asked.length;
    // Longer than the pause between two questions.
    await page.waitForTimeout(2600);
    assert.equal(desk.asked.length, asked);
    await page.evaluate(() => {
      Object.defineProperty(document, "visibilityState", { value: "visible", configurable: true });
      document.dispatchEvent(new Event("visibilitychange"));
    });
    await until(() => desk.asked.length > asked, "the page to ask again at once", 1000);
  });
});

test("forty_matches_print_on_two_sheets_of_a4", () =>
  onPhone(FORTY(), "/event", async (page) => {
    await seeText(page, "#now", "Court 1");
    const paper = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
    const sheets = [...paper.matchAll(/\/MediaBox \[([^\]]+)\]/g)].map(([, box]) => box);
    // ISO 216: A4 is 210 × 297 mm, in points of 1/72 inch.
    assert.ok(
      sheets.length <= 2 && sheets.every((box) => /^0 0 59[45]\.?\d* 84[12]\.?\d*$/.test(box)),
      sheets.join("; "),
    );
    await page.emulateMedia({ media: "print" });
    assert.equal(await page.locator("nav, .asking input, footer select").filter({ visible: true }).count(), 0);
  }));

for (const theme of ["dark", "light"])
  test(`axe_finds_nothing_wrong_with_the_page_in_${theme}_and_a_thumb_finds_every_link`, () =>
    onPhone(FORTY(), `/event?theme=${theme}`, async (page) => {
      await seeText(page, "#now", "Court 1");
      await page.addScriptTag({ content: AXE });
      const { violations } = await page.evaluate((tags) => globalThis.axe.run(document, { runOnly: tags }), TAGS);
      assert.deepEqual(
        violations.map((one) => ({ id: one.id, at: one.nodes.map((node) => node.html) })),
        [],
      );
      // WCAG 2.2, 2.5.8: 24 CSS pixels; here more, for thumbs.
      const heights = await page.locator(".event a").evaluateAll((all) => all.map((one) => one.offsetHeight));
      assert.ok(Math.min(...heights) >= 36, String(Math.min(...heights)));
    }));
