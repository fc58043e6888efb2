// What everybody must be able to use: axe, motion, greyscale, keyboard, targets.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { readPng } from "../support/png.js";
import { seeText, useStage } from "../support/stage.js";
import { LARGE } from "../support/graphic-states.js";
import { SCORE, held, initiative, reading, reason, shot, snapshot, update } from "../support/states.js";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const stage = useStage();

const earlier = [
  {
    number: 11,
    shots: [shot(1, "a", "serve", { entry: "r11s1" })],
    end: { entry: "r11e", won_by: "a", how: "ace", by: "a" },
  },
];
const prompt = reading(
  "prompt",
  null,
  { type: "text", text: "Out of pressure four times in a row." },
  { slot: "p1", why: [reason("air", "b")] },
);
const full = {
  ...held("a"),
  readings: [...held("a").readings, prompt],
  unavailable: [{ plugin: "rally", message: "stopped" }],
};
full.rally = { ...full.rally, earlier };

for (const [name, path, greeting, ready] of [
  ["graphic", `/courts/1/graphic?${LARGE}`, full, ["rt-tide-line", "offense"]],
  ["strap", "/courts/1/graphic", full, ["rt-strap", "offense"]],
  ["strap_light", "/courts/1/graphic?theme=light", full, ["rt-strap", "offense"]],
  [
    "graphic_after_the_match",
    `/courts/1/graphic?${LARGE}`,
    snapshot({ score: { ...SCORE, winner: "a" } }),
    ["rt-score-plate", "won"],
  ],
  [
    "graphic_light",
    `/courts/1/graphic?${LARGE}&theme=light&show=rally.longest,escape.share`,
    full,
    ["rt-tide-line", "offense"],
  ],
  [
    "graphic_text",
    `/courts/1/graphic?${LARGE}&theme=text&show=rally.longest,escape.share`,
    full,
    ["rt-tide-line", "offense"],
  ],
  ["graphic_paused", `/courts/1/graphic?${LARGE}`, { ...full, paused: true }, ["rt-score-plate", "paused"]],
  ["booth", "/courts/1/booth?theme=dark", full, ["rt-evidence", "offense"]],
  ["booth_light", "/courts/1/booth?theme=light", full, ["rt-evidence", "offense"]],
  ["booth_text", "/courts/1/booth?theme=text", full, ["rt-evidence", "offense"]],
  [
    "booth_without_a_match",
    "/courts/1/booth",
    snapshot({ match: null, score: null, readings: [], rally: null }),
    ["rt-evidence", "No match"],
  ],
  ["first_page", "/", null, [".courts", "A match"]],
  ["first_page_by_night", "/?theme=dark", null, [".courts", "A match"]],
]) {
  test(`axe_finds_nothing_wrong_with_the_${name}`, () =>
    stage.play({ path, greeting }, async (page) => {
      await seeText(page, ...ready);
      await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
      await page.addScriptTag({ content: AXE });
      const { violations } = await page.evaluate((tags) => globalThis.axe.run(document, { runOnly: tags }), TAGS);
      assert.deepEqual(
        violations.map((one) => ({ id: one.id, at: one.nodes.map((node) => node.html) })),
        [],
      );
    }));
}

for (const [name, path, media] of [
  ["the_machines_setting", `/courts/1/graphic?${LARGE}`, { reducedMotion: "reduce" }],
  ["the_address", `/courts/1/graphic?${LARGE}&motion=off`, {}],
  ["the_machines_setting_on_the_booth", "/courts/1/booth", { reducedMotion: "reduce" }],
  ["the_address_of_the_booth", "/courts/1/booth?motion=off", {}],
]) {
  test(`${name}_stops_all_motion`, () =>
    stage.play({ path, greeting: held("a"), context: media }, async (page) => {
      await seeText(page, "rt-tide-line", "offense");
      const moving = await page.evaluate(() =>
        [...document.querySelectorAll("*")]
          .filter((node) =>
            getComputedStyle(node)
              .transitionDuration.split(", ")
              .some((time) => time !== "0s"),
          )
          .map((node) => node.className),
      );
      assert.deepEqual(moving, []);
    }));
}

test("with_motion_the_tide_eases", () =>
  stage.play({ path: `/courts/1/graphic?${LARGE}`, greeting: held("a") }, async (page) => {
    await seeText(page, "rt-tide-line", "offense");
    const time = await page.evaluate(() => getComputedStyle(document.querySelector(".rt-crest")).transitionDuration);
    assert.equal(time, "0.24s, 0.24s, 0.24s");
  }));

/** The tide without any color: both teams in one grey, the whole in greyscale. */
async function greyTide(toward) {
  let crest = 0;
  let states = [];
  await stage.play(
    { path: `/courts/1/graphic?${LARGE}&color-a=909090&color-b=909090&motion=off`, greeting: held(toward) },
    async (page) => {
      await seeText(page, "rt-tide-line", "offense");
      await page.addStyleTag({ content: "html { filter: grayscale(1) }" });
      states = await page.locator(".rt-state").allInnerTexts();
      const water = await page.locator(".rt-water").boundingBox();
      const picture = readPng(await page.screenshot());
      const y = Math.round(water.y + water.height / 2);
      const row = Array.from({ length: Math.floor(water.width) }, (_, x) => picture.pixel(Math.round(water.x) + x, y));
      assert.ok(
        row.every(([red, green, blue]) => red === green && green === blue),
        "the picture is grey",
      );
      crest = row.findIndex(([grey]) => grey > 220) / row.length;
    },
  );
  return { crest, states };
}

