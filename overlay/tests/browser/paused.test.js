// A pause in play: said once, calmly; the score stays and nothing is claimed.

import assert from "node:assert/strict";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { LARGE } from "../support/graphic-states.js";
import { seeText, textOf, useStage } from "../support/stage.js";
import { held, snapshot, update } from "../support/states.js";

const GRAPHIC = `/courts/1/graphic?${LARGE}`;
const stage = useStage();

test("a_pause_is_said_once_on_the_graphic_the_score_stays_and_nothing_is_claimed", () =>
  stage.play({ path: GRAPHIC, greeting: held("a") }, async (page, host) => {
    await seeText(page, "rt-tide-line", "offense");
    host.send(update(41, { paused: true }));
    await seeText(page, "rt-score-plate .rt-foot", "Play is paused");
    await until(async () => (await page.locator(".rt-tide").getAttribute("data-phase")) === "rest", "the tide at rest");
    assert.doesNotMatch(await textOf(page, "rt-tide-line"), /offense|defense|neutral|air/);
    assert.equal((await textOf(page, ".stage")).match(/paused/g)?.length, 1);
    assert.deepEqual(await page.locator(".rt-points").allInnerTexts(), ["3", "5"]);
    assert.equal(await textOf(page, ".rt-call"), "5–3–1");
    host.send({ ...held("a"), seq: 42 });
    await seeText(page, "rt-tide-line", "offense");
    assert.equal(await textOf(page, ".rt-game"), "Game 2, best of 3");
  }));

test("where_there_is_no_score_plate_the_tide_line_says_the_pause", () =>
  stage.play({ path: "/courts/1/graphic?pieces=tide", greeting: { ...held("a"), paused: true } }, async (page) => {
    await seeText(page, "rt-tide-line", "Play is paused");
    assert.doesNotMatch(await textOf(page, "rt-tide-line"), /offense|defense/);
  }));

test("a_chart_of_scores_alone_is_paused_as_well", () =>
  stage.play({ path: GRAPHIC, greeting: snapshot({ rally: null, readings: [], paused: true }) }, async (page) => {
    await seeText(page, "rt-score-plate", "Play is paused");
    assert.equal(await page.locator("rt-tide-line").isVisible(), false);
  }));

test("the_booth_says_the_pause_large_and_the_last_rally_with_it", () => {
  const end = { entry: "r11e", won_by: "a", how: "winner", by: "a" };
  const rally = { number: 12, shots: [], end: null, earlier: [{ number: 11, shots: [], end }] };
  return stage.play(
    { path: "/courts/1/booth", greeting: { ...held("a"), rally, paused: true } },
    async (page, host) => {
      await seeText(page, "rt-evidence .rt-headline", "Play is paused");
      await seeText(page, "rt-evidence .rt-detail", "Last rally: won by Quill / Abara, winner");
      host.send(update(42));
      await seeText(page, "rt-evidence .rt-headline", "Between rallies");
    },
  );
});
