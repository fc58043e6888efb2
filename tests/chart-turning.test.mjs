/**
 * A shot missed, or charted twice, and noticed later: put in or taken out in the page, the host's
 * chart is the rally that was played, and one key takes all of it back.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { allSaved, begin, effectiveOf, openChart, press, startHost, textOf, typed } from "./support/chart-page.mjs";
import { until } from "./support/wait.mjs";

/** A rally as it was played: whose shot, which stroke; and the keys for it. */
const PLAYED = ["serve", "return", "drop", "dink", "block", "drive", "volley", "dink", "dink"];
const KEY = {
  serve: "Space",
  return: "Space",
  volley: "Space",
  drop: "KeyK",
  dink: "KeyJ",
  block: "KeyL",
  drive: "Semicolon",
};

async function onMatch(t) {
  const host = await startHost(t);
  const { header } = await typed(host, 3, { rallies: 1 });
  const { page, errors } = await openChart(t, host);
  await begin(page, { ...header, first_serve: "a" });
  return { host, page, errors, header };
}

const truth = PLAYED.map((stroke, place) => ({ stroke, team: place % 2 === 0 ? "a" : "b" }));
const stored = async (page, host, header) => {
  await allSaved(page);
  return (await effectiveOf(host, header.id)).map(({ kind, stroke, team, how, by }) =>
    kind === "shot" ? { stroke, team } : { how, by },
  );
};
const said = (page, selector, words) =>
  until(`\`${selector}\` to say ${words}`, async () => words.test(await textOf(page, selector)), {
    seen: () => textOf(page, selector),
  });

test("a shot that was missed is inserted, and the host has the rally that was played; undo and redo are one key each", async (t) => {
  const { host, page, errors, header } = await onMatch(t);
  const missed = 4;
  await press(
    page,
    PLAYED.filter((_, place) => place !== missed).map((stroke) => KEY[stroke]),
  );
  const before = await stored(page, host, header);
  assert.notDeepEqual(before.slice(missed), truth.slice(missed + 1), "every later shot is on the wrong side");
  await press(page, ["ArrowUp", "ArrowUp", "ArrowUp", "ArrowUp", "ArrowUp", "KeyX"]);
  await said(page, ".armed", /^Insert after this one: which stroke\? Esc cancels$/);
  await press(page, [KEY[PLAYED[missed]]]);
  await said(page, ".what", /^inserted: block, .*; 4 later shots switched to the other team$/);
  await said(page, ".armed", /^$/);
  assert.equal(await page.locator(".what").getAttribute("role"), "status");
  assert.deepEqual(await stored(page, host, header), truth);
  await press(page, ["Backspace"]);
  await said(page, ".what", /^undone: block, .* with 4 changes that went with it$/);
  assert.deepEqual(await stored(page, host, header), before);
  await press(page, ["Backslash"]);
  assert.deepEqual(await stored(page, host, header), truth);
  // What a reload would forget: it is still one step.
  await page.reload();
  await page.locator(".court").waitFor();
  await press(page, ["Backspace"]);
  assert.deepEqual(await stored(page, host, header), before);
  await press(page, ["Backslash"]);
  // The rally goes on from the side that is right now.
  await press(page, ["KeyJ", "Digit2", "Enter"]);
  assert.deepEqual(await stored(page, host, header), [
    ...truth,
    { stroke: "dink", team: "b" },
    { how: "out", by: "b" },
  ]);
  assert.deepEqual(errors, []);
});

test("who wants the insert alone turns the later sides back with one key", async (t) => {
  const { host, page, header } = await onMatch(t);
  await press(page, ["Space", "Space", "KeyK", "KeyJ", "KeyJ", "ArrowUp", "ArrowUp", "KeyX", "KeyL", "ArrowUp"]);
  await said(page, ".armed", /^G switches the later sides back/);
  await press(page, ["KeyG"]);
  assert.deepEqual((await stored(page, host, header)).map(({ team }) => team).join(""), "ababaa");
  await press(page, ["ArrowUp", "KeyG"]);
  assert.deepEqual((await stored(page, host, header)).map(({ team }) => team).join(""), "ababab");
});

test("after an insert the rally is charted on at once, and a fix left alone is over after two seconds", async (t) => {
  const { host, page, header } = await onMatch(t);
  await press(page, ["Space", "Space", "KeyK", "ArrowUp", "KeyX", "KeyL", "KeyJ", "KeyU"]);
  await said(page, ".recent li:last-child", /^dink, /);
  await press(page, ["ArrowUp"]);
  await said(page, ".mode", /^Fixing$/);
  const frame = () => page.locator(".court").evaluate((court) => getComputedStyle(court).outlineStyle);
  assert.equal(await frame(), "solid", "the state is seen without reading");
  await said(page, ".mode", /^$/);
  assert.equal(await frame(), "none");
  await press(page, ["KeyK"]);
  assert.deepEqual(
    (await stored(page, host, header)).map(({ stroke }) => stroke),
    ["serve", "return", "drop", "block", "dink", "dink", "drop"],
  );
});

test("a shot charted twice is removed, and the later ones are on their sides again; so is what a late look shows", async (t) => {
  const { host, page, header } = await onMatch(t);
  const [head, twice] = [PLAYED.slice(0, 4), PLAYED.slice(4)];
  await press(
    page,
    [...head, head.at(-1), ...twice].map((stroke) => KEY[stroke]),
  );
  const back = twice.map(() => "ArrowUp");
  await press(page, ["ArrowUp", ...back, "Delete"]);
  await said(page, ".what", /^removed: dink, .*; 5 later shots switched to the other team$/);
  assert.deepEqual(await stored(page, host, header), truth);
  // The same side again: from the shot stepped to on.
  await press(page, [...back, "KeyG"]);
  const turned = await stored(page, host, header);
  assert.deepEqual(turned.slice(0, 4), truth.slice(0, 4));
  assert.deepEqual(
    turned
      .slice(4)
      .map(({ team }) => team)
      .join(""),
    "babab",
  );
  await press(page, ["Backspace"]);
  assert.deepEqual(await stored(page, host, header), truth);
});
