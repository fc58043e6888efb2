/**
 * The second seat's page under real hands: its keys in every arrangement and changed, touches that
 * overlap and slide, what axe finds, and what it catches up on after a lost line.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { HANDS, MEANINGS, usualKeys } from "../overlay/cues/keys.js";
import { openBrowser } from "./support/browser.mjs";
import { effectiveOf, faultsByAxe, startHost } from "./support/chart-page.mjs";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { CuesPage, START } from "./support/two-charters.mjs";
import { until } from "./support/wait.mjs";

const PHONE = { width: 844, height: 390 };
const at = (ms) => new Date(START + ms).toISOString();
const shot = (id, ms, team, stroke = "dink") => ({ id, at: at(ms), kind: "shot", team, stroke });

/** A court with two shots charted, team a's and team b's, and the page a moment after the second. */
async function atCourt(t, name, options = {}) {
  const host = await startHost(t);
  const header = headerFor(name, { points: 99, games: 1 });
  const strokes = await Charter.welcomed(host, { client: "laptop", chart: header, take_over: true });
  const context = await (await openBrowser(t)).newContext({ viewport: PHONE, ...options });
  const page = new CuesPage(context, host);
  await page.open();
  const chart = async (...entries) => page.knows((await strokes.chart(entries)).at(-1).seq);
  await page.at(START + 50);
  await chart(shot("s1", 0, "a", "serve"));
  await page.at(START + 1_050);
  await chart(shot("s2", 1_000, "b", "return"));
  return { host, page, chart, strokes };
}

/** The rally ends, so that no cue waits for a nearer shot. */
async function overAt(page, chart, ms) {
  await page.at(ms);
  await chart({ id: "end", at: new Date(ms).toISOString(), kind: "rally_end", won_by: "a" });
  await page.at(ms + 1_000);
}

const marked = async (host, id) =>
  (await effectiveOf(host, id)).filter(({ kind }) => kind === "cue").map(({ shot: about, cue }) => `${about} ${cue}`);

async function choose(page, choices) {
  await page.locator(".more summary").press("Enter");
  await page.locator('.more [data-do="keys"]').press("Enter");
  for (const [name, value] of Object.entries(choices))
    await page.locator(`dialog.keys [name=${name}]`).selectOption(value);
}

for (const hands of Object.keys(HANDS)) {
  test(`with ${hands === "both" ? "both hands" : `the ${hands} hand alone`} every cue is marked for its side and taken back`, async (t) => {
    const { host, page, chart } = await atCourt(t, `hands-${hands}`);
    await choose(page.page, { hands });
    await page.page.keyboard.press("Escape");
    const { codes } = usualKeys(hands);
    const signs = await page.page.locator("[data-press] kbd").allTextContents();
    assert.equal(signs.length, MEANINGS.length);
    assert.equal(new Set(signs).size, MEANINGS.length, signs.join(" "));
    for (const [half, cue] of [
      ["left", "net_cord"],
      ["right", "attackable"],
      ["right", "awkward"],
    ])
      await page.page.keyboard.press(codes[`${half}:${cue}`]);
    await page.page.keyboard.press(codes.undo);
    await overAt(page, chart, START + 5_000);
    await page.saved();
    assert.deepEqual(await marked(host, `hands-${hands}`), ["s1 net_cord", "s2 attackable"]);
    assert.deepEqual(page.errors, []);
  });
}

test("a key changed on top is kept over a reload, exchanged and said; letters are those of the keyboard", async (t) => {
  const { host, page } = await atCourt(t, "changed");
  await choose(page.page, { letters: "azerty", action: "right:attackable" });
  await page.page.locator('[data-do="remap"]').press("Enter");
  const said = (words) =>
    until(`the dialog to say ${words}`, async () => words.test(await page.page.locator(".keys-words").textContent()));
  await page.page.keyboard.press("Tab");
  await said(/has to stay as it is/);
  await page.page.keyboard.press("Semicolon");
  await said(/“right half: high ball” has M now; “right half: net cord” has J now/);
  await page.page.keyboard.press("Escape");
  await page.kill();
  await page.open();
  const sign = (half, what) => page.page.locator(`.half:nth-child(${half}) [data-press="${what}"] kbd`).textContent();
  assert.deepEqual(
    [await sign(2, "attackable"), await sign(2, "net_cord"), await sign(1, "net_cord")],
    ["M", "J", "Q"],
  );
  await page.page.keyboard.press("Semicolon");
  await page.at(page.now + 4_000);
  await page.saved();
  assert.deepEqual(await marked(host, "changed"), ["s2 attackable"]);
});

