/**
 * Many at once on one court: charters that record and correct at the same time, viewers that come,
 * break off and come back at random moments. In the end all have to have the same bytes, and nobody
 * may have missed or repeated a step on the way.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { Dice } from "./oracle/random-values.mjs";
import { Charter } from "./support/charter.mjs";
import { headerFor, numbered } from "./support/charts.mjs";
import { forEverybody } from "./support/expected.mjs";
import { Host } from "./support/host.mjs";
import { linesOf } from "./support/program.mjs";
import { rawField } from "./support/raw-json.mjs";
import { Viewer } from "./support/viewer.mjs";

const CHARTERS = 3;
const VIEWERS = 6;
const ENTRIES_EACH = 200;
const SEED = Number(process.env.ORACLE_SEED ?? 1);

/** What one charter records: shots, ends of rallies, and corrections of its own entries. */
function recordedBy(client, dice) {
  const own = [];
  for (let place = 1; place <= ENTRIES_EACH; place += 1) {
    const [entry] = numbered([contentFor(own, dice)], place);
    own.push({ ...entry, id: `${client}-${place}` });
  }
  return own;
}

function contentFor(own, dice) {
  const plain = own.filter(({ kind }) => !["retract", "amend", "insert"].includes(kind));
  const shot = () => ({
    kind: "shot",
    team: dice.pick(["a", "b"]),
    stroke: dice.pick(["serve", "drop", "volley", "block", "dink"]),
  });
  if (plain.length > 3 && dice.chance(0.06)) {
    const target = dice.pick(plain).id;
    return dice.pick([
      { kind: "retract", target },
      { kind: "amend", target, with: shot() },
      { kind: "insert", after: target, entry: shot() },
    ]);
  }
  return dice.chance(0.15) ? { kind: "rally_end", won_by: dice.pick(["a", "b"]) } : shot();
}

/** Brings entries in small batches, each as soon as the one before is accepted. */
async function record(charter, entries, dice) {
  for (let start = 0; start < entries.length; ) {
    const size = dice.between(1, 8);
    await charter.chart(entries.slice(start, start + size));
    start += size;
  }
}

/** Watches until position `last`; breaks off now and then and comes back with what it has seen. */
async function watch(host, match, last, dice) {
  let viewer = null;
  let returns = 0;
  while (viewer === null || viewer.seq < last) {
    if (viewer === null) {
      viewer = await Viewer.connect(host);
    } else if (dice.chance(0.02)) {
      viewer.socket.terminate();
      await viewer.comeBack(host, `?after=${viewer.seq}&match=${match}`);
      returns += 1;
    }
    const before = viewer.seq;
    const { type, seq } = await viewer.next();
    if (type === "update") assert.equal(seq, before + 1, "no step missed, none repeated");
    else assert.ok(seq >= before, `a snapshot of ${seq} after ${before}`);
  }
  await viewer.close();
  return { readings: viewer.readings(), score: viewer.score, revision: viewer.revision, returns };
}

test("charters_and_viewers_that_come_and_go_all_end_up_with_the_same_bytes", async (t) => {
  const host = await Host.start(t);
  const header = headerFor("busy", { points: 99, games: 5 });
  await (await Charter.welcomed(host, { client: "opener", chart: header })).close();
  const last = CHARTERS * ENTRIES_EACH;

  const watching = Array.from({ length: VIEWERS }, (_, place) =>
    watch(host, header.id, last, new Dice(SEED * 100 + place)),
  );
  const recording = Array.from({ length: CHARTERS }, async (_, place) => {
    const client = `charter${place}`;
    const dice = new Dice(SEED * 1000 + place);
    const charter = await Charter.welcomed(host, { client });
    await record(charter, recordedBy(client, dice), dice);
  });
  await Promise.all(recording);
  const seen = await Promise.all(watching);

  const now = await host.now();
  const { seq, revision, score } = JSON.parse(now);
  assert.equal(seq, last);
  for (const viewer of seen) {
    assert.equal(viewer.readings, rawField(now, "readings"));
    assert.deepEqual({ score: viewer.score, revision: viewer.revision }, { score, revision });
  }
  const returns = seen.reduce((sum, viewer) => sum + viewer.returns, 0);
  t.diagnostic(`${last} entries, ${revision} corrections, ${returns} viewers came back`);
  assert.ok(revision > 10 && returns > 10, "too little happened");

  await host.stop();
  const again = await Host.start(t, { data: host.data });
  assert.equal(await again.now(), now, "after a restart");
  const lines = await linesOf(["readings", host.logFile(header.id)]);
  assert.equal(rawField(now, "readings"), forEverybody(lines), "and in a file");
});
