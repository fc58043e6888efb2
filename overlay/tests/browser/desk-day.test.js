// The desk over a whole day: forty matches on one screen, plates that keep their
// places, a foot that covers nothing and clears itself, and a page that cannot start.

import assert from "node:assert/strict";
import { test } from "node:test";
import { openPage, until } from "../support/browser.js";
import { FORTY } from "../support/desk-scenes.js";
import { FakeDesk } from "../support/fake-desk.js";
import { seeText, useStage } from "../support/stage.js";
import { HEADER } from "../support/states.js";

const stage = useStage();
const LAPTOP = { viewport: { width: 1366, height: 768 } };

const atDesk = (desk, room, scene, more = {}) =>
  stage.play({ path: `/desk${room}`, desk, context: LAPTOP, ...more }, async (page, host) => {
    await seeText(page, ".line", "Connected");
    await scene(page, host);
  });
const playing = () => new FakeDesk().play("1", { ...HEADER, id: "m1" });
const press = (page, name) => page.getByRole("button", { name }).filter({ visible: true }).first().click();
const texts = (page, selector) => page.locator(selector).allInnerTexts();

test("forty_matches_stand_on_one_screen_in_the_order_of_the_sheet", () =>
  atDesk(FORTY(), "#matches", async (page) => {
    const rows = page.locator(".matches li");
    assert.equal(await rows.count(), 40);
    const { scrolls, lowest } = await page.evaluate(() => ({
      scrolls: document.querySelector("main").scrollHeight > document.querySelector("main").clientHeight,
      lowest: Math.max(
        ...[...document.querySelectorAll(".matches li")].map((row) => row.getBoundingClientRect().bottom),
      ),
    }));
    assert.deepEqual([scrolls, lowest <= 768], [false, true], `the lowest row ends at ${lowest}`);
    assert.match(await rows.nth(0).innerText(), /^09:00\s+court\s+1\s+Pool A\s+Ueda \/ Jansen/);
    assert.match(await rows.nth(39).innerText(), /^15:00\s+court\s+4\s+QF 8/);
  }));

test("the_schedule_is_filtered_and_searched_without_a_change_of_order", () =>
  atDesk(FORTY(), "#matches", async (page) => {
    assert.deepEqual(await texts(page, ".filters button"), ["All 40", "On court 3", "Planned 21", "Finished 16"]);
    await press(page, "On court 3");
    assert.equal(await page.locator(".matches li").count(), 3);
    await press(page, "All 40");
    await page.getByLabel("Find a team").fill("qf");
    assert.deepEqual(await texts(page, ".matches .round"), [
      "QF 1",
      "QF 2",
      "QF 3",
      "QF 4",
      "QF 5",
      "QF 6",
      "QF 7",
      "QF 8",
    ]);
    await page.getByLabel("Find a team").fill("nobody of that name");
    await seeText(page, "main", "No match fits this filter.");
  }));

test("one_step_a_court_and_what_is_next_stand_beside_each_other_without_scrolling", () =>
  atDesk(FORTY(), "", async (page) => {
    assert.equal(await page.locator(".court").count(), 4);
    const filled = await page
      .locator(".court")
      .evaluateAll((all) => all.map((one) => one.querySelectorAll(".chief").length));
    assert.ok(
      filled.every((count) => count <= 1),
      String(filled),
    );
    assert.equal(await page.locator(".next-up li").count(), 6);
    const lowest = await page
      .locator(".court")
      .evaluateAll((all) => Math.max(...all.map((one) => one.getBoundingClientRect().bottom)));
    assert.ok(lowest <= 768, `the lowest plate ends at ${lowest}`);
    await seeText(page, "[data-court='3'] .place[data-how=bad]", "Charter not connected");
    await seeText(page, "[data-court='4'] .caution", "Brandt / Mbeki is still playing on court 1.");
  }));

test("a_team_that_is_still_playing_elsewhere_is_asked_about_before_the_start", () => {
  const desk = FORTY();
  return atDesk(desk, "", async (page) => {
    await press(page, /^Start next: Brandt \/ Mbeki v Egan \/ Castel/);
    await seeText(page, "dialog", "Brandt / Mbeki is still playing on court 1.");
    await press(page, "Cancel");
    assert.deepEqual(desk.writes(), []);
    await press(page, /^Start next: Brandt \/ Mbeki v Egan \/ Castel/);
    await press(page, "Start Brandt / Mbeki v Egan / Castel");
    await seeText(page, "[data-court='4'] .state", "Ready");
    assert.deepEqual(desk.writes(), ["PUT /courts/4/match"]);
  });
});

test("a_match_begun_with_a_team_that_has_not_won_after_all_is_changed_with_one_button_and_back", () => {
  const desk = playing();
  const now = { name: "Heron / Lark", players: ["Ida Heron", "Per Lark"] };
  desk.match("m1").places = [{ team: "a", outcome: "winner", of: "qf-2", called: "QF 2", now, differs: true }];
  return atDesk(desk, "", async (page) => {
    const words = "This match was begun with Quill / Abara, but the winner of QF 2 is now Heron / Lark.";
    await seeText(page, "[data-court='1'] .caution", words);
    await press(page, /^Change to Heron \/ Lark/);
    await seeText(page, "[data-court='1'] .team", "Heron / Lark");
    assert.deepEqual(desk.match("m1").header.teams.a, now);
    await press(page, "Undo");
    await seeText(page, "[data-court='1'] .team", "Quill / Abara");
    await page.goto(`${page.url().split("#")[0]}#matches`);
    await seeText(page, ".matches .clash", "!");
  });
});

