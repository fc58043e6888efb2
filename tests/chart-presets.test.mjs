/**
 * Whole arrangements of the keys in a real browser: a rally is charted with each, labels and the
 * printed card follow, and what is on the keys is known before the first one is pressed.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { codesOf } from "../overlay/shared/charting/presets.js";
import { openBrowser, openPage } from "./support/browser.mjs";
import { LAPTOP, allSaved, begin, faultsByAxe, openChart, press, startHost, textOf } from "./support/chart-page.mjs";
import { headerFor } from "./support/charts.mjs";
import { chart, openPractice, rightKeys } from "./support/practice-page.mjs";
import { until } from "./support/wait.mjs";

/** A rally with every hand in it: what is done, and what the host has to have of it. */
const RALLY = {
  all: {
    actions: [
      "next",
      "next",
      "stroke:drop",
      "stroke:dink:air",
      "cue:attackable",
      "stroke:speedup:air",
      "end:out",
      "confirm",
    ],
    told: ["serve", "return", "drop", "dink air", "attackable", "speedup air", "out"],
  },
  few: {
    actions: ["next", "next", "stroke:drop", "stroke:reset", "cue:attackable", "stroke:other", "end:out", "confirm"],
    told: ["serve", "return", "drop", "reset", "attackable", "other", "out"],
  },
};

const HEADINGS = {
  right: ["Cues and contact: left hand", "Shots: right hand and thumb"],
  left: ["Shots: left hand and thumb", "Cues and contact: right hand"],
  pad: ["Cues and contact: left hand", "Shots: right hand on the number pad"],
};

/** Chooses in the dialog for keys, as somebody would. */
async function choose(page, choices) {
  await page.locator('[data-do="keys"]').press("Enter");
  for (const [name, value] of Object.entries(choices))
    await page.locator(`dialog.keys [name=${name}]`).selectOption(value);
  await page.keyboard.press("Escape");
}

const words = ({ stroke, contact, cue, how }) =>
  cue ?? how ?? [stroke, contact].filter((one) => one !== undefined).join(" ");

/** What of the card is cut off, on the narrowest paper: Letter across and A4 upright, margins of 9 mm, 1/96 inch a pixel. */
async function cutOff(page) {
  const cut = [];
  await page.emulateMedia({ media: "print" });
  for (const pixels of [(11 - 18 / 25.4) * 96, ((210 - 18) / 25.4) * 96]) {
    await page.setViewportSize({ width: Math.floor(pixels), height: 1000 });
    cut.push(
      ...(await page
        .locator(".key-card .cap")
        .evaluateAll((all) =>
          all
            .filter((one) => one.scrollHeight > one.clientHeight + 1 || one.scrollWidth > one.clientWidth + 1)
            .map((one) => one.textContent),
        )),
    );
  }
  await page.emulateMedia({ media: "screen" });
  await page.setViewportSize(LAPTOP);
  return cut;
}

test("a rally is charted with every arrangement; headings, labels and the printed card follow", async (t) => {
  const host = await startHost(t);
  const { page, errors } = await openChart(t, host, { browser: await openBrowser(t) });
  const header = headerFor("presets", { points: 99, games: 1 });
  await begin(page, header);
  const expected = [];
  for (const hand of ["left", "pad", "right"]) {
    for (const strokes of ["all", "few"]) {
      const arrangement = `${hand}, ${strokes}`;
      await choose(page, { hand, strokes });
      const codes = codesOf({ hand, strokes });
      assert.deepEqual((await page.locator(".pad h2").allTextContents()).slice(0, 2), HEADINGS[hand], arrangement);
      const buttons = await page
        .locator(".pad [data-action]")
        .evaluateAll((all) =>
          all.map((one) => [
            one.dataset.action,
            one.querySelector("kbd").textContent,
            one.scrollWidth > one.clientWidth,
          ]),
        );
      assert.equal(new Set(buttons.map(([, sign]) => sign)).size, buttons.length, `${arrangement}: one label twice`);
      assert.deepEqual(
        buttons.filter(([, , wide]) => wide),
        [],
        `${arrangement}: cut off`,
      );
      const film = Object.keys(codes).filter((action) => action.startsWith("film:")).length;
      assert.equal(buttons.length, Object.keys(codes).length - film, arrangement);
      const lessons = await page.locator(".key-card .lessons").textContent();
      assert.match(lessons, hand === "left" ? /with the right hand/ : /with the left hand/, arrangement);
      assert.deepEqual(await cutOff(page), [], arrangement);
      await press(
        page,
        RALLY[strokes].actions.map((action) => codes[action]),
      );
      expected.push(...RALLY[strokes].told);
      await allSaved(page);
      assert.deepEqual((await host.logged(header.id)).map(words), expected, arrangement);
    }
  }
  assert.deepEqual(await faultsByAxe(page), []);
  assert.deepEqual(errors, []);
});

