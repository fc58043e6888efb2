/**
 * Plugins that come, change and go while a match is being charted: the real program watches a real
 * folder, a charter sends entries, a viewer puts together what it is sent.
 *
 * After every change: no entry is lost, `revision` has been raised once, and the readings are those
 * of a program that starts afresh on the same chart and folder.
 */
import assert from "node:assert/strict";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { chartFile, headerFor, numbered } from "./support/charts.mjs";
import { forEverybody } from "./support/expected.mjs";
import { freshFolder } from "./support/folders.mjs";
import { PluginReport, guest, put, remove } from "./support/guests.mjs";
import { Host } from "./support/host.mjs";
import { asLines, rallytide } from "./support/program.mjs";
import { Viewer } from "./support/viewer.mjs";

/** Two shots and the end of a rally, over and over. */
const rally = [
  { kind: "shot", team: "a", stroke: "serve" },
  { kind: "shot", team: "b", stroke: "return" },
  { kind: "rally_end", how: "net", by: "b" },
];

/** A host with a plugin folder, a match being charted on court 1, and somebody who watches it. */
class Live {
  static async start(t, id) {
    const live = new Live();
    live.folder = await freshFolder(t);
    live.elsewhere = await freshFolder(t);
    live.data = await freshFolder(t);
    live.header = headerFor(id);
    const command = ["serve", "--listen", "127.0.0.1:0", "--data", live.data, "--plugins", live.folder];
    live.host = await Host.start(t, { data: live.data, command });
    live.report = new PluginReport(live.host);
    live.charter = await Charter.welcomed(live.host, { chart: live.header });
    live.viewer = await Viewer.connect(live.host);
    await live.viewer.next();
    live.recorded = [];
    live.revision = 0;
    live.attempts = 0;
    return live;
  }

  /** Charts some entries more; each of them reaches the viewer. */
  async chart(count = 4) {
    const first = this.recorded.length + 1;
    const contents = Array.from({ length: count }, (_, place) => rally[(first - 1 + place) % rally.length]);
    const entries = numbered(contents, first);
    const answers = await this.charter.chart(entries);
    assert.deepEqual(
      answers.map(({ seq }) => seq),
      entries.map((_, place) => first + place),
    );
    for (const entry of entries) {
      const message = await this.viewer.upTo(first + entries.indexOf(entry));
      assert.equal(message.type, "update");
      assert.equal(message.entry.id, entry.id);
      assert.equal(message.revision, this.revision, `${entry.id}: no other change than those made here`);
    }
    this.recorded.push(...entries);
  }

  /** Puts a file in and waits until the host has said what became of it. */
  async put(file, bytes, outcome) {
    await put(this.folder, file, bytes);
    return this.tried(file, outcome);
  }

  async remove(file) {
    await remove(this.folder, file);
    return this.tried(file, "removed");
  }

  /** The next attempt is about this file and had this outcome. */
  async tried(file, outcome) {
    this.attempts += 1;
    const attempt = await this.report.attempt(this.attempts);
    assert.equal(attempt.file, file, JSON.stringify(attempt));
    assert.equal(attempt.outcome, outcome, JSON.stringify(attempt));
    return attempt;
  }

  /** One snapshot comes, with the next revision; what it shows is what a fresh start shows. */
  async changed(waiting) {
    this.revision += 1;
    const message = await this.viewer.next("the snapshot after a change of plugins");
    assert.equal(message.type, "snapshot");
    assert.equal(message.reason, "plugins");
    assert.equal(message.revision, this.revision);
    assert.equal(message.seq, this.recorded.length);
    await this.asAfresh(waiting);
  }

  /**
   * The viewer sees what a program computes that starts afresh on the same chart and folder.
   * @param {string} [waiting] a plugin whose readings are not to be had, which the program says
   */
  async asAfresh(waiting) {
    const file = await chartFile(this.elsewhere, { header: this.header, entries: this.recorded });
    const { status, stdout, stderr } = await rallytide(["readings", file, "--plugins", this.folder]);
    assert.equal(status, waiting === undefined ? 0 : 1, stderr);
    if (waiting !== undefined) assert.ok(stderr.includes(`the plugin \`${waiting}\` waits for`), stderr);
    assert.equal(this.viewer.readings(), forEverybody(asLines(stdout)));
  }

