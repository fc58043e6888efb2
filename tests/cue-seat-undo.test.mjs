/**
 * The charting page beside cues from the second seat: they appear while strokes are recorded, the
 * desk is not named for them, and undo takes back strokes alone, also after a reload.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { allSaved, begin, openChart, press, startHost, textOf } from "./support/chart-page.mjs";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { until } from "./support/wait.mjs";

const AT = "2026-05-09T10:00:00.000Z";

test("undo on the charting page leaves the other person's cues alone", async (t) => {
  const host = await startHost(t);
  const { page, errors } = await openChart(t, host);
  await begin(page, headerFor("beside", { points: 99, games: 1 }));
  await press(page, ["Space", "Space"]);
  await allSaved(page);
  await page.evaluate(() => {
    globalThis.shown = [];
    globalThis.lines = [];
    const look = () => {
      globalThis.shown.push(document.body.textContent);
      globalThis.lines.push(document.querySelector(".line").dataset.line);
    };
    const all = { subtree: true, childList: true, characterData: true, attributes: true };
    new MutationObserver(look).observe(document.body, all);
  });
  const cues = await Charter.welcomed(host, { client: "phone", seat: "cues" });
  const strokes = async () => (await host.logged("beside")).filter(({ kind }) => kind === "shot").map(({ id }) => id);
  const mark = async (id) => {
    const shot = (await strokes()).at(-1);
    return cues.chart([{ id, at: AT, kind: "cue", shot, cue: "attackable" }]);
  };
  const marked = (count) =>
    until(
      `${count} strokes and cues on the page`,
      async () => (await textOf(page, ".recent")).split("high ball").length - 1 >= count,
      { seen: () => textOf(page, ".recent") },
    );
  await mark("c1");
  // The next stroke's answer shows the page that there is more.
  await press(page, ["KeyJ"]);
  await allSaved(page);
  await marked(1);
  await mark("c2");
  await press(page, ["KeyJ"]);
  await allSaved(page);
  await marked(2);
  const shown = await page.evaluate(() => globalThis.shown);
  assert.ok(shown.length > 0 && shown.every((text) => !/changed at the desk/.test(text)), "the desk is not named");
  // The desk would call a charter lost whose page came back over a new line for every cue.
  assert.deepEqual([...new Set(await page.evaluate(() => globalThis.lines))], ["connected"]);
  await press(page, ["Backspace", "Backspace"]);
  await allSaved(page);
  await page.reload();
  await page.locator(".court").waitFor();
  await allSaved(page);
  await press(page, ["Backspace"]);
  await allSaved(page);
  const taken = (await host.logged("beside")).filter(({ kind }) => kind === "retract").map(({ target }) => target);
  assert.deepEqual(taken, (await strokes()).reverse().slice(0, 3));
  assert.deepEqual(errors, []);
});
