// Where pieces stand, in which theme, how late, and indicators by name.

import assert from "node:assert/strict";
import { test } from "node:test";
import { ANCHORS } from "../../shared/options.js";
import { until } from "../support/browser.js";
import { GRAPHIC_STATES, LARGE } from "../support/graphic-states.js";
import { crossings, spills } from "../support/layout.js";
import { seeText, useStage } from "../support/stage.js";
import { HEADER, SCORE, held, reading, snapshot, update } from "../support/states.js";

const stage = useStage();
const SAFE = { left: 95.9, right: 1824.1, top: 53.9, bottom: 1026.1 };

/** Which third of the picture a piece is pushed to, across and down. */
const across = (box) => (box.x < 97 ? "left" : box.x + box.width > 1823 ? "right" : "");
const down = (box) => (box.y < 55 ? "top" : box.y + box.height > 1025 ? "bottom" : "");

test("each_piece_stands_at_each_of_nine_places_inside_the_safe_area", () =>
  stage.play({ path: null, greeting: held("a") }, async (page, host) => {
    for (const place of ANCHORS) {
      await page.goto(`${host.url}/courts/1/graphic?pieces=score&at=score:${place}`);
      await seeText(page, "rt-score-plate", "Quill / Abara");
      const box = await page.locator(".rt-score").boundingBox();
      assert.ok(
        box.x >= SAFE.left && box.x + box.width <= SAFE.right && box.y >= SAFE.top && box.y + box.height <= SAFE.bottom,
        place,
      );
      const found = [down(box), across(box)].filter((word) => word !== "").join("-") || "center";
      assert.equal(found, place);
    }
  }));

test("pieces_at_one_place_stand_below_each_other", () =>
  stage.play(
    { path: `/courts/1/graphic?${LARGE}&at=tide:top-right,ribbon:top-right,score:top-right`, greeting: held("a") },
    async (page) => {
      await seeText(page, "rt-tide-line", "offense");
      const boxes = await Promise.all(
        [".rt-score", ".rt-tide", ".rt-ribbon"].map((one) => page.locator(one).boundingBox()),
      );
      for (const [at, box] of boxes.entries()) {
        assert.ok(box.x + box.width <= SAFE.right);
        if (at > 0) assert.ok(box.y >= boxes[at - 1].y + boxes[at - 1].height);
      }
    },
  ));

test("a_moment_goes_with_the_score_and_leaves_it_the_edge", () =>
  stage.play(
    { path: "/courts/1/graphic?pieces=score,moment&at=score:bottom-right", greeting: held("a") },
    async (page) => {
      await seeText(page, "rt-score-plate", "Quill / Abara");
      const [score, moment] = await Promise.all(
        [".rt-score", ".rt-moment"].map((one) => page.locator(one).boundingBox()),
      );
      assert.equal(`${down(score)}-${across(score)}`, "bottom-right");
      assert.ok(moment.y + moment.height <= score.y);
    },
  ));

/** The longest names there are, with a moment and two numbers. */
const CROWDED = GRAPHIC_STATES.find(({ name }) => name === "long names").messages;

for (const [what, at, scale] of [
  ["the_score_beside_the_tide", "score:bottom-left", 1],
  ["the_score_beside_the_tide_at_a_larger_scale", "score:bottom-left", 1.2],
  ["everything_along_the_top", "tide:top,ribbon:top", 1],
  ["three_places_of_one_edge", "score:bottom-left,show:bottom-right", 1],
  ["bars_in_both_corners", "tide:bottom-left,ribbon:bottom-right,show:bottom", 1],
  ["bars_in_both_corners_at_a_larger_scale", "tide:bottom-left,ribbon:bottom-right", 1.3],
  ["the_middle", "score:left,tide:center,ribbon:center,show:right", 1],
]) {
  test(`no_piece_covers_another_with_${what}_and_long_names`, () =>
    stage.play(
      {
        path: `/courts/1/graphic?${LARGE}&motion=off&at=${at}&scale=${scale}&show=rally.longest,escape.share`,
        greeting: CROWDED[0],
      },
      async (page, host) => {
        await seeText(page, "rt-tide-line", "offense");
        host.send(CROWDED[1]);
        await seeText(page, "rt-streak-moment", "in a row");
        assert.deepEqual(await page.evaluate(crossings), []);
        assert.deepEqual(await page.evaluate(spills), []);
      },
    ));
}

/** One frame of 60 Hz, rounded up to the milliseconds that the clock counts. */
const FRAME_MS = 17;