test("taps of two thumbs that overlap, and taps that slide, mark once each", async (t) => {
  const { host, page, chart } = await atCourt(t, "thumbs", { hasTouch: true });
  const session = await page.context.newCDPSession(page.page);
  const touch = (type, points) => session.send("Input.dispatchTouchEvent", { type, touchPoints: points });
  const middleOf = async (half, what) => {
    const { x, y, width, height } = await page.page
      .locator(`.half:nth-child(${half}) [data-press="${what}"]`)
      .boundingBox();
    return { x: x + width / 2, y: y + height / 2 };
  };
  const left = { ...(await middleOf(1, "net_cord")), id: 1 };
  const right = { ...(await middleOf(2, "awkward")), id: 2 };
  for (const apart of [40, 120]) {
    await touch("touchStart", [left]);
    await page.page.waitForTimeout(apart);
    await touch("touchStart", [left, right]);
    await page.page.waitForTimeout(apart);
    await touch("touchEnd", [right]);
    await touch("touchEnd", []);
    await page.at(page.now + 500);
  }
  const slid = { ...(await middleOf(2, "attackable")), id: 3 };
  await touch("touchStart", [slid]);
  for (const way of [6, 12, 18]) await touch("touchMove", [{ ...slid, y: slid.y + way }]);
  await touch("touchEnd", []);
  await overAt(page, chart, page.now + 5_000);
  await page.saved();
  assert.deepEqual((await marked(host, "thumbs")).sort(), [
    "s1 net_cord",
    "s1 net_cord",
    "s2 attackable",
    "s2 awkward",
    "s2 awkward",
  ]);
});

test("axe finds nothing on the keys, the settings, the dialog and the gate", async (t) => {
  const { host, page } = await atCourt(t, "axe");
  // The clock stands still for axe's own timers.
  await page.page.clock.resume();
  assert.deepEqual(await faultsByAxe(page.page), [], "keys");
  await page.page.locator(".more summary").press("Enter");
  assert.deepEqual(await faultsByAxe(page.page), [], "settings");
  await page.page.locator('.more [data-do="keys"]').press("Enter");
  await page.page.locator("dialog.keys[open]").waitFor();
  assert.deepEqual(await faultsByAxe(page.page), [], "dialog");
  if (process.env.LOOK !== undefined) await page.page.screenshot({ path: `${process.env.LOOK}/cues-dialog.png` });
  await page.page.keyboard.press("Escape");
  await Charter.welcomed(host, { client: "other", seat: "cues", take_over: true });
  await page.page.locator(".gate").waitFor();
  assert.deepEqual(await faultsByAxe(page.page), [], "gate");
});

test("after a lost line the page asks for what came after what it knows, and marks go on their shots", async (t) => {
  const { host, page, strokes } = await atCourt(t, "catch-up");
  const known = Number(await page.told("known"));
  const asked = [];
  page.page.on("websocket", (socket) => asked.push(socket.url()));
  page.page.on("request", (request) => asked.push(request.url()));
  await page.context.setOffline(true);
  await page.page.evaluate(() => dispatchEvent(new Event("offline")));
  // Longer than the feed takes silence for a slow line.
  await page.at(page.now + 20_000);
  assert.equal(await page.line(), "lost");
  const away = page.now - START;
  const late = [shot("s3", away, "a", "drop"), shot("s4", away + 1_000, "b"), shot("s5", away + 2_000, "a")];
  const last = (await strokes.chart(late)).at(-1).seq;
  await page.at(START + away + 600);
  await page.page.keyboard.press("KeyJ");
  await page.at(START + away + 3_000);
  assert.equal(Number(await page.told("known")), known, "nothing comes over a lost line");
  await page.context.setOffline(false);
  await page.page.evaluate(() => dispatchEvent(new Event("online")));
  await until("the page to have caught up", async () => {
    await page.at(page.now + 1_000);
    return Number(await page.told("known")) >= last;
  });
  await page.at(page.now + 4_000);
  await page.saved();
  const feeds = asked.filter((url) => /\/feed\?/.test(url)).map((url) => new URL(url).searchParams);
  assert.ok(feeds.length > 0, asked.join("\n"));
  for (const options of feeds)
    assert.deepEqual([options.get("after"), options.get("match")], [String(known), "catch-up"]);
  const charts = asked
    .filter((url) => /chart\.jsonl/.test(url))
    .map((url) => Number(new URL(url).searchParams.get("after")));
  assert.ok(
    charts.every((after) => after >= known),
    `the chart was asked for from ${charts} on`,
  );
  assert.deepEqual(await marked(host, "catch-up"), ["s4 attackable"]);
  assert.deepEqual(page.errors, []);
});
