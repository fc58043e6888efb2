/**
 * The second seat's page beside somebody who records the strokes a second late: cues find their
 * shots, whoever drops out and comes back, and the chart reads as if one person had charted it.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { openBrowser } from "./support/browser.mjs";
import { effectiveOf, startHost } from "./support/chart-page.mjs";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { byOnePerson, CuesPage, played, readingsOf, START, timed } from "./support/two-charters.mjs";
import { until } from "./support/wait.mjs";

/** A second late, and by how much the two people's delays differ from stroke to stroke (standard deviations). */
const HABITS = { late: 1_000, strokesSpread: 120, react: 500, cuesSpread: 100 };

/** A court with a match, somebody at the strokes, and the cues page of somebody else. */
async function atCourt(t, header) {
  const host = await startHost(t);
  const strokes = await Charter.welcomed(host, { client: "laptop", chart: header, take_over: true });
  const context = await (await openBrowser(t)).newContext({ viewport: { width: 844, height: 390 } });
  const page = new CuesPage(context, host);
  await page.open();
  return { host, strokes, page };
}

/** @returns {Promise<Map<string, string[]>>} shot → what is marked on it, as the host has it */
async function marksOf(host, id) {
  const marks = new Map();
  for (const { kind, shot, cue } of await effectiveOf(host, id))
    if (kind === "cue") marks.set(shot, [...(marks.get(shot) ?? []), cue].sort());
  return marks;
}

/** How many of the cues stand on the shot they were seen at. */
function right(cues, marks) {
  const left = new Map([...marks].map(([shot, own]) => [shot, [...own]]));
  return cues.filter(({ about, cue }) => {
    const own = left.get(about) ?? [];
    const place = own.indexOf(cue);
    if (place >= 0) own.splice(place, 1);
    return place >= 0;
  }).length;
}

test("95 of 100 cues find their shot beside strokes a second late, and read as one person's chart", async (t) => {
  const match = await played(3, 30);
  const { host, strokes, page } = await atCourt(t, match.header);
  for (const { at, stroke, cue } of timed(match, 1, HABITS)) {
    await page.at(at);
    if (cue !== undefined) await page.mark(cue);
    else await page.knows((await strokes.chart([stroke]))[0].seq);
  }
  await page.at(page.now + 4_000);
  await page.saved();
  const marks = await marksOf(host, match.header.id);
  const found = right(match.cues, marks);
  t.diagnostic(`${found} of ${match.cues.length} cues on the right shot`);
  assert.ok(match.cues.length >= 40, "enough cues to say so");
  assert.ok(found / match.cues.length >= 0.95, `only ${found} of ${match.cues.length}`);
  // As if one person had charted the strokes and marked these cues, each right behind its shot.
  const marked = [...marks].flatMap(([about, own]) => own.map((cue) => ({ about, cue })));
  const log = await readFile(host.logFile(match.header.id), "utf8");
  assert.deepEqual(await readingsOf(log), await readingsOf(byOnePerson({ ...match, cues: marked })));
  assert.deepEqual(page.errors, []);
});

test("either drops out and comes back, and both do: nothing is lost or marked twice", async (t) => {
  const match = await played(5, 16);
  const { host, strokes: first, page } = await atCourt(t, match.header);
  let strokes = first;
  const events = timed(match, 2, { ...HABITS, strokesSpread: 60, cuesSpread: 60 });
  const ends = events.filter(({ stroke }) => stroke?.kind === "rally_end").map(({ at }) => at);
  const rallyOf = (at) => ends.findIndex((end) => at <= end) + 1;
  /** What the stroke person's laptop holds back while it is away. */
  const held = [];
  const away = { strokes: false, page: false };
  for (const { at, stroke, cue } of events) {
    const rally = rallyOf(at);
    // The strokes are away from the middle of the 4th rally to the 6th, the page in the 8th, both in the 11th.
    const strokesAway = (rally >= 4 && rally < 6) || rally === 11;
    if (strokesAway && !away.strokes) strokes.socket.terminate();
    if (!strokesAway && away.strokes) {
      strokes = await Charter.welcomed(host, { client: "laptop", take_over: true });
      const answers = await strokes.chart(held.splice(0));
      await page.knows(answers.at(-1).seq);
    }
    away.strokes = strokesAway;
    const killed = (rally === 8 || rally === 11) && cue !== undefined && away.page !== rally;
    await page.at(at);
    if (cue !== undefined) await page.mark(cue);
    else if (strokesAway) held.push(stroke);
    else await page.knows((await strokes.chart([stroke]))[0].seq);
    if (killed) {
      // Right after a key: what was marked may still wait for its shot.
      away.page = rally;
      await until("the key to be on the disk", async () => (await page.told("kept")) === "true");
      await page.kill();
      await page.open();
    }
  }
  assert.equal(held.length, 0, "the strokes came back");
  await page.at(page.now + 4_000);
  await page.saved();
  const marks = await marksOf(host, match.header.id);
  const found = right(match.cues, marks);
  t.diagnostic(`${found} of ${match.cues.length} cues on the right shot`);
  assert.ok(found / match.cues.length >= 0.95, `only ${found} of ${match.cues.length}`);
  const marked = [...marks].flatMap(([about, own]) => own.map((cue) => ({ about, cue })));
  assert.equal(marked.length, match.cues.length, "nothing is lost, and none is there twice");
  const log = await readFile(host.logFile(match.header.id), "utf8");
  assert.deepEqual(await readingsOf(log), await readingsOf(byOnePerson({ ...match, cues: marked })));
  assert.deepEqual(page.errors, []);
});