  /** The value of a reading about the match. */
  value(indicator) {
    const readings = JSON.parse(this.viewer.readings());
    return readings.find((one) => one.indicator === indicator && one.team === null)?.value;
  }
}

test("a_plugin_can_be_added_replaced_and_removed_while_a_match_is_charted", async (t) => {
  const live = await Live.start(t, "reload");
  await live.chart(5);
  await live.asAfresh();

  await live.put("tally.wasm", await guest("tally_one"), "taken");
  await live.changed();
  assert.deepEqual(live.value("tally.entries"), { type: "count", n: 5 });
  await live.chart(4);
  await live.asAfresh();

  const taken = await live.put("tally.wasm", await guest("tally_ten"), "taken");
  assert.deepEqual([taken.plugin, taken.version], ["tally", "2.0.0"]);
  await live.changed();
  assert.deepEqual(live.value("tally.entries"), { type: "count", n: 90 });
  await live.chart(4);
  await live.asAfresh();

  await live.remove("tally.wasm");
  await live.changed();
  assert.equal(live.value("tally.entries"), undefined);
  await live.chart(4);
  await live.asAfresh();
});

test("a_faulty_version_is_turned_down_with_its_reason_and_the_old_one_goes_on", async (t) => {
  const live = await Live.start(t, "turned-down");
  await live.put("tally.wasm", await guest("tally_ten"), "taken");
  await live.changed();
  await live.chart(5);

  const attempt = await live.put("tally.wasm", await guest("tally_broken"), "turned_down");
  assert.equal(attempt.version, "3.0.0");
  assert.match(attempt.message, /`tally` was stopped at entry `e3`: it panicked .*three is too many/);
  assert.match(attempt.hint, /the plugin's sources/);
  await live.chart(4);
  assert.deepEqual(live.value("tally.entries"), { type: "count", n: 90 });
  const running = await live.report.onCourt("tally");
  assert.deepEqual([running.version, running.state, running.faults], ["2.0.0", "running", 0]);

  await live.put("tally.wasm", await guest("tally_one"), "taken");
  await live.changed();
  assert.deepEqual(live.value("tally.entries"), { type: "count", n: 9 });
});

test("what_became_of_a_file_is_in_the_log", async (t) => {
  const [data, folder] = [await freshFolder(t), await freshFolder(t)];
  await put(folder, "early.wasm", "no plugin");
  const command = ["serve", "--listen", "127.0.0.1:0", "--data", data, "--plugins", folder];
  const host = await Host.start(t, { data, command, env: { RALLYTIDE_LOG: "info" } });
  const report = new PluginReport(host);
  await put(folder, "tally.wasm", await guest("tally_ten"));
  await report.attempt(2);
  await put(folder, "notes.wasm", "not a plugin");
  await report.attempt(3);
  await remove(folder, "tally.wasm");
  await report.attempt(4);
  const logged = host.stderr();
  assert.match(logged, /INFO a plugin file runs from now on file="tally\.wasm" plugin="tally" version="2\.0\.0"/);
  assert.match(
    logged,
    /WARN a plugin file is refused file="notes\.wasm" reason="[^"]*no WebAssembly[^"]*" hint="[^"]+"/,
  );
  assert.match(logged, /INFO a plugin file is gone file="tally\.wasm" plugin="tally" version="2\.0\.0"/);
  assert.match(logged, /warning: the plugin file `early\.wasm` is left out: .*\nhint: /);
  assert.equal(logged.split("early.wasm").length, 3, `what lay there at the start is said once: ${logged}`);
});

test("a_half_written_file_is_refused_and_what_ran_goes_on_until_it_is_whole", async (t) => {
  const live = await Live.start(t, "half-written");
  await live.put("tally.wasm", await guest("tally_one"), "taken");
  await live.changed();
  await live.chart(3);

  const whole = await guest("tally_ten");
  const path = join(live.folder, "tally.wasm");
  await writeFile(path, whole.subarray(0, whole.length / 2));
  const attempt = await live.tried("tally.wasm", "refused");
  assert.ok(attempt.message.length > 20, attempt.message);
  assert.match(attempt.hint, /copy it again/);
  await live.chart(3);
  assert.deepEqual(live.value("tally.entries"), { type: "count", n: 6 });

  await writeFile(path, whole.subarray(whole.length / 2), { flag: "a" });
  await live.tried("tally.wasm", "taken");
  await live.changed();
  assert.deepEqual(live.value("tally.entries"), { type: "count", n: 60 });
  await live.chart(3);
  await live.asAfresh();
});

