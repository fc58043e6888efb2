/**
 * Sets of practice beside charting whole rallies: fixing mistakes, and marking cues as the second
 * seat, on made-up matches and by the host's own rules.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { LocalChart } from "../overlay/shared/charting/local-chart.js";
import { Fixer } from "../overlay/practice/fixer.js";
import { plan } from "../overlay/practice/choreography.js";
import { MISTAKES, taskOf, tasksFrom } from "../overlay/practice/mistakes.js";
import { asked, readMatch } from "../overlay/practice/made-up.js";
import { usualKeys } from "../overlay/cues/keys.js";
import { openBrowser } from "./support/browser.mjs";
import { faultsByAxe } from "./support/chart-page.mjs";
import { LAPTOP, LEAD, SEED, press, startHost } from "./support/practice-page.mjs";
import { until } from "./support/wait.mjs";

/** Rallies of two made-up matches, and a chart of the host's rules. */
async function madeUp(t) {
  const host = await startHost(t);
  const localChart = await LocalChart.from(await (await host.get("/chart/chart.wasm")).arrayBuffer());
  const matches = [];
  for (const seed of [3, 4])
    matches.push(readMatch(await (await host.get(`/practice/matches/${seed}`)).text(), localChart, 60));
  return { host, localChart, header: matches[0].header, rallies: matches.flatMap(({ rallies }) => rallies) };
}

test("every mistake is one, and the fewest keys put it right, not one of them less", async (t) => {
  const { localChart, header, rallies } = await madeUp(t);
  for (const strokes of ["all", "few"]) {
    for (const kind of Object.keys(MISTAKES)) {
      const tasks = rallies
        .map((rally) => taskOf(kind, { ...rally, shots: asked(rally.shots, strokes) }, strokes))
        .filter((task) => task !== null);
      assert.ok(tasks.length >= 5, `${kind}, ${strokes}: only ${tasks.length}`);
      for (const task of tasks.slice(0, 12)) {
        const fixer = new Fixer(localChart, () => {});
        const phase = () => fixer.view.phase;
        fixer.begin(header, [task], 0);
        assert.equal(phase(), "task");
        if (kind === "server") {
          const { points, serving, games, server } = task.rally.score;
          fixer.say({ kind: "score_fix", points, serving, games, server: 3 - server }, 500);
          assert.equal(phase(), "task", "the wrong server again");
          fixer.say({ kind: "score_fix", points, serving, games, server }, 1_000);
        }
        for (const [at, action] of task.fix.entries()) {
          assert.equal(phase(), "task", `${kind}, ${strokes}: right before key ${at + 1} of ${task.fix}`);
          fixer.press(action, 1_000);
        }
        const { shots } = task.rally;
        assert.equal(
          phase(),
          "result",
          `${kind}, ${strokes}: ${task.fix} of ${JSON.stringify(shots.map((shot) => shot.stroke))}`,
        );
        const { fixed, keys, fewest, seconds } = fixer.view.verdicts[0];
        assert.deepEqual(
          { fixed, keys, fewest, seconds },
          { fixed: true, keys: task.fix.length, fewest: task.fix.length, seconds: 1 },
        );
      }
    }
  }
});

/** Opens practice on a clock that the test turns, with a set of that kind chosen. */
async function openSet(t, host, kind, wanted) {
  const page = await (await openBrowser(t)).newPage({ viewport: LAPTOP });
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  await page.clock.install({ time: 0 });
  await page.goto(host.http(`/practice?seed=${SEED}&court=1`));
  await page.locator(".choose [name=kind]").selectOption(kind);
  await page.locator(".choose [name=rallies]").selectOption(String(wanted));
  if (kind === "cues") await page.locator(".choose [name=tempo]").selectOption("1");
  await page.clock.pauseAt(60_000);
  await page.locator(".choose button:not([type])").press("Enter");
  await page.locator(".court").waitFor();
  return { page, errors };
}

test("axe finds nothing on either set, on the court and in its verdict", async (t) => {
  const { host } = await madeUp(t);
  const page = await (await openBrowser(t)).newPage({ viewport: LAPTOP });
  await page.goto(host.http(`/practice?seed=${SEED}`));
  for (const kind of ["fixing", "cues"]) {
    await page.locator(".choose [name=kind]").selectOption(kind);
    assert.deepEqual(await faultsByAxe(page), [], `${kind}: choosing`);
    await page.locator(".choose button:not([type])").press("Enter");
    await page.locator(".court").waitFor();
    assert.deepEqual(await faultsByAxe(page), [], `${kind}: court`);
    if (kind === "cues") break;
    await page.locator('[data-do="skip"]').press("Enter");
    await page.locator('.outcome [data-do="finish"]').press("Enter");
    await page.locator(".sum").waitFor();
    assert.deepEqual(await faultsByAxe(page), [], `${kind}: verdict`);
    await page.locator('[data-do="again"]').press("Enter");
  }
});

const fits = (page) => page.evaluate(() => document.documentElement.scrollHeight <= innerHeight);

