// A page that is on air for a day does not grow: after match upon match it holds
// exactly the nodes and listeners it held before. `npm run soak` measures three
// hours, with memory and time.

import assert from "node:assert/strict";
import { test } from "node:test";
import { playLongDay } from "../support/long-day.js";
import { useStage } from "../support/stage.js";

const stage = useStage();

for (const [name, options] of [
  ["graphic", "?pieces=strap,insert,score,moment,show,tide,ribbon"],
  ["booth", ""],
]) {
  test(`the_${name}_holds_no_more_after_three_matches_than_after_one`, () =>
    stage.play({ path: null, context: { viewport: { width: 960, height: 540 } } }, async (page, host) => {
      /** @type {import("../support/long-day.js").Weight[]} */
      const weights = [];
      await playLongDay(page, `${host.url}/courts/1/${name}${options}`, 3, (weight) => weights.push(weight));
      assert.match(await page.locator("rt-score-plate").innerText(), /won the match/);
      const [first] = weights;
      assert.ok(first !== undefined && first.nodes > 50 && first.listeners > 0, "something was counted");
      for (const what of /** @type {const} */ (["nodes", "listeners"])) {
        assert.deepEqual(
          weights.map((weight) => weight[what]),
          weights.map(() => first[what]),
          what,
        );
      }
    }));
}
