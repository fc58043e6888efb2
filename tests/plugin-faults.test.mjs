/**
 * Plugins at fault in the running host: what they published is withdrawn at that entry, everybody
 * else goes on, and after three faults in one match they are switched off for it.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { headerFor, numbered } from "./support/charts.mjs";
import { freshFolder } from "./support/folders.mjs";
import { PluginReport, guest, put } from "./support/guests.mjs";
import { Host } from "./support/host.mjs";
import { Viewer } from "./support/viewer.mjs";

const shot = { kind: "shot", team: "a", stroke: "serve" };
const note = { kind: "note", text: "the wind turns" };

/** A host with these files in its plugin folder, a charter and a viewer on court 1. */
async function hostWith(t, files, { data, id = "faults", begin = true } = {}) {
  const folder = files === null ? null : await freshFolder(t);
  for (const [file, name] of Object.entries(files ?? {})) await put(folder, file, await guest(name));
  return serving(t, { folder, data: data ?? (await freshFolder(t)), id, begin });
}

async function serving(t, { folder, data, id, begin = true }) {
  const plugins = folder === null ? [] : ["--plugins", folder];
  const command = ["serve", "--listen", "127.0.0.1:0", "--data", data, ...plugins];
  const host = await Host.start(t, { data, command });
  const charter = begin ? await Charter.welcomed(host, { chart: headerFor(id) }) : null;
  const viewer = await Viewer.connect(host);
  await viewer.next();
  return { host, folder, data, charter, viewer, report: new PluginReport(host) };
}

const indicators = (viewer) => new Set(JSON.parse(viewer.readings()).map(({ indicator }) => indicator));

/** The readings without those of one plugin, as they came. */
const without = (viewer, plugin) =>
  JSON.parse(viewer.readings())
    .filter((reading) => reading.plugin !== plugin)
    .map((reading) => JSON.stringify(reading));

for (const [name, kind] of [
  ["endless", "out_of_fuel"],
  ["hungry", "out_of_memory"],
  ["lying", "impossible_value"],
]) {
  test(`${name}_is_stopped_its_readings_are_withdrawn_and_the_entry_reaches_everybody`, async (t) => {
    const hostile = await hostWith(t, { [`${name}.wasm`]: name });
    const peaceful = await hostWith(t, null);
    const entries = numbered([
      shot,
      { ...shot, team: "b", stroke: "return" },
      { ...shot, stroke: "drop" },
      { kind: "rally_end", how: "net", by: "a" },
    ]);
    for (const [place, entry] of entries.entries()) {
      for (const { charter } of [hostile, peaceful]) await charter.chart([entry]);
      const message = await hostile.viewer.upTo(place + 1);
      await peaceful.viewer.upTo(place + 1);
      assert.equal(message.type, "update");
      assert.equal(message.entry.id, entry.id, "the entry reaches the feed");
      assert.deepEqual(without(hostile.viewer, name), without(peaceful.viewer, name), "the others say the same");
      assert.equal(indicators(hostile.viewer).has(`${name}.entries`), place < 2, "withdrawn at once");
      if (place === 2) {
        assert.deepEqual(
          message.gone.map(({ indicator }) => indicator),
          [`${name}.entries`],
        );
        assert.deepEqual(
          message.unavailable.map(({ plugin }) => plugin),
          [name],
        );
      }
    }
    const seen = await hostile.report.onCourt(name);
    assert.equal(seen.state, "stopped");
    assert.deepEqual([seen.fault.kind, seen.fault.entry], [kind, "e3"]);
    assert.deepEqual([seen.faults, seen.switched_off_by_faults], [1, false]);
    assert.equal(seen.last_fault.kind, kind);
    assert.equal(seen.last_fault.entry, "e3");
    assert.match(seen.last_fault.message, /was stopped at entry `e3`: \S/);
  });
}

test("the_report_says_of_every_plugin_on_a_court_how_it_fares", async (t) => {
  const { charter, report } = await hostWith(t, { "tally.wasm": "tally_one" });
  await charter.chart(numbered([shot]));
  const { courts } = await report.read();
  assert.ok(courts["1"].length > 5, "the first-party plugins, too");
  for (const plugin of courts["1"]) {
    assert.equal(plugin.state, "running", JSON.stringify(plugin));
    assert.match(plugin.version, /^\d+\.\d+\.\d+$/);
    assert.match(plugin.sha256, /^[0-9a-f]{64}$/);
    const calls = plugin.id === "tally" ? [2] : [1, 2];
    assert.ok(calls.includes(plugin.calls), "the start, and one entry for those called for shots");
    assert.ok(plugin.fuel > 0 && plugin.fuel >= plugin.most_fuel);
    assert.ok(Number.isInteger(plugin.time_us) && plugin.time_us >= plugin.most_time_us);
    assert.ok(plugin.memory_bytes > 0);
    assert.deepEqual([plugin.faults, plugin.last_fault, plugin.switched_off_by_faults], [0, null, false]);
  }
});