test("a_file_takes_the_place_of_a_first_party_plugin_which_is_back_when_the_file_goes", async (t) => {
  const live = await Live.start(t, "own-rally");
  await live.chart(5);
  const own = live.value("rally.shots");
  assert.deepEqual(own, { type: "count", n: 2 });

  await live.put("rally.wasm", await guest("rally_of_ones_own"), "taken");
  await live.changed();
  assert.deepEqual(live.value("rally.shots"), { type: "count", n: 4000 });
  const registry = async () => {
    const { plugins } = await live.report.read();
    return plugins.filter(({ id }) => id === "rally").map(({ built_in, version }) => [built_in, version]);
  };
  assert.deepEqual(await registry(), [[false, "9.0.0"]]);
  await live.chart(2);
  await live.asAfresh();

  await live.remove("rally.wasm");
  await live.changed();
  assert.deepEqual(
    (await registry()).map(([builtIn]) => builtIn),
    [true],
  );
  await live.chart(2);
  assert.equal(live.value("rally.shots").n, 2);
  await live.asAfresh();
});

test("a_plugin_whose_source_has_gone_waits_and_is_back_with_it", async (t) => {
  const live = await Live.start(t, "suspended");
  await live.put("tally.wasm", await guest("tally_one"), "taken");
  await live.changed();
  await live.put("twice.wasm", await guest("tally_twice"), "taken");
  await live.changed();
  await live.chart(4);
  assert.deepEqual(live.value("tally_twice.entries"), { type: "count", n: 8 });

  await live.remove("tally.wasm");
  await live.changed("tally-twice");
  assert.equal(live.value("tally_twice.entries"), undefined);
  const waiting = await live.report.onCourt("tally-twice");
  assert.equal(waiting.state, "suspended");
  assert.deepEqual(waiting.missing, [{ indicator: "tally.entries", suspended: null }]);
  const unavailable = live.viewer.last.unavailable.map(({ plugin, message }) => [plugin, message]);
  assert.deepEqual(unavailable, [
    ["tally-twice", "the plugin `tally-twice` waits for `tally.entries`, which no plugin provides"],
  ]);
  await live.chart(3);

  await live.put("tally.wasm", await guest("tally_ten"), "taken");
  await live.changed();
  assert.deepEqual(live.value("tally_twice.entries"), { type: "count", n: 140 });
  assert.equal(live.viewer.last.unavailable, undefined);
  await live.chart(3);
  await live.asAfresh();
});

test("no_entry_is_lost_while_plugins_change_under_a_charter_that_does_not_stop", async (t) => {
  const live = await Live.start(t, "meanwhile");
  const versions = [await guest("tally_one"), await guest("tally_ten")];
  const charted = numbered(Array.from({ length: 60 }, (_, place) => rally[place % rally.length]));
  const changes = (async () => {
    for (let turn = 0; turn < 4; turn += 1) {
      await put(live.folder, "tally.wasm", versions[turn % 2]);
      await live.tried("tally.wasm", "taken");
    }
  })();
  let done = false;
  const changed = changes.finally(() => {
    done = true;
  });
  let place = 0;
  while (place < charted.length) {
    const [answer] = await live.charter.chart([charted[place]]);
    assert.equal(answer.seq, place + 1);
    place += 1;
    // Most of the entries meet a change of plugins, whatever the machine does.
    if (!done && place % 12 === 0) await live.report.attempt(Math.min(4, place / 12));
  }
  await changed;
  while (live.viewer.seq < charted.length || live.viewer.revision < 4) await live.viewer.next();
  assert.equal(live.viewer.revision, 4);
  live.recorded = charted;
  await live.asAfresh();
  const logged = await live.host.logged(live.header.id);
  assert.deepEqual(
    logged.map(({ id }) => id),
    charted.map(({ id }) => id),
  );
});
