/**
 * `?delay=` beside a video that is really late: encoded, and played so long after it was taken. What
 * the graphic shows and what the picture shows have to come together.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { openBrowser, openPage } from "./support/browser.mjs";
import { headerFor } from "./support/charts.mjs";
import { endRally, inStep, playDelayed, sightings } from "./support/delayed-video.mjs";
import { Host } from "./support/host.mjs";
import { until } from "./support/wait.mjs";

const DELAY_MS = 1200;
const RALLIES = 5;
/** A frame of the video, and one of the screen. */
const FRAMES_MS = 1000 / 30 + 1000 / 60;

test("the_graphic_and_a_video_that_is_as_late_show_the_end_of_a_rally_together", async (t) => {
  const host = await Host.start(t);
  const { page, errors } = await openPage(await openBrowser(t), "about:blank", { width: 1000, height: 800 });
  const graphic = host.http(`/courts/1/graphic?pieces=score&motion=off&delay=${DELAY_MS}ms`);
  await playDelayed(page, { graphic, delayMs: DELAY_MS, header: headerFor("m1", { scoring: "rally" }) });
  for (let rally = 1; rally <= RALLIES; rally += 1) {
    await inStep(page);
    await endRally(page);
  }
  let seen;
  await until(
    "every end on the picture and on the graphic",
    async () => {
      seen = await sightings(page);
      return seen.video.length === RALLIES && seen.graphic.length === RALLIES;
    },
    { seen: () => seen },
  );
  const apart = seen.graphic.map((at, rally) => at - seen.video[rally]);
  t.diagnostic(`the graphic comes ${apart.map(Math.round).join(", ")} ms after the picture`);
  // A busy machine holds a frame up now and then; the middle one tells.
  const middle = apart.sort((one, other) => one - other)[(RALLIES - 1) / 2];
  assert.ok(Math.abs(middle) <= FRAMES_MS, `${middle} ms`);
  assert.deepEqual(errors, []);
});
