/**
 * A match typed into the charters' page at the tempo of play: what is typed is what the host has,
 * at the time it was seen. Speed of the machine plays no part: the page's clock is turned by the
 * test, but for one rally.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { plain } from "../overlay/tests/support/typist.js";
import { openBrowser } from "./support/browser.mjs";
import {
  ACTION_OF,
  allSaved,
  begin,
  effectiveOf,
  effectiveOfText,
  lineOf,
  openChart,
  pressInTime,
  startHost,
  stopClock,
  typed,
} from "./support/chart-page.mjs";
import { BURST_A_SECOND, SHOTS_A_SECOND } from "./support/tempo.mjs";
import { until } from "./support/wait.mjs";

/**
 * Keystroke-Level Model, Card, Moran & Newell 1980, seconds a key: an average skilled typist
 * (55 words a minute), an average non-secretary typist (40 words a minute).
 */
const TYPISTS = { "average skilled typist": 0.2, "average non-secretary typist": 0.28 };

/** What the typist has charted, without a page. */
const onPaper = (header, typist) =>
  effectiveOfText([header, ...typist.entries].map((line) => `${JSON.stringify(line)}\n`).join(""));

const shotsOf = (entries) => entries.filter(({ kind }) => kind === "shot");

test("a match takes at most 1.25 keys a shot with cues on a quarter of the shots, so an average typist keeps up", async (t) => {
  const host = await startHost(t);
  const { header, entries, typist, rate, bursts } = await typed(host, 3);
  assert.deepEqual(plain(onPaper(header, typist)), plain(entries));
  const shots = shotsOf(entries).length;
  const cues = entries.reduce((sum, { kind, cues: own = [] }) => sum + (kind === "cue") + own.length, 0);
  const count = (...verbs) => typist.codes.filter((code) => verbs.includes(ACTION_OF.get(code).split(":")[0])).length;
  const perShot = count("stroke", "next", "contact", "missed") / shots;
  const perCue = count("cue", "before", "older", "cancel") / cues;
  // As if exactly a quarter of the shots had a cue: each costs what it costs here.
  const keysAShot = perShot + 0.25 * perCue;
  t.diagnostic(
    `${shots} shots at ${rate.toFixed(3)}/s, ${bursts} of them in bursts of ${BURST_A_SECOND}/s, ${cues} cues`,
  );
  t.diagnostic(
    `${perShot.toFixed(3)} keys a shot, ${perCue.toFixed(3)} a cue: ${keysAShot.toFixed(3)} keys a shot with cues on a quarter`,
  );
  assert.ok(keysAShot <= 1.25, `${keysAShot} keys a shot`);
  for (const [name, seconds] of Object.entries(TYPISTS)) {
    const busy = keysAShot * seconds * SHOTS_A_SECOND;
    t.diagnostic(
      `${name}, ${seconds} s a key: hands busy ${(busy * 100).toFixed(1)} % of the time at ${SHOTS_A_SECOND} shots/s`,
    );
    assert.ok(busy < 1, `${name} falls behind`);
  }
});

test("a whole match typed at the tempo of play is the chart the host has, every shot at its time", async (t) => {
  const host = await startHost(t);
  const { header, entries, typist, rate } = await typed(host, 3, { games: 1 });
  const context = await (await openBrowser(t)).newContext();
  const clock = await stopClock(context);
  const { page, errors } = await openChart(t, host, { context });
  await begin(page, header);
  await allSaved(page);
  await clock.start();
  await pressInTime(page, typist);
  await page.clock.resume();
  await allSaved(page);
  const told = await effectiveOf(host, header.id);
  assert.deepEqual(plain(told), plain(entries));
  const { winner } = JSON.parse(await host.now()).score;
  assert.ok(winner !== null && winner === typist.answer.score.winner);
  assert.deepEqual(
    told.map(({ at }) => at),
    onPaper(header, typist).map(({ at }) => at),
    "an entry has another time than its key",
  );
  // A return that came along with the third shot has that one's time; else only a hand that is busy is late.
  const seen = shotsOf(entries);
  const late = shotsOf(told)
    .map(({ at, stroke }, place) => (stroke === "return" ? 0 : Date.parse(at) - Date.parse(seen[place].at)))
    .filter((ms) => ms !== 0);
  t.diagnostic(
    `${seen.length} shots at ${rate.toFixed(3)}/s, ${typist.codes.length} keys, ${late.length} shots late by ${late.join(", ")} ms`,
  );
  assert.ok(
    late.length <= seen.length / 100 && late.every((ms) => ms > 0 && ms <= 300),
    `late by ${late.join(", ")} ms`,
  );
  assert.deepEqual(errors, []);
});

test("a rally in real time, bursts included, keeps its tempo", async (t) => {
  const host = await startHost(t);
  const { header, typist } = await typed(host, 3, { rallies: 1 });
  const { page } = await openChart(t, host);
  await begin(page, header);
  await page.evaluate(() => {
    globalThis.pressedAt = [];
    addEventListener("keydown", () => globalThis.pressedAt.push(Date.now()), true);
  });
  const start = Date.now();
  for (const [at, code] of typist.codes.entries()) {
    const due = start + typist.times[at] - typist.times[0];
    await until(`the time of key ${at + 1}`, () => Date.now() >= due);
    await page.keyboard.press(code);
  }
  await allSaved(page);
  const logged = await host.logged(header.id);
  assert.deepEqual(plain(logged), plain(typist.entries));
  // Each entry carries the time of its key, not that of its way to the host.
  const keyTimes = await page.evaluate(() => globalThis.pressedAt);
  for (const { at } of logged)
    assert.ok(
      keyTimes.some((time) => Math.abs(time - Date.parse(at)) <= 50),
      `no key was pressed at ${at}`,
    );
});

test("a whole game can be charted by touch, on a tablet", async (t) => {
  const host = await startHost(t);
  const { header, entries, typist } = await typed(host, 9, { games: 1 });
  const context = await (await openBrowser(t)).newContext({ viewport: { width: 1280, height: 800 }, hasTouch: true });
  const page = await context.newPage();
  await page.goto(host.http("/courts/1/chart"));
  await until("the page to connect", async () => (await lineOf(page)) === "connected");
  await begin(page, header);
  const places = new Map();
  for (const code of new Set(typist.codes)) {
    const { x, y, width, height } = await page.locator(`[data-action="${ACTION_OF.get(code)}"]`).boundingBox();
    places.set(code, [x + width / 2, y + height / 2]);
  }
  for (const code of typist.codes) await page.touchscreen.tap(...places.get(code));
  await allSaved(page);
  assert.deepEqual(plain(await effectiveOf(host, header.id)), plain(entries));
  assert.equal(JSON.parse(await host.now()).score.finished.length, 1);
});