/** Charts a note, at which `brittle` breaks, and takes it back; gives the revision at the end. */
async function breakAndMend({ charter, viewer }, turn) {
  const [broken, mended] = numbered([note, { kind: "retract", target: `e${2 * turn}` }], 2 * turn);
  await charter.chart([broken]);
  await viewer.upTo(2 * turn);
  const whileBroken = indicators(viewer).has("brittle.entries");
  await charter.chart([mended]);
  await viewer.upTo(2 * turn + 1);
  return { whileBroken, afterwards: indicators(viewer).has("brittle.entries") };
}

/** A host on which `brittle` has been at fault three times in its match. */
async function thriceBroken(t) {
  const live = await hostWith(t, { "brittle.wasm": "brittle" });
  await live.charter.chart(numbered([shot]));
  await live.viewer.upTo(1);
  for (const turn of [1, 2]) {
    assert.deepEqual(
      await breakAndMend(live, turn),
      { whileBroken: false, afterwards: true },
      "a re-run brings it back",
    );
    const seen = await live.report.onCourt("brittle");
    assert.deepEqual([seen.state, seen.faults, seen.switched_off_by_faults], ["running", turn, false]);
  }
  assert.deepEqual(await breakAndMend(live, 3), { whileBroken: false, afterwards: false });
  return live;
}

function assertSwitchedOff(seen) {
  assert.deepEqual([seen.state, seen.faults, seen.switched_off_by_faults], ["switched_off", 3, true]);
  assert.equal(seen.calls, 0, "it is not run any more");
  assert.match(seen.why, /switched off for this match after 3 faults; the last one: .*`e6`.*cannot read/);
  assert.deepEqual([seen.last_fault.kind, seen.last_fault.entry], ["panicked", "e6"]);
}

test("a_plugin_is_restarted_by_a_re_run_and_switched_off_after_three_faults_in_one_match", async (t) => {
  const live = await thriceBroken(t);
  assertSwitchedOff(await live.report.onCourt("brittle"));
  assert.equal(live.viewer.revision, 4, "three corrections, and switching it off");
  const [unavailable] = live.viewer.last.unavailable;
  assert.equal(unavailable.plugin, "brittle");
  assert.match(unavailable.message, /switched off/);
  const peaceful = await hostWith(t, null);
  const { entries } = {
    entries: (await live.host.logged("faults")).map(({ client, seq, received, crc, ...own }) => own),
  };
  await peaceful.charter.chart(entries);
  await peaceful.viewer.upTo(entries.length);
  assert.deepEqual(without(live.viewer, "brittle"), without(peaceful.viewer, "brittle"));
});

test("faults_are_counted_for_each_match_of_its_own", async (t) => {
  const live = await thriceBroken(t);
  const other = await Charter.welcomed(live.host, { court: "2", chart: headerFor("another", {}, { court: "2" }) });
  await other.chart(numbered([shot]));
  const seen = await live.report.onCourt("brittle", "2");
  assert.deepEqual([seen.state, seen.faults], ["running", 0]);
  assertSwitchedOff(await live.report.onCourt("brittle", "1"));
});

test("a_host_that_starts_again_neither_forgets_nor_adds_a_fault", async (t) => {
  const live = await thriceBroken(t);
  const before = JSON.parse(await live.host.now());
  await live.host.stop();
  const again = await serving(t, { folder: live.folder, data: live.data, begin: false });
  assertSwitchedOff(await again.report.onCourt("brittle"));
  assert.deepEqual(JSON.parse(await again.host.now()).readings, before.readings);
  // A match whose fault is still there is run anew at every start, and counts it once.
  const other = await Charter.welcomed(again.host, { court: "2", chart: headerFor("another", {}, { court: "2" }) });
  await other.chart(numbered([shot, note]));
  assert.equal((await again.report.onCourt("brittle", "2")).faults, 1);
  await again.host.stop();
  const third = await serving(t, { folder: live.folder, data: live.data, begin: false });
  const seen = await third.report.onCourt("brittle", "2");
  assert.deepEqual([seen.state, seen.faults], ["stopped", 1]);
});

test("switching_it_on_by_hand_gives_it_a_new_chance_on_a_chart_that_it_can_run", async (t) => {
  const live = await thriceBroken(t);
  assert.equal((await live.report.switch("brittle", true)).status, 204);
  await live.viewer.next();
  assert.ok(indicators(live.viewer).has("brittle.entries"));
  const seen = await live.report.onCourt("brittle");
  assert.deepEqual([seen.state, seen.faults, seen.switched_off_by_faults], ["running", 0, false]);
});

test("switching_it_on_is_refused_as_long_as_it_fails_on_the_chart", async (t) => {
  const live = await thriceBroken(t);
  await live.charter.chart(numbered([note], 8));
  const refused = await live.report.switch("brittle", true);
  assert.equal(refused.status, 422);
  assert.match(await refused.text(), /cannot read/);
  assertSwitchedOff(await live.report.onCourt("brittle"));
});

test("a_new_version_of_its_file_begins_at_nought", async (t) => {
  const live = await thriceBroken(t);
  await put(live.folder, "brittle.wasm", await guest("brittle_mended"));
  await live.report.attempt(2);
  await live.viewer.next();
  const seen = await live.report.onCourt("brittle");
  assert.deepEqual([seen.version, seen.state, seen.faults], ["1.0.1", "running", 0]);
  assert.ok(indicators(live.viewer).has("brittle.entries"));
});
