/**
 * The charters' page under real hands: touches that overlap and slide, what is read at a glance,
 * daylight, and the guards against a slip.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { openBrowser } from "./support/browser.mjs";
import { allSaved, begin, effectiveOf, openChart, press, startHost, textOf } from "./support/chart-page.mjs";
import { headerFor } from "./support/charts.mjs";
import { until } from "./support/wait.mjs";

/** The least size of what is read at a glance, px. */
const GLANCE_PX = 40;
/** The least contrast of every word in daylight: WCAG 2.2, 1.4.6. */
const IN_THE_SUN = 7;

async function onMatch(t, options = {}) {
  const host = await startHost(t);
  const browser = await openBrowser(t);
  const context = await browser.newContext(options);
  const { page, errors } = await openChart(t, host, { context });
  const header = headerFor("hands", { games: 1 });
  await begin(page, header);
  return { host, page, errors, header };
}

const said = (page, selector, words) =>
  until(`\`${selector}\` to say ${words}`, async () => words.test(await textOf(page, selector)), {
    seen: () => textOf(page, selector),
  });

async function middleOf(page, action) {
  const { x, y, width, height } = await page.locator(`.pad [data-action="${action}"]`).boundingBox();
  return { x: x + width / 2, y: y + height / 2 };
}

test("taps of two thumbs that overlap, and taps that slide, count once each", async (t) => {
  const { host, page, header } = await onMatch(t, { hasTouch: true, viewport: { width: 1024, height: 768 } });
  await page.evaluate(() => {
    globalThis.felt = 0;
    navigator.vibrate = () => (globalThis.felt += 1) > 0;
  });
  const session = await page.context().newCDPSession(page);
  const touch = (type, points) => session.send("Input.dispatchTouchEvent", { type, touchPoints: points });
  const at = (point, id) => ({ ...point, id });
  await press(page, ["Space", "Space"]);
  const [dink, block] = [await middleOf(page, "stroke:dink"), await middleOf(page, "stroke:block")];
  for (const apart of [40, 120]) {
    await touch("touchStart", [at(dink, 1)]);
    await page.waitForTimeout(apart);
    await touch("touchStart", [at(dink, 1), at(block, 2)]);
    await page.waitForTimeout(apart);
    await touch("touchEnd", [at(block, 2)]);
    await touch("touchEnd", []);
  }
  // One that slides, over its own button and off it.
  const drop = await middleOf(page, "stroke:drop");
  await touch("touchStart", [at(drop, 3)]);
  for (const way of [6, 12, 18]) await touch("touchMove", [at({ x: drop.x, y: drop.y + way }, 3)]);
  await touch("touchEnd", []);
  await page.touchscreen.tap(dink.x, dink.y);
  await allSaved(page);
  assert.deepEqual(
    (await host.logged(header.id)).map(({ stroke }) => stroke),
    ["serve", "return", "dink", "block", "dink", "block", "drop", "dink"],
  );
  assert.equal(await page.evaluate(() => globalThis.felt), 6, "each touch is felt");
});

test("a mouse and a keyboard press a button once, too", async (t) => {
  const { host, page, header } = await onMatch(t);
  await page.locator('.pad [data-action="next"]').click();
  await page.locator('.pad [data-action="next"]').press("Enter");
  await page.locator('.pad [data-action="next"]').dispatchEvent("click");
  await allSaved(page);
  assert.equal((await host.logged(header.id)).length, 3);
});

test("score, last shot and next ball are read at a glance, with the keys and without, and nothing scrolls at 1280×640", async (t) => {
  const { page } = await onMatch(t, { viewport: { width: 1280, height: 640 } });
  await press(page, ["Space", "Space", "KeyY"]);
  for (const hidden of [false, true]) {
    if (hidden) await page.locator('[data-do="hide"]').press("Enter");
    for (const [selector, words] of [
      [".call", /^0-0-2$/],
      [".last-shot", /^around the post$/],
      [".next-ball", /^Next: Birch \/ Bay$/],
    ]) {
      await said(page, selector, words);
      const size = await page.locator(selector).evaluate((node) => Number.parseFloat(getComputedStyle(node).fontSize));
      assert.ok(size >= GLANCE_PX, `${selector}: ${size} px`);
    }
    const [wide, high] = await page.evaluate(() => [
      document.documentElement.scrollWidth,
      document.documentElement.scrollHeight,
    ]);
    assert.ok(wide <= 1280 && high <= 640, `${wide}×${high}`);
    assert.equal(await page.locator(".pad").count(), hidden ? 0 : 1);
  }
  assert.equal(await page.locator(".handy button").count(), 6);
  await press(page, ["KeyJ"]);
  await said(page, ".last-shot", /^dink$/);
});

