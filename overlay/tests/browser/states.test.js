// The graphic in every state, over every theme: what is read, and that no piece
// covers another, spills or leaves the part of the picture every screen shows.

import assert from "node:assert/strict";
import { test } from "node:test";
import { THEMES } from "../../shared/options.js";
import { until } from "../support/browser.js";
import { crossings, spills } from "../support/layout.js";
import { GRAPHIC_STATES, LARGE } from "../support/graphic-states.js";
import { seeText, useStage } from "../support/stage.js";

const stage = useStage();
const calm = "motion=off";

for (const [at, { name, messages, query, says, not, lost }] of GRAPHIC_STATES.entries()) {
  const theme = THEMES[at % THEMES.length];
  test(`a viewer reads the state: ${name} (theme ${theme})`, () =>
    stage.play(
      { path: `/courts/1/graphic?${calm}&theme=${theme}&${query ?? ""}&${LARGE}`, greeting: messages[0] },
      async (page, host) => {
        if (messages[0].match === null)
          await page.waitForFunction(() => document.querySelector("rt-score-plate")?.hasAttribute("hidden"));
        else await page.locator(".rt-points, .rt-final, .rt-tide").filter({ visible: true }).first().waitFor();
        for (const message of messages.slice(1)) host.send(message);
        if (lost) await host.stop();
        for (const [selector, words] of Object.entries(says)) await seeText(page, selector, words);
        const read = () => page.locator(".stage").innerText();
        if (not !== undefined) await until(async () => !not.test(await read()), `nothing to read like ${not}`);
        assert.deepEqual(await page.evaluate(spills), []);
        assert.deepEqual(await page.evaluate(crossings), []);
      },
    ));
}