test("an arrangement is kept, and a single key changed on top of it", async (t) => {
  const host = await startHost(t);
  const { page } = await openChart(t, host, { browser: await openBrowser(t) });
  const header = headerFor("kept", { points: 99, games: 1 });
  await begin(page, header);
  await choose(page, { hand: "left", strokes: "few" });
  await page.locator('[data-do="keys"]').press("Enter");
  await page.locator("dialog.keys [name=action]").selectOption("stroke:drop");
  await page.locator('[data-do="remap"]').press("Enter");
  await page.keyboard.press("KeyG");
  await until("the new key to be said", async () => /“drop” has G now/.test(await textOf(page, ".keys-words")));
  await page.reload();
  await page.locator(".court").waitFor();
  await press(page, ["Space", "Space", "KeyG", "KeyF", "KeyA"]);
  await allSaved(page);
  assert.deepEqual((await host.logged(header.id)).map(words), ["serve", "return", "drop", "dink", "other"]);
  await choose(page, { hand: "right" });
  assert.match(await textOf(page, ".keys-words"), /Keys you had changed are at its places again/);
  assert.equal(await textOf(page, '.pad [data-action="stroke:drop"] kbd'), "K");
});

const QWERTZ = { "stroke:drive": "Ö", "stroke:volley": "Ä", "stroke:atp": "Z", "depth:b": "Y", redo: "#" };
const AZERTY = { "cue:net_cord": "Q", "depth:a": "A", "contact:bounce": "Z", "stroke:drive": "M", "end:ace": "²" };

/** A page whose browser tells its keyboard, or does not, or speaks another language. */
async function openWith(t, { told, locale }) {
  const context = await (await openBrowser(t)).newContext({ locale, viewport: LAPTOP });
  await context.addInitScript((pairs) => {
    const keyboard = pairs === null ? undefined : { getLayoutMap: () => Promise.resolve(new Map(pairs)) };
    Object.defineProperty(navigator, "keyboard", { configurable: true, value: keyboard });
  }, told);
  return context;
}

for (const { how, expected, told = null, locale = "en-US", choice } of [
  {
    how: "as the browser tells them",
    told: [
      ["KeyY", "z"],
      ["KeyZ", "y"],
      ["Semicolon", "ö"],
      ["Quote", "ä"],
      ["Backslash", "#"],
    ],
    expected: QWERTZ,
  },
  { how: "as they are usual where the language is", locale: "fr-FR", expected: AZERTY },
  { how: "as they are chosen", choice: "azerty", expected: AZERTY },
  { how: "as they are chosen", choice: "qwertz", expected: QWERTZ },
]) {
  test(`letters are right before the first key, ${how}: ${Object.values(expected).join(" ")}`, async (t) => {
    const host = await startHost(t);
    const context = await openWith(t, { told, locale });
    const { page } = await openPage(context, host.http("/courts/1/chart"), LAPTOP);
    await page.locator(".setup").waitFor();
    const asked = page.locator(".ways [name=letters]");
    assert.equal(await asked.count(), told === null ? 1 : 0, "asked where nobody knows");
    if (choice !== undefined) await asked.selectOption(choice);
    await begin(page, headerFor("letters", { points: 99, games: 1 }));
    for (const [action, sign] of Object.entries(expected))
      assert.equal(await textOf(page, `.pad [data-action="${action}"] kbd`), sign, action);
    const caps = await page.locator(".key-card .board .cap b").allTextContents();
    for (const sign of Object.values(expected)) assert.ok(caps.includes(sign), `the card has no ${sign}`);
    if (choice === undefined) return;
    await page.goto(host.http("/practice"));
    await page.locator(".choose").waitFor();
    assert.equal(await page.locator("dialog.keys [name=letters]").inputValue(), choice, "kept for every page");
  });
}

for (const arrangement of [
  { hand: "left", strokes: "few" },
  { hand: "pad", strokes: "all" },
]) {
  test(`practice plays and judges what is asked for with ${arrangement.hand}, ${arrangement.strokes}`, async (t) => {
    const host = await startHost(t);
    const { page, errors, rallies } = await openPractice(t, host, { rallies: "5", arrangement });
    const codes = codesOf(arrangement);
    for (const rally of rallies.slice(0, 3)) {
      await chart(page, rightKeys(rally, arrangement.strokes), codes);
      await page.locator(".outcome").waitFor();
      const shots = rally.shots.length;
      const head = await page.locator(".outcome h2").innerText();
      assert.match(head, new RegExp(`: ${shots} of ${shots} shots right$`), JSON.stringify(rally.shots));
    }
    assert.deepEqual(errors, []);
  });
}