test("where each team stands is shown, and a tap goes on from there", async (t) => {
  const { host, page, header } = await onMatch(t);
  const depth = (team) => page.locator(`.stand[data-team=${team}]`).getAttribute("data-depth");
  await press(page, ["Space", "Space"]);
  assert.deepEqual([await depth("a"), await depth("b")], ["back", "line"]);
  await press(page, ["KeyZ"]);
  assert.deepEqual([await depth("a"), await depth("b")], ["back", "back"]);
  await press(page, ["KeyQ"]);
  assert.equal(await depth("a"), "transition");
  await allSaved(page);
  assert.deepEqual(
    (await effectiveOf(host, header.id)).slice(2).map((entry) => [entry.team, entry.depth]),
    [
      ["b", "back"],
      ["a", "transition"],
    ],
  );
});

test("in daylight every word stands out 7 to 1", async (t) => {
  const { page } = await onMatch(t, { colorScheme: "light" });
  await press(page, ["Space", "Space", "KeyK", "ArrowUp"]);
  const weak = await page.evaluate((least) => {
    const channel = (value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4);
    const colour = (text) => text.match(/[\d.]+/g).map(Number);
    const light = ([r, g, b]) => 0.2126 * channel(r / 255) + 0.7152 * channel(g / 255) + 0.0722 * channel(b / 255);
    const ground = (node) => {
      for (let one = node; one !== null; one = one.parentElement) {
        const [r, g, b, a = 1] = colour(getComputedStyle(one).backgroundColor);
        if (a === 1) return [r, g, b];
      }
      return [255, 255, 255];
    };
    const worded = [...document.querySelectorAll(".page *")].filter(
      (node) =>
        node.getClientRects().length > 0 &&
        [...node.childNodes].some((one) => one.nodeType === Node.TEXT_NODE && one.textContent.trim() !== ""),
    );
    return worded.flatMap((node) => {
      const [one, other] = [light(colour(getComputedStyle(node).color)), light(ground(node))].sort((a, b) => b - a);
      const contrast = (one + 0.05) / (other + 0.05);
      return contrast < least ? [`${node.className || node.tagName} ${node.textContent.trim()}: ${contrast}`] : [];
    });
  }, IN_THE_SUN);
  assert.deepEqual(weak, []);
});

test("arrows go with the ends of the court, and stay where they are where that is switched off", async (t) => {
  const { page, host, header } = await onMatch(t);
  const arrow = (team) => page.locator(`.pad [data-action="team:${team}"] kbd`).textContent();
  assert.deepEqual([await arrow("a"), await arrow("b")], ["←", "→"]);
  // A game to 11: ends change at 6.
  await press(
    page,
    Array.from({ length: 6 }, () => "ArrowLeft"),
  );
  await said(page, ".serving", /change ends/);
  assert.deepEqual([await arrow("a"), await arrow("b")], ["→", "←"]);
  // The same team again is another rally after half a second only, whichever arrow it has.
  await page.waitForTimeout(600);
  await press(page, ["ArrowRight"]);
  await said(page, ".call", /^7-0-2$/);
  await page.locator('[data-do="keys"]').press("Enter");
  await page.locator("dialog.keys [name=arrows]").press("Space");
  await page.keyboard.press("Escape");
  assert.deepEqual([await arrow("a"), await arrow("b")], ["←", "→"]);
  await page.waitForTimeout(600);
  await press(page, ["ArrowLeft"]);
  await said(page, ".call", /^8-0-2$/);
  await allSaved(page);
  assert.equal((await host.logged(header.id)).length, 8);
});