test("a set of mistakes is fixed with the fewest keys, one looked up, one skipped, and its verdict says so", async (t) => {
  const { host, localChart } = await madeUp(t);
  const made = readMatch(await (await host.get(`/practice/matches/${SEED}`)).text(), localChart, 80);
  const tasks = tasksFrom(made.rallies, 10, "all");
  assert.deepEqual(new Set(tasks.map(({ kind }) => kind)), new Set(Object.keys(MISTAKES)), "every kind is in it");
  const { page, errors } = await openSet(t, host, "fixing", 10);
  assert.ok(await fits(page));
  for (const [at, { kind, fix, rally }] of tasks.entries()) {
    await until(
      `mistake ${at + 1}`,
      async () => (await page.locator(".where").innerText()) === `Mistake ${at + 1} of 10`,
    );
    if (at === 0) {
      await page.locator('[data-do="show-keys"]').press("Enter");
      assert.match(await page.locator(".task-keys").innerText(), /^\[↑\]/);
    }
    if (at === 1) await page.locator('[data-do="skip"]').press("Enter");
    else if (kind === "server") {
      await press(page, ["score"]);
      await page.locator("dialog.referee[open]").waitFor();
      for (const key of ["Tab", "Tab", "Tab", rally.score.server === 1 ? "ArrowLeft" : "ArrowRight", "Enter"])
        await page.keyboard.press(key);
    } else await press(page, fix);
    await page.locator(".outcome").waitFor();
    assert.match(await page.locator(".outcome h2").innerText(), at === 1 ? /: not fixed$/ : /: fixed$/, kind);
    if (at > 1 && kind !== "server") assert.match(await page.locator(".outcome-words").innerText(), /as few as can be/);
    await press(page, ["film:play"]);
  }
  await page.locator(".sum").waitFor();
  assert.equal(await page.locator(".sum-right").innerText(), "9 of 10 mistakes fixed, 8 without looking up the keys");
  assert.equal(
    await page.locator(".sum-next").innerText(),
    `Practice next: ${MISTAKES[tasks[0].kind]} · ${MISTAKES[tasks[1].kind]}`,
  );
  assert.deepEqual(errors, []);
});

test("a set of cues is judged mark by mark: right, missed, on the wrong side, with the lag it had", async (t) => {
  const { host, localChart } = await madeUp(t);
  const made = readMatch(await (await host.get(`/practice/matches/${SEED}`)).text(), localChart, 80);
  const rallies = made.rallies.filter(({ shots }) => shots.some(({ cues }) => cues.length > 0)).slice(0, 5);
  const { page, errors } = await openSet(t, host, "cues", 5);
  const { codes } = usualKeys();
  assert.ok(await fits(page));
  let due = 0;
  for (const [at, rally] of rallies.entries()) {
    const laid = plan(rally);
    const cues = laid.tags.filter(({ kind }) => kind === "cue");
    due += cues.length;
    await press(page, ["film:play"]);
    let now = -LEAD;
    for (const [place, { at: seen, shot, word }] of cues.entries()) {
      // The first cue of the second rally is missed, that of the third is marked for the other side.
      if (at === 1 && place === 0) continue;
      const team = rally.shots[shot].team;
      const half = (team === "a") === (at !== 2 || place !== 0) ? "left" : "right";
      const due = Math.max(now, Math.round(seen) + 500);
      await page.clock.runFor(due - now);
      now = due;
      await page.keyboard.press(codes[`${half}:${word}`]);
    }
    await page.clock.runFor(laid.until - now + 3_000);
    await page.locator(".outcome").waitFor();
    const wrong = await page.locator('.outcome [data-right="false"] td:nth-child(3)').allInnerTexts();
    const expected = [[], ["✗ missed"], ["✗ missed", null], [], []][at];
    assert.equal(wrong.length, expected.length, `rally ${at + 1}: ${wrong}`);
    assert.equal(wrong[0], expected[0]);
    // The same key goes on to the next rally and plays it.
    if (at === rallies.length - 1) await press(page, ["film:play"]);
  }
  await page.locator(".sum").waitFor();
  assert.equal(
    await page.locator(".sum-right").innerText(),
    `${due - 2} of ${due} cues right, in 5 rallies, at real speed`,
  );
  assert.equal(await page.locator(".sum-lag").innerText(), "Behind by 0.5 s usually, 0.5 s at worst");
  assert.deepEqual(await page.locator(".sum-mistakes li").allInnerTexts(), ["2 missed", "1 marked that weren’t there"]);
  assert.deepEqual(await page.evaluate(() => indexedDB.databases()), [], "nothing reaches a disk");
  assert.deepEqual(errors, []);
});

test("few strokes are recommended where the person's own sets speak for it, and taken at a press", async (t) => {
  const { host } = await madeUp(t);
  const page = await (await openBrowser(t)).newPage({ viewport: LAPTOP });
  await page.goto(host.http("/practice"));
  await page.locator(".choose").waitFor();
  assert.equal(await page.locator(".few").count(), 0);
  await page.evaluate(() => {
    const set = { right: 30, shots: 50, wrong: 15, lag: 1.2, every: true };
    localStorage.setItem("rallytide.practice.sets", JSON.stringify([set, set]));
  });
  await page.reload();
  await page.locator(".few").waitFor();
  assert.match(await page.locator(".few").innerText(), /^In your last 2 sets 30 of 100 strokes/);
  await page.locator('[data-do="few"]').press("Enter");
  await until("few strokes to be in use", async () => (await page.locator(".few").count()) === 0);
  assert.equal(await page.locator("dialog.keys [name=strokes]").inputValue(), "few");
});
