/**
 * Live, replayed or corrected: the same chart gives the same bytes. What a host shows that has seen
 * every entry and every correction as it came is compared with a host that starts on a copy of the
 * log, with one that is brought the entries anew, and with `rallytide readings`.
 *
 * `CORRECTED_CHARTS` says how many random charts (40 unless said otherwise), `ORACLE_SEED` which
 * seed is the first.
 */
import assert from "node:assert/strict";
import { cp, readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { CORRECTION_KINDS } from "./oracle/chart.mjs";
import { Dice } from "./oracle/random-values.mjs";
import { Charter } from "./support/charter.mjs";
import { chartFile, headerFor, numbered, randomMatch } from "./support/charts.mjs";
import { forEverybody } from "./support/expected.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { linesOf } from "./support/program.mjs";
import { rawField } from "./support/raw-json.mjs";
import { Viewer } from "./support/viewer.mjs";

const CHARTS = Number(process.env.CORRECTED_CHARTS ?? 40);
const FIRST_SEED = Number(process.env.ORACLE_SEED ?? 1);

/** Entries of the chart that counts as long. */
const LONG = 1200;

const isCorrection = ({ kind }) => CORRECTION_KINDS.includes(kind);

/** A snapshot that says why it comes, without that: as anybody gets it who asks. */
const plain = (snapshot) => snapshot.replace('"reason":"corrected",', "");

/** Random charts that hold corrections, each on a court of its own. */
function correctedCharts() {
  const charts = [];
  for (let seed = FIRST_SEED; charts.length < CHARTS; seed += 1) {
    const { header, entries } = randomMatch(seed, seed % 2 === 0 ? "shots" : "mixed");
    if (!entries.some(isCorrection)) continue;
    const court = `court-${seed}`;
    charts.push({ seed, court, header: { ...header, court }, entries });
  }
  return charts;
}

/**
 * Charts a match live. After every correction the snapshot that viewers are sent is compared with
 * the one that is to be had at that moment, and what a viewer has put together from all it was sent
 * with the state at the end.
 */
async function chartLive(host, { court, header, entries }) {
  const charter = await Charter.welcomed(host, { court, chart: header });
  const viewer = await Viewer.connect(host, { court });
  await viewer.next();
  for (const [place, entry] of entries.entries()) {
    await charter.chart([entry]);
    const message = await viewer.upTo(place + 1);
    if (message.type === "snapshot")
      assert.equal(plain(viewer.lastText), await host.now(court), `${header.id}, ${entry.id}`);
  }
  const now = await host.now(court);
  assert.equal(viewer.readings(), rawField(now, "readings"), `${header.id}: what a viewer has put together`);
  assert.deepEqual(viewer.score, JSON.parse(now).score, header.id);
  await Promise.all([charter.close(), viewer.close()]);
  return now;
}

test(`${CHARTS} random charts with random corrections look the same live, restarted, brought anew and in a file`, async (t) => {
  const charts = correctedCharts();
  const live = await Host.start(t);
  const shown = new Map();
  for (const chart of charts) shown.set(chart.seed, await chartLive(live, chart));
  const corrections = charts.flatMap(({ entries }) => entries.filter(isCorrection)).length;
  t.diagnostic(`${corrections} corrections in ${charts.reduce((sum, { entries }) => sum + entries.length, 0)} entries`);

  const copy = await freshFolder(t);
  await cp(live.data, copy, { recursive: true, filter: (file) => !file.endsWith(".lock") });
  const restarted = await Host.start(t, { data: copy });
  for (const { seed, court } of charts) {
    assert.equal(await restarted.now(court), shown.get(seed), `seed ${seed}: a host that starts on the log`);
  }

  const fresh = await Host.start(t);
  for (const { seed, court, header, entries } of charts) {
    const charter = await Charter.welcomed(fresh, { court, chart: header });
    await charter.chart(entries);
    await charter.close();
    assert.equal(await fresh.now(court), shown.get(seed), `seed ${seed}: a host that is brought the entries at once`);
  }

  for (const { seed, header } of charts) {
    const readings = await linesOf(["readings", live.logFile(header.id)]);
    assert.equal(
      rawField(shown.get(seed), "readings"),
      forEverybody(readings),
      `seed ${seed}: \`readings\` of the log`,
    );
  }
});

/** A long chart of rallies as they are played, shots in turn, cues here and there. */
function longChart(dice) {
  const contents = [];
  for (let rally = 0; contents.length < LONG; rally += 1) {
    const server = rally % 2 === 0 ? "a" : "b";
    const other = server === "a" ? "b" : "a";
    const strokes = [
      "serve",
      "return",
      ...Array.from({ length: dice.between(1, 14) }, () =>
        dice.pick(["drop", "dink", "drive", "volley", "block", "reset", "speedup", "lob"]),
      ),
    ];
    strokes.forEach((stroke, place) => {
      contents.push({ kind: "shot", team: place % 2 === 0 ? server : other, stroke });
      if (dice.chance(0.2)) contents.push({ kind: "cue", cue: dice.pick(["attackable", "off_balance", "awkward"]) });
    });
    contents.push({ kind: "rally_end", won_by: dice.pick(["a", "b"]) });
  }
  return numbered(contents);
}

test("a_correction_in_the_middle_of_a_long_chart_gives_the_bytes_of_a_fresh_host", async (t) => {
  const header = headerFor("long", { points: 99, games: 5 });
  const entries = longChart(new Dice(7));
  const middle = entries.findIndex(({ kind }, place) => place > LONG / 2 && kind === "rally_end");
  const winner = entries[middle].won_by === "a" ? "b" : "a";
  const corrections = numbered(
    [
      { kind: "amend", target: entries[middle].id, with: { kind: "rally_end", won_by: winner } },
      { kind: "retract", target: entries[middle - 1].id },
      { kind: "insert", after: entries[middle - 2].id, entry: { kind: "shot", team: "a", stroke: "erne" } },
      { kind: "retract", target: `e${entries.length + 1}` },
    ],
    entries.length + 1,
  );

  const live = await Host.start(t);
  const charter = await Charter.welcomed(live, { chart: header });
  await charter.chart(entries);
  const viewer = await Viewer.connect(live);
  await viewer.next();
  const scores = [rawField(viewer.lastText, "score")];
  const folder = await freshFolder(t);
  for (const [place, correction] of corrections.entries()) {
    await charter.chart([correction]);
    const message = await viewer.next();
    assert.deepEqual([message.type, message.reason, message.revision], ["snapshot", "corrected", place + 1]);
    const snapshot = plain(viewer.lastText);
    scores.push(rawField(snapshot, "score"));

    const fresh = await Host.start(t);
    const chart = { header, entries: [...entries, ...corrections.slice(0, place + 1)] };
    const again = await Charter.welcomed(fresh, { chart: header });
    await again.chart(chart.entries);
    assert.equal(snapshot, await fresh.now(), `correction ${place + 1}: a fresh host`);
    await fresh.stop();
    const lines = await linesOf(["readings", await chartFile(folder, chart)]);
    assert.equal(rawField(snapshot, "readings"), forEverybody(lines), `correction ${place + 1}: the file`);
  }
  assert.notEqual(scores[1], scores[0], "another winner of a rally is another score");
  assert.equal(scores[4], scores[0], "and with that undone the score is what it was");
});

test("what_has_been_charted_is_never_erased_from_the_log", async (t) => {
  const { header, entries } = correctedCharts()[0];
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: header });
  let before = Buffer.alloc(0);
  for (const entry of entries) {
    await charter.chart([entry]);
    const log = await readFile(join(host.data, `${header.id}.jsonl`));
    assert.ok(log.length > before.length && log.subarray(0, before.length).equals(before), entry.id);
    before = log;
  }
  const logged = await host.logged(header.id);
  logged.forEach(({ client, seat, seq, received, crc, ...own }, place) => assert.deepEqual(own, entries[place]));
});