test("updates_snapshots_and_corrections_are_painted_the_delay_later_give_or_take_a_frame", () =>
  stage.play(
    {
      path: "/courts/1/graphic?pieces=score&motion=off&delay=600ms",
      greeting: snapshot(),
      prepare: async (page) => {
        // Counts what the page has heard, so that the clock moves only after that.
        await page.addInitScript(() => {
          const Plain = WebSocket;
          globalThis.heard = 0;
          globalThis.WebSocket = class extends Plain {
            constructor(...all) {
              super(...all);
              this.addEventListener("message", () => (globalThis.heard += 1));
            }
          };
        });
        await page.clock.install();
        await page.clock.pauseAt(Date.now() + 1000);
      },
    },
    async (page, host) => {
      const heard = (count) =>
        until(async () => (await page.evaluate(() => globalThis.heard)) >= count, `message ${count} to arrive`);
      await until(
        async () => (await page.clock.runFor(1), (await page.evaluate(() => globalThis.heard)) >= 1),
        "the snapshot to arrive",
      );
      await until(
        async () => (await page.clock.runFor(20), (await page.locator(".rt-call").allInnerTexts()).includes("5–3–1")),
        "the first picture",
      );
      const messages = [
        ["an update", update(42, { score: { ...SCORE, call: "6-3-1" } })],
        ["a pause", update(42, { paused: true })],
        ["a correction", snapshot({ seq: 43, revision: 1, reason: "corrected", score: { ...SCORE, call: "5-4-1" } })],
        [
          "a snapshot",
          snapshot({
            seq: 1,
            revision: 0,
            reason: "match",
            score: { ...SCORE, call: "0-0-2" },
            match: { ...HEADER, id: "next" },
          }),
        ],
      ];
      for (const [at, [what, message]] of messages.entries()) {
        const before = await page.screenshot();
        host.send(message);
        await heard(at + 2);
        await page.clock.runFor(600 - FRAME_MS);
        assert.ok(before.equals(await page.screenshot()), `${what} is painted more than a frame too early`);
        await page.clock.runFor(2 * FRAME_MS);
        const after = await page.screenshot();
        assert.ok(!before.equals(after), `${what} is painted more than a frame late`);
        await page.clock.runFor(1000);
        assert.ok(after.equals(await page.screenshot()), `${what} was painted in part`);
      }
    },
  ));

for (const [theme, plate] of [
  ["dark", "rgb(14, 34, 51)"],
  ["light", "rgb(255, 253, 246)"],
  ["text", "rgba(0, 0, 0, 0)"],
]) {
  test(`the_theme_${theme}_has_its_plate`, () =>
    stage.play({ path: `/courts/1/graphic?${LARGE}&theme=${theme}`, greeting: held("a") }, async (page) => {
      await seeText(page, "rt-tide-line", "offense");
      for (const part of [".rt-score", ".rt-tide", ".rt-ribbon"]) {
        assert.equal(await page.locator(part).evaluate((node) => getComputedStyle(node).backgroundColor), plate);
      }
    }));
}

test("any_indicator_is_shown_by_its_name_and_the_type_of_its_value", () => {
  const readings = [
    reading("rally.longest", null, { type: "count", n: 31 }),
    reading("my.flag", null, { type: "flag", on: true }),
    reading("my.pace", "a", { type: "duration", ms: 1540 }),
    reading("my.pace", "b", { type: "duration", ms: 900 }),
    reading("third.won", "b", { type: "share", part: 9, whole: 12 }, { slot: "drop" }),
    reading("my.edge", null, { type: "lean", toward: "b", strength: 0.5 }),
    reading("my.note", null, { type: "text", text: "<b>windy</b>" }),
  ];
  const show = "rally.longest,my.flag,my.pace,third.won/drop,my.edge,my.note,not.there";
  return stage.play(
    { path: `/courts/1/graphic?pieces=show&show=${show}`, greeting: snapshot({ readings }) },
    async (page, host) => {
      await seeText(page, "rt-named-indicator", "31");
      const texts = await page.locator("rt-named-indicator:visible").allInnerTexts();
      assert.deepEqual(
        texts.map((text) => text.replaceAll(/\s+/g, " ").trim()),
        [
          "Longest rally 31",
          "my flag yes",
          "my pace Quill / Abara: 1.5 s Fenn / Tarrow: 0.9 s",
          "Won with a third-shot drop Fenn / Tarrow: 9 of 12 (75%)",
          "my edge towards Fenn / Tarrow",
          "my note <b>windy</b>",
        ],
      );
      host.send(update(42, { gone: [{ indicator: "rally.longest", team: null, player: null, slot: null }] }));
      await until(
        async () => (await page.locator("rt-named-indicator:visible").count()) === 5,
        "the one that is gone to go",
      );
    },
  );
});
