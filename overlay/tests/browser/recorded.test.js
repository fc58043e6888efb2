// Pages on a recorded feed, from a plain file server, without any feed.

import assert from "node:assert/strict";
import { test } from "node:test";
import { LARGE } from "../support/graphic-states.js";
import { seeText, useStage } from "../support/stage.js";

const stage = useStage();
const SAMPLE = "recorded=../samples/invented-match.jsonl";

test("the_graphic_plays_a_recording_to_its_end_at_once", () =>
  stage.play({ path: `/any/folder/graphic/index.html?${LARGE}&${SAMPLE}&pace=0` }, async (page, host) => {
    await seeText(page, "rt-score-plate", "Quill / Abara won the match");
    assert.deepEqual(await page.locator('.rt-row[data-team="a"] .rt-final').allInnerTexts(), ["11", "11"]);
    assert.deepEqual(host.asked, []);
  }));

test("the_graphic_plays_a_recording_at_a_pace", () =>
  stage.play(
    { path: `/any/folder/graphic/index.html?${LARGE}&${SAMPLE}&pace=1`, prepare: (page) => page.clock.install() },
    async (page) => {
      await seeText(page, ".rt-call", "9–8–1");
      await page.clock.runFor(10_000);
      await seeText(page, "rt-tide-line .rt-state:first-child", "offense");
      await page.clock.runFor(2000);
      await seeText(page, ".rt-call", "10–8–1");
    },
  ));

test("the_booth_plays_the_same_recording", () =>
  stage.play({ path: `/any/folder/booth/index.html?${SAMPLE}&pace=0` }, async (page) => {
    await seeText(page, "rt-evidence", "Quill / Abara won the match");
    await seeText(page, "rt-connection-state", "Recorded match");
    await seeText(page, "rt-prompt-list", "Thirty-nine shots");
  }));

test("a_recording_that_is_not_there_is_said_to_be_missing", () =>
  stage.play(
    { path: "/any/folder/booth/index.html?recorded=nowhere.jsonl", expected: [/nowhere\.jsonl/] },
    async (page) => {
      await seeText(page, "rt-connection-state", "cannot play the recording");
      await seeText(page, "rt-connection-state", "404");
    },
  ));