test("the_plates_keep_their_places_while_links_are_open", () =>
  atDesk(FORTY(), "", async (page) => {
    const places = () =>
      page.locator(".court").evaluateAll((all) =>
        all.map((one) => {
          const { x, y, width, height } = one.getBoundingClientRect();
          return [x, y, width, height];
        }),
      );
    const before = await places();
    await press(page, /^More\s?, court 2$/);
    await seeText(page, ".court-dialog", "Links and QR codes");
    assert.deepEqual(await places(), before);
    await page.keyboard.press("Escape");
    await page.locator(".court-dialog").waitFor({ state: "detached" });
    assert.deepEqual(await places(), before);
  }));

test("a_live_match_moves_to_another_court_and_back", () => {
  const desk = playing();
  return atDesk(desk, "", async (page) => {
    await press(page, /^More/);
    await page.getByLabel("Move this match to court").fill("court three");
    await press(page, /^Move$/);
    await seeText(page, ".court-dialog .fault", "A court's name is 1 to 64 letters");
    await page.getByLabel("Move this match to court").fill("3");
    await page.keyboard.press("Enter");
    await seeText(page, ".said", "Quill / Abara v Fenn / Tarrow is on court 3 now.");
    const [moved] = desk.asked.filter(({ path }) => path === "/courts/3/match");
    assert.deepEqual(moved.body, { match: "m1", replace: false, move: true });
    await press(page, "Undo");
    await seeText(page, ".said", "The match is back on court 1.");
  });
});

test("what_is_said_at_the_foot_covers_nothing_and_goes_by_itself", () =>
  atDesk(
    playing(),
    "",
    async (page) => {
      await press(page, /^Pause/);
      await seeText(page, ".said", "play is paused");
      const { foot, room } = await page.evaluate(() => ({
        foot: document.querySelector(".notice").getBoundingClientRect().top,
        room: document.querySelector("main").getBoundingClientRect().bottom,
      }));
      assert.ok(room <= foot, `the room ends at ${room}, the foot begins at ${foot}`);
      await page.mouse.move(10, 10);
      await page.evaluate(() => document.activeElement.blur());
      await page.clock.fastForward(80_000);
      await seeText(page, ".said", "play is paused");
      await page.locator(".undo").focus();
      await page.clock.fastForward(20_000);
      await seeText(page, ".said", "play is paused");
      await page.evaluate(() => document.activeElement.blur());
      await page.clock.fastForward(10_000);
      await until(async () => (await page.locator(".said").innerText()) === "", "the foot to be empty");
      assert.equal(await page.locator(".notice").evaluate((node) => node.getBoundingClientRect().height), 0);
    },
    { prepare: (page) => page.clock.install() },
  ));

test("what_is_half_typed_stays_while_the_host_is_asked_and_another_room_is_looked_at", () =>
  atDesk(playing(), "#matches/new", async (page, host) => {
    const name = page.getByLabel("First team", { exact: true });
    await name.focus();
    await page.keyboard.type("Her");
    const before = host.desk.asked.length;
    await until(() => host.desk.asked.length > before + 3, "the host to be asked again");
    await page.keyboard.type("on");
    assert.equal(await name.inputValue(), "Heron");
    await page.getByRole("link", { name: "Courts" }).click();
    await page.goBack();
    assert.equal(await name.inputValue(), "Heron");
  }));

for (const [what, theme] of [
  ["night", "dark"],
  ["daylight", "light"],
]) {
  test(`the_ground_is_of_${what}_where_the_device_asks_for_it`, () =>
    atDesk(
      playing(),
      "",
      async (page) => {
        const ground = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
        assert.equal(ground, theme === "dark" ? "rgb(8, 21, 33)" : "rgb(239, 232, 216)");
        await page.locator(".look-choice select").selectOption(theme === "dark" ? "light" : "dark");
        const chosen = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
        assert.equal(chosen, theme === "dark" ? "rgb(239, 232, 216)" : "rgb(8, 21, 33)");
      },
      { context: { ...LAPTOP, colorScheme: theme } },
    ));
}

test("with_site_data_blocked_the_desk_still_works", () =>
  atDesk(
    playing(),
    "#matches/new",
    async (page) => {
      await page.getByLabel("First team", { exact: true }).fill("Heron");
      await page.getByLabel("Second team", { exact: true }).fill("Lantern");
      await press(page, "Add match");
      await seeText(page, ".matches", /Heron\s+v\s+Lantern/);
    },
    {
      prepare: (page) =>
        page.addInitScript(() => {
          for (const name of ["localStorage", "sessionStorage"])
            Object.defineProperty(window, name, {
              get() {
                throw new DOMException("blocked", "SecurityError");
              },
            });
        }),
    },
  ));

test("a_host_that_was_never_reached_is_told_with_what_to_do", () =>
  stage.play(
    {
      path: "/desk",
      desk: playing(),
      context: LAPTOP,
      expected: [/\/desk\/state/],
      prepare: (page) => page.route("**/desk/state", (route) => route.abort()),
    },
    async (page) => {
      await seeText(page, ".line", "Can't reach the host. Is Rallytide running and the network up?");
      await seeText(page, "main", "Start Rallytide on the computer that runs the event, or check the network.");
      await page.unroute("**/desk/state");
      await seeText(page, ".court .teams", "Quill / Abara");
    },
  ));

test("a_part_of_the_page_that_does_not_load_is_told_with_what_to_do", () =>
  stage.play({ path: null, desk: playing() }, async (_blank, host) => {
    const { page, close } = await openPage(stage.browser, LAPTOP);
    await page.route("**/desk/page/page.js", (route) => route.abort());
    await page.goto(`${host.url}/desk`);
    await seeText(page, ".cannot-start", "This page could not start: a part of it did not load.");
    await close();
  }));