test("without_colors_place_and_words_tell_who_is_on_offense", async () => {
  const forA = await greyTide("a");
  const forB = await greyTide("b");
  assert.ok(forA.crest > 0.75, `a's tide reaches ${forA.crest}`);
  assert.ok(forB.crest < 0.25 && forB.crest > 0, `b's tide reaches ${forB.crest}`);
  assert.deepEqual(forA.states, ["offense", "defense"]);
  assert.deepEqual(forB.states, ["defense", "offense"]);
});

test("without_colors_the_ribbon_tells_the_teams_by_shape", () =>
  stage.play({ path: `/courts/1/graphic?${LARGE}`, greeting: held("a") }, async (page) => {
    await seeText(page, "rt-tide-line", "offense");
    const shapes = await page
      .locator(".rt-mark")
      .evaluateAll((marks) => marks.map((mark) => `${mark.dataset.team} ${mark.tagName}`));
    assert.deepEqual(shapes, ["b polygon", "a circle", "b polygon"]);
  }));

test("without_colors_plate_and_moment_tell_the_teams_by_shape_and_place", () =>
  stage.play({ path: `/courts/1/graphic?${LARGE}`, greeting: held("a") }, async (page, host) => {
    await seeText(page, "rt-score-plate", "Quill / Abara");
    host.send(update(42, { readings: [initiative(null), reading("escape.streak", "b", { type: "count", n: 2 })] }));
    await seeText(page, ".rt-moment[data-shown]", "Fenn / Tarrow");
    const looks = await page
      .locator(".rt-score .rt-shape, .rt-tide .rt-shape, .rt-moment .rt-shape:not([hidden])")
      .evaluateAll((all) =>
        all.map((one) => {
          const { borderRadius, transform } = getComputedStyle(one);
          return `${one.dataset.team} ${borderRadius === "50%" ? "round" : "square"} ${transform === "none" ? "upright" : "turned"}`;
        }),
      );
    assert.deepEqual([...new Set(looks)].sort(), ["a round upright", "b square turned"]);
    const [above, below] = await page
      .locator(".rt-row")
      .evaluateAll((rows) => rows.map((row) => row.getBoundingClientRect().y));
    assert.ok(above < below, "team a stands above");
  }));

test("every_part_of_the_booth_that_does_something_is_reached_by_keyboard", () =>
  stage.play(
    { path: "/courts/1/booth", greeting: full, context: { viewport: { width: 1280, height: 800 } } },
    async (page) => {
      await seeText(page, "rt-evidence", "offense");
      await seeText(page, "rt-earlier-rallies", "Rally 11");
      const reached = new Set();
      for (let step = 0; step < 12; step += 1) {
        await page.keyboard.press("Tab");
        reached.add(
          await page.evaluate(
            () =>
              document.activeElement.closest("rt-rally-ribbon, rt-prompt-list, rt-earlier-rallies")?.localName ??
              "other",
          ),
        );
      }
      for (const name of ["rt-rally-ribbon", "rt-prompt-list", "rt-earlier-rallies"])
        assert.ok(reached.has(name), name);
      await page.locator("rt-prompt-list summary").focus();
      await page.keyboard.press("Enter");
      await seeText(page, "rt-prompt-list .rt-reasons", "Fenn / Tarrow: taken in the air");
    },
  ));

for (const [name, viewport] of [
  ["tablet", { width: 1280, height: 800 }],
  ["phone", { width: 390, height: 844 }],
]) {
  test(`targets_on_a_${name}_are_48_pixels_and_nothing_scrolls_sideways`, () =>
    stage.play({ path: "/courts/1/booth", greeting: full, context: { viewport } }, async (page) => {
      await seeText(page, "rt-earlier-rallies", "Rally 11");
      for (const box of await page
        .locator("summary, button:not([hidden]), a, input")
        .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON()))) {
        assert.ok(box.width >= 48 && box.height >= 48, JSON.stringify(box));
      }
      assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
    }));
}

test("the_state_of_the_connection_is_told_to_those_who_listen", () =>
  stage.play({ path: "/courts/1/booth", greeting: full }, async (page, host) => {
    await seeText(page, "rt-connection-state [role=status]", "Live");
    await host.stop();
    await seeText(page, "rt-connection-state [role=status]", "Connection lost");
    await until(
      async () => (await page.locator("rt-evidence").innerText()).includes("Connection lost"),
      "nothing claimed",
    );
    await host.listen(host.port);
    await seeText(page, "rt-connection-state [role=status]", "Live");
  }));

test("over_a_whole_match_the_tide_changes_less_than_three_times_in_any_second", () =>
  stage.play(
    {
      path: "/any/folder/graphic/index.html?recorded=../samples/invented-match.jsonl&pieces=tide&motion=off",
      prepare: (page) => page.clock.install(),
    },
    async (page) => {
      await until(
        async () => (await page.clock.runFor(20), (await page.locator(".rt-tide").count()) === 1),
        "the tide",
      );
      await page.evaluate(() => {
        globalThis.changes = [];
        const note = () => {
          const now = performance.now();
          if (now > (globalThis.changes.at(-1) ?? -1)) globalThis.changes.push(now);
        };
        new MutationObserver(note).observe(document.querySelector("rt-tide-line"), {
          subtree: true,
          childList: true,
          characterData: true,
          attributes: true,
        });
      });
      await page.clock.runFor(118_000);
      const changes = await page.evaluate(() => globalThis.changes);
      assert.ok(changes.length > 20, `the match was played: ${changes.length} changes`);
      const most = Math.max(...changes.map((from) => changes.filter((at) => at >= from && at < from + 1000).length));
      assert.ok(most < 3, `${most} changes within a second (WCAG 2.3.1 allows three flashes)`);
    },
  ));
