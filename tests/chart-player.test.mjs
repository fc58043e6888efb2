/**
 * Which player it was, on the charters' page: serve and return are named by the score, one key
 * names the others live and while fixing, and the host's chart and readings have it.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  allSaved,
  begin,
  effectiveOf,
  lineOf,
  openChart,
  press,
  restartHost,
  startHost,
  textOf,
  typed,
} from "./support/chart-page.mjs";
import { until } from "./support/wait.mjs";

const said = (page, selector, words) =>
  until(`\`${selector}\` to say ${words}`, async () => words.test(await textOf(page, selector)), {
    seen: () => textOf(page, selector),
  });
const stored = async (page, host, { id }) => {
  await allSaved(page);
  return (await effectiveOf(host, id)).map(({ stroke, how, player }) => [stroke ?? how, player]);
};

test("one key names the player, live and while fixing; serve and return need none; the numbers rest on it", async (t) => {
  const host = await startHost(t);
  const { header: made } = await typed(host, 3, { rallies: 1 });
  const header = { ...made, first_serve: "a" };
  const [a, b] = [header.teams.a, header.teams.b];
  const { page, errors } = await openChart(t, host);
  await begin(page, header);
  // serve, return (comes along), drop by the server's partner, dink by the receiver, named by two taps
  await press(page, ["Space", "KeyK", "KeyT"]);
  await said(page, ".what", new RegExp(`^player: ${a.players[1]}$`));
  await press(page, ["KeyJ", "KeyT", "KeyT"]);
  await said(page, ".what", new RegExp(`^player: ${b.players[0]}$`));
  const lines = await page.locator(".recent li").allTextContents();
  assert.deepEqual(
    lines.map((line) => line.replace(/ · .*/, "")),
    [
      `serve, ${a.name} (${a.players[0]})`,
      `return, ${b.name} (${b.players[0]})`,
      `drop, ${a.name} (${a.players[1]})`,
      `dink, ${b.name} (${b.players[0]})`,
    ],
  );
  assert.deepEqual(await stored(page, host, header), [
    ["serve", undefined],
    ["return", undefined],
    ["drop", 1],
    ["dink", 0],
  ]);
  // Two steps back to the drop: its next tap names the other player, undo the first again.
  await press(page, ["ArrowUp", "ArrowUp", "KeyT"]);
  assert.deepEqual((await stored(page, host, header))[2], ["drop", 0]);
  // The fix stays open for another tap; it is left first.
  await press(page, ["Escape", "Backspace"]);
  assert.deepEqual((await stored(page, host, header))[2], ["drop", 1]);
  await press(page, ["Digit2", "Enter", "KeyT"]);
  await said(page, ".what", new RegExp(`^player: ${b.players[1]}$`));
  assert.deepEqual((await stored(page, host, header)).at(-1), ["out", 1]);
  const readings = await (await host.get("/courts/1/now/reading/player.errors")).json();
  assert.deepEqual(
    readings.readings.filter(({ team }) => team === "b").map(({ value }) => [value.part, value.whole]),
    [
      [0, 1],
      [1, 1],
    ],
  );
  assert.deepEqual(errors, []);
});

test("what a key did is said until the next key, also where the host is back meanwhile", async (t) => {
  const host = await startHost(t);
  const { header } = await typed(host, 3, { rallies: 1 });
  const { page } = await openChart(t, host);
  await begin(page, { ...header, first_serve: "a" });
  await allSaved(page);
  await host.stop();
  await until("the page to miss the host", async () => (await lineOf(page)) === "lost");
  await press(page, ["Space", "KeyK", "KeyT"]);
  const player = new RegExp(`^player: ${header.teams.a.players[1]}$`);
  await said(page, ".what", player);
  await restartHost(t, host);
  await allSaved(page);
  assert.match(await textOf(page, ".what"), player);
});
