/**
 * Two people on one court, each on a page in a browser of their own: one records the strokes, a
 * second late and unevenly so, the other one marks the cues. Each page is switched off and opened
 * again, and both at once. The cues are on their shots, and the chart is what one person would
 * have charted.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { LocalChart } from "../overlay/shared/charting/local-chart.js";
import { Typist, plain } from "../overlay/tests/support/typist.js";
import { openBrowser } from "./support/browser.mjs";
import { effectiveOf, startHost } from "./support/chart-page.mjs";
import { StrokesPage } from "./support/strokes-page.mjs";
import { CuesPage, byOnePerson, played, readingsOf, timed } from "./support/two-charters.mjs";
import { until } from "./support/wait.mjs";

/** A second late, and by how much the two people's delays differ from stroke to stroke (standard deviations). */
const HABITS = { late: 1_000, strokesSpread: 120, react: 500, cuesSpread: 100 };
const RALLIES = 16;
/** In the middle of these rallies, who is switched off. */
const SWITCHED_OFF = new Map([
  [4, ["strokes"]],
  [8, ["cues"]],
  [12, ["strokes", "cues"]],
]);

/** What the charting page asks for of a stroke or an end. */
const asked = ({ player: _, fault: __, ...entry }) => entry;

test("two pages, the strokes a second late, each switched off and opened again: one person's chart", async (t) => {
  const match = await played(3, RALLIES);
  match.strokes = match.strokes.map(asked);
  const host = await startHost(t);
  const browser = await openBrowser(t);
  const strokes = new StrokesPage(await browser.newContext({ viewport: { width: 1366, height: 768 } }), host);
  await strokes.open();
  await strokes.begin(match.header);
  const cues = new CuesPage(await browser.newContext({ viewport: { width: 844, height: 390 } }), host);
  await cues.open();
  const localChart = await LocalChart.from(await (await host.get("/chart/chart.wasm")).arrayBuffer());
  const typist = new Typist(localChart, match.header);

  /** Waits until the host has what was typed, and the other page knows of it. */
  const heard = async () => {
    const mine = async () => (await host.logged(match.header.id)).filter(({ seat }) => seat !== "cues");
    await until("the host to have the strokes", async () => (await mine()).length === typist.entries.length);
    const last = (await mine()).at(-1);
    if (last !== undefined) await cues.knows(last.seq);
  };

  let rally = 1;
  let shots = 0;
  let switchedOff = 0;
  for (const { at, stroke, cue } of timed(match, 1, HABITS)) {
    await cues.at(at);
    if (cue !== undefined) {
      await cues.mark(cue);
      continue;
    }
    const from = typist.codes.length;
    typist.type(stroke);
    await strokes.press(typist.codes.slice(from).map((code, key) => ({ code, at: typist.times[from + key] })));
    await cues.at(strokes.now);
    await heard();
    shots += 1;
    if (stroke.kind === "rally_end") [rally, shots] = [rally + 1, 0];
    if (shots !== 4) continue;
    for (const who of SWITCHED_OFF.get(rally) ?? []) {
      switchedOff += 1;
      if (who === "strokes") await strokes.killAndReopen();
      else {
        await until("the cues to be on the disk", async () => (await cues.told("kept")) === "true");
        await cues.kill();
        await cues.open();
      }
    }
  }
  assert.equal(switchedOff, 4, "every page was switched off as often as it should");
  await cues.at(cues.now + 4_000);
  await cues.saved();

  const effective = await effectiveOf(host, match.header.id);
  const withoutCues = (entries) => plain(entries.filter(({ kind }) => kind !== "cue"));
  assert.deepEqual(withoutCues(effective), withoutCues(match.strokes));
  /** Shot as it was charted → as it was played. */
  const isShot = ({ kind }) => kind === "shot";
  const as = new Map(effective.filter(isShot).map(({ id }, place) => [id, match.strokes.filter(isShot)[place].id]));
  const marked = effective.filter(({ kind }) => kind === "cue").map(({ cue, shot }) => ({ cue, about: as.get(shot) }));
  const left = marked.map(({ cue, about }) => `${about} ${cue}`);
  const right = match.cues.filter(({ cue, about }) => {
    const place = left.indexOf(`${about} ${cue}`);
    if (place >= 0) left.splice(place, 1);
    return place >= 0;
  });
  t.diagnostic(`${right.length} of ${match.cues.length} cues on the right shot`);
  assert.ok(match.cues.length >= 30, "enough cues to say so");
  assert.equal(marked.length, match.cues.length, "nothing is lost, and none is there twice");
  assert.ok(right.length / match.cues.length >= 0.95, `only ${right.length} of ${match.cues.length}`);
  const log = await readFile(host.logFile(match.header.id), "utf8");
  assert.deepEqual(await readingsOf(log), await readingsOf(byOnePerson({ ...match, cues: marked })));
  assert.deepEqual([...strokes.errors, ...cues.errors], []);
});