test("a wrong server is put right in at most eight keys, from the keyboard alone", async (t) => {
  const { host, page, header } = await onMatch(t);
  const keys = ["Digit9", "Tab", "Tab", "Tab", "ArrowLeft", "Enter"];
  assert.ok(keys.length <= 8);
  await press(page, keys);
  await said(page, ".call", /^0-0-1$/);
  await press(page, ["Digit9", "Tab", "Tab", "ArrowRight", "Tab", "ArrowRight", "Enter"]);
  await said(page, ".call", /^0-0-2$/);
  await said(page, ".serving", /^Birch/);
  await allSaved(page);
  assert.deepEqual(
    (await host.logged(header.id)).map(({ kind, serving, server }) => [kind, serving, server]),
    [
      ["score_fix", "a", 1],
      ["score_fix", "b", 2],
    ],
  );
});

test("slips: an arrow twice, a replay too late, an ace, and a look away", async (t) => {
  const { host, page, header } = await onMatch(t);
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  await said(page, ".what", /counted once/);
  await press(page, ["Space", "Space", "Digit2", "Enter", "Digit5"]);
  await said(page, ".armed", /That rally is over\. ⏎ annuls it/);
  await press(page, ["Enter", "Backquote", "Enter"]);
  await press(page, ["Space", "Space", "KeyC", "KeyJ", "Digit3", "Enter"]);
  await allSaved(page);
  const told = await effectiveOf(host, header.id);
  assert.deepEqual(
    told.map(({ kind, stroke, how, text }) => stroke ?? how ?? text ?? kind),
    ["rally_end", "serve", "return", "replay", "serve", "ace", "serve", "return", "looked away", "dink", "net"],
  );
  const { readings } = JSON.parse(await host.now());
  const coverage = readings.find(({ indicator }) => indicator === "charting.coverage").value;
  assert.deepEqual([coverage.part, coverage.whole], [1, 3], "of an arrow alone, an ace and a rally with a gap");
});

test("one steps back through the whole match, and an end of long ago is changed", async (t) => {
  const { host, page, header } = await onMatch(t);
  // The receivers win each: nobody scores, the match goes on.
  const rally = ["Space", "Space", "Digit1", "Enter"];
  await press(page, Array.from({ length: 24 }, () => rally).flat());
  await press(
    page,
    Array.from({ length: 10 + 24 }, () => "ArrowUp"),
  );
  assert.match(
    await page.locator(".recent").innerText(),
    /^winner by Birch/,
    "the oldest end stands above the last ten",
  );
  await press(page, ["Digit3"]);
  await allSaved(page);
  const [first] = (await effectiveOf(host, header.id)).filter(({ kind }) => kind === "rally_end");
  assert.equal(first.how, "net");
});

test("sounds are off until they are wanted, and then tell taken, not taken and another state apart", async (t) => {
  const { page } = await onMatch(t);
  await page.evaluate(() => {
    globalThis.tones = [];
    const start = OscillatorNode.prototype.start;
    OscillatorNode.prototype.start = function (...when) {
      globalThis.tones.push(this.frequency.value);
      return start.apply(this, when);
    };
  });
  const tones = () => page.evaluate(() => globalThis.tones.splice(0));
  await press(page, ["Space"]);
  assert.deepEqual(await tones(), []);
  await page.locator('[data-do="sounds"]').press("Enter");
  await tones();
  await press(page, ["Space"]);
  const taken = await tones();
  await press(page, ["Digit2"]);
  const state = await tones();
  await press(page, ["Escape", "Delete"]);
  const not = await tones();
  for (const heard of [taken, state, not]) assert.ok(heard.length > 0);
  assert.equal(new Set([taken, state, not].map(String)).size, 3);
});

test("the key for help shows what the keys mean, and closes it again", async (t) => {
  const { page } = await onMatch(t);
  await press(page, ["F1"]);
  await said(page, "dialog.key-help[open]", /high ball[\s\S]*so high that the opponents can hit down on it/);
  await press(page, ["F1"]);
  await page.locator("dialog.key-help[open]").waitFor({ state: "detached" });
});