const at = (ms) => new Date(START + ms).toISOString();
const shot = (id, ms, team, stroke = "dink") => ({ id, at: at(ms), kind: "shot", team, stroke });

test("what is marked is shown as matched, waiting or without a shot, and undone", async (t) => {
  const header = headerFor("shown", { points: 99, games: 1 });
  const { host, strokes, page } = await atCourt(t, header);
  const chart = async (...entries) => page.knows((await strokes.chart(entries)).at(-1).seq);
  await page.at(START + 50);
  await chart(shot("s1", 0, "a", "serve"));
  await page.at(START + 400);
  await page.mark({ team: "b", cue: "off_balance" });
  assert.deepEqual(await page.recent(), ["off balance, Birch / Bay: waiting for its shot"]);
  await page.at(START + 900);
  await chart(shot("s2", 800, "b", "volley"));
  await page.says("off balance → Birch / Bay's volley, shot 2");
  await page.saved();
  assert.deepEqual([...(await marksOf(host, "shown"))], [["s2", ["off_balance"]]]);
  // The other person takes the shot back and gives it to the other side: the cue finds its own again.
  await page.at(START + 1_150);
  await chart({ id: "r1", at: at(1_000), kind: "retract", target: "s2" }, shot("s3", 1_100, "b", "block"));
  await until("the cue to follow", async () => (await marksOf(host, "shown")).has("s3"));
  await page.says("off balance → Birch / Bay's block, shot 2");
  // One that never finds its shot.
  await page.at(START + 1_200);
  await page.mark({ team: "a", cue: "net_cord" });
  await page.at(START + 6_050);
  await chart({ id: "e1", at: at(6_000), kind: "rally_end", won_by: "a" });
  await page.says("net cord → Alder / Ash's serve, shot 1");
  await page.page.keyboard.press("Backspace");
  await page.saved();
  assert.deepEqual([...(await marksOf(host, "shown"))], [["s3", ["off_balance"]]]);
  await page.at(START + 20_000);
  await page.mark({ team: "a", cue: "awkward" });
  await page.at(START + 30_050);
  await chart(shot("s4", 30_000, "b", "serve"));
  await page.says("awkward, Alder / Ash: its shot was not charted");
  await page.page.getByRole("button", { name: "Keep as a note" }).click();
  await page.saved();
  const note = (await effectiveOf(host, "shown")).find(({ kind }) => kind === "note");
  assert.match(note.text, /^awkward, Alder \/ Ash, marked at 10:00:20 UTC/);
  assert.deepEqual(page.errors, []);
});

test("depths stand where they were seen, and go on from where the team is thought to stand", async (t) => {
  const header = headerFor("depths", { points: 99, games: 1 });
  const { host, strokes, page } = await atCourt(t, header);
  const chart = async (...entries) => page.knows((await strokes.chart(entries)).at(-1).seq);
  await page.at(START + 50);
  await chart(shot("s1", 0, "a", "serve"));
  await page.at(START + 300);
  await page.page.keyboard.press("KeyG");
  await page.page.keyboard.press("KeyG");
  await page.at(START + 2_500);
  await chart(shot("s2", 2_400, "b", "return"));
  await page.at(START + 3_650);
  await chart(shot("s3", 3_600, "a", "drop"));
  await page.page.keyboard.press("KeyH");
  await page.at(START + 6_000);
  await until("the second depth to be there", async () => {
    const depths = (await effectiveOf(host, "depths")).filter(({ kind }) => kind === "depth");
    return depths.length === 2;
  });
  const told = (await effectiveOf(host, "depths")).map(({ id, kind, team, depth }) =>
    kind === "depth" ? `${team} ${depth}` : id,
  );
  // Two taps are one depth; strokes come 0.4 s behind cues as long as nothing else is known.
  assert.deepEqual(told.slice(0, 2), ["s1", "a line"]);
  assert.equal(told.filter((one) => one.startsWith("b ")).length, 1);
  assert.deepEqual(page.errors, []);
});

test("one screen of large keys, upright and across, nothing to scroll", async (t) => {
  const header = headerFor("sizes", { points: 99, games: 1 });
  const { host, strokes, page } = await atCourt(t, header);
  await page.at(START + 50);
  await strokes.chart([shot("s1", 0, "a", "serve")]);
  for (const [width, height] of [
    [390, 844],
    [844, 390],
    [1024, 768],
    [1366, 768],
  ]) {
    await page.page.setViewportSize({ width, height });
    const { scrolls, keys } = await page.page.evaluate(() => ({
      scrolls: document.documentElement.scrollHeight > innerHeight || document.documentElement.scrollWidth > innerWidth,
      keys: [...document.querySelectorAll("[data-press]")].map((key) => {
        const { left, right, top, bottom } = key.getBoundingClientRect();
        return { what: key.dataset.press, left, right, top, bottom, clipped: key.scrollWidth > key.clientWidth + 1 };
      }),
    }));
    assert.equal(scrolls, false, `${width}×${height} scrolls`);
    assert.equal(keys.length, 11);
    for (const { what, left, right, top, bottom, clipped } of keys) {
      assert.ok(left >= 0 && top >= 0 && right <= width && bottom <= height, `${what} is off ${width}×${height}`);
      assert.ok(right - left >= 48 && bottom - top >= 44, `${what} is too small on ${width}×${height}`);
      assert.equal(clipped, false, `${what} is cut off on ${width}×${height}`);
    }
  }
  assert.equal(await host.get("/courts/1/cues").then(({ status }) => status), 200);
});
