// WCAG 2.3.1, measured from frames over a whole simulated match: nothing flashes
// more than three times in any second, over dark, grey and light video.
// The picture is filmed at a quarter of 1920 × 1080, which the graphic fills the
// same way; team colors are the worst pair, saturated red against white. Frames
// are taken wherever the page changes anything and where a movement ends; in the
// three busiest stretches also every 1/25 s in between. What lies between two
// frames elsewhere is one easing from the first picture to the second.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { gunzipSync } from "node:zlib";
import { until } from "../support/browser.js";
import { film } from "../support/film.js";
import { FlashMeter } from "../support/flashes.js";
import { useStage } from "../support/stage.js";

const SIZE = { width: 480, height: 270 };
const RECORDING = new URL("../recordings/simulated-match.jsonl.gz", import.meta.url);
const times = gunzipSync(readFileSync(RECORDING))
  .toString()
  .trim()
  .split("\n")
  .map((line) => JSON.parse(line).at_ms);
const stage = useStage();

/** Where most is said within four seconds, three times, in order. */
function busiest() {
  const stretches = times
    .map((from) => ({ from, count: times.filter((at) => at >= from && at < from + 4000).length }))
    .sort((one, other) => other.count - one.count);
  const taken = [];
  for (const one of stretches) {
    if (taken.length < 3 && taken.every((other) => Math.abs(one.from - other.from) >= 5000)) taken.push(one);
  }
  return taken.map(({ from }) => from).sort((one, other) => one - other);
}

/**
 * Films the graphic over the recorded match.
 * @param {string} theme
 * @param {boolean} throughout between the busiest stretches, too
 */
async function filmed(theme, throughout) {
  const meter = new FlashMeter(SIZE.width, SIZE.height);
  await stage.play({ path: null, context: { viewport: SIZE } }, async (page, host) => {
    const camera = await film(page);
    await page.goto(
      `${host.url}/any/folder/graphic/index.html?recorded=../tests/recordings/simulated-match.jsonl&theme=${theme}&color-a=ff0000&color-b=ffffff&show=rally.longest&pieces=strap,insert,score,moment,show,tide,ribbon`,
    );
    await until(
      () =>
        page.evaluate(async () => {
          if (document.querySelector("rt-score-plate") === null) return false;
          await window.filmOn(0, 1, false);
          return (document.querySelector(".rt-call")?.textContent ?? "") !== "";
        }),
      "the first picture",
    );
    const take = (at, picture) => meter.frame(at, picture);
    for (const from of busiest()) {
      await camera.play(from - 500, { every: 20, closely: false }, throughout ? take : null);
      await camera.play(from + 4500, { every: 40, closely: true }, take);
    }
    await camera.play(times.at(-1) + 8000, { every: 20, closely: false }, throughout ? take : null);
    assert.match(await page.locator("rt-score-plate").innerText(), /won the match/);
  });
  return meter;
}

function assertCalm({ frames, worst, worstAt }, least) {
  assert.ok(frames > least, `the match was filmed: ${frames} frames`);
  assert.ok(worst.general <= 3, `${worst.general} flashes in the second before ${worstAt.general} ms`);
  assert.ok(worst.red <= 3, `${worst.red} red flashes in the second before ${worstAt.red} ms`);
}

test("nothing_flashes_more_than_three_times_a_second_over_a_whole_match", async () => {
  const meter = await filmed("dark", true);
  assertCalm(meter, times.length);
  assert.ok(meter.changes > 0, "plates came and went, large enough to count");
});

for (const theme of ["light", "text"]) {
  test(`nothing_flashes_in_the_busiest_stretches_in_the_theme_${theme}`, async () => {
    assertCalm(await filmed(theme, false), 60);
  });
}

for (const [what, colors, perSecond, kind] of [
  ["a_page_that_flashes_five_times_a_second", ["#000", "#fff"], 5, "general"],
  ["a_page_that_flashes_red_five_times_a_second", ["#a00000", "#00f"], 5, "red"],
  ["a_page_that_flashes_twice_a_second", ["#000", "#fff"], 2, null],
]) {
  test(`the_measure_${kind === null ? "lets" : "catches"}_${what}${kind === null ? "_pass" : ""}`, () =>
    stage.play({ path: null, context: { viewport: SIZE } }, async (page) => {
      const camera = await film(page);
      await page.goto("about:blank");
      await page.evaluate(
        ([colors, half]) => {
          document.body.style.cssText = "margin: 0";
          const plate = document.createElement("div");
          plate.style.cssText = "width: 50vw; height: 50vh";
          document.body.append(plate);
          let turn = 0;
          const flip = () => {
            plate.style.background = colors[(turn += 1) % 2];
            setTimeout(flip, half);
          };
          flip();
        },
        [colors, 500 / perSecond],
      );
      const meter = new FlashMeter(SIZE.width, SIZE.height);
      await camera.play(2000, { every: 20, closely: true }, (at, picture) => meter.frame(at, picture));
      for (const one of ["general", "red"]) {
        if (one === kind) assert.ok(meter.worst[one] >= 4, `${one}: ${meter.worst[one]}`);
        else assert.ok(meter.worst[one] <= 3, `${one}: ${meter.worst[one]}`);
      }
      if (kind === null) assert.equal(meter.worst.general, 2);
    }));
}
