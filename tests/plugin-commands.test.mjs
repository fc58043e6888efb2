/**
 * What plugin authors do, from the first command to readings: new, test, build, check, try, and what
 * they are told on the way when something is not as it should be.
 *
 * The project is made and built once, with plain cargo; its dependencies come from the registry.
 */
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdir, mkdtemp, readFile, readdir, rename, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { DEMO_MATCH } from "./support/charts.mjs";
import { freshFolder } from "./support/folders.mjs";
import { RALLYTIDE, asLines, collected, environment, linesOf, rallytide } from "./support/program.mjs";
import { inTime, until } from "./support/wait.mjs";

const BUILD_MS = 300_000;
const WASM = "target/wasm32-unknown-unknown/release/long_rallies_plugin.wasm";

let folder;
let project;
let built;

before(async () => {
  folder = await mkdtemp(join(tmpdir(), "rallytide-plugin-"));
  project = join(folder, "long-rallies");
  built = join(project, WASM);
  await linesOf(["plugin", "new", "long-rallies", "--dir", project]);
  await cargo(project, ["build", "--quiet", "--release", "--target", "wasm32-unknown-unknown"]);
});
after(() => rm(folder, { recursive: true, force: true }));

/** Runs cargo as an author would, with nothing of the tests' own surroundings. */
async function cargo(cwd, args) {
  const { CARGO_TARGET_DIR: _, RUSTFLAGS: __, ...env } = process.env;
  const child = spawn("cargo", args, { cwd, env, stdio: "pipe" });
  const stdout = collected(child.stdout);
  const stderr = collected(child.stderr);
  const ended = new Promise((resolve, reject) => child.on("error", reject).on("close", resolve));
  try {
    const status = await inTime(`\`cargo ${args.join(" ")}\` to end`, ended, { within: BUILD_MS, seen: stderr });
    assert.equal(status, 0, `cargo ${args.join(" ")}: ${stdout()}${stderr()}`);
    return stdout();
  } finally {
    child.kill("SIGKILL");
  }
}

/** A command that has to fail: with this status, a sentence on stderr that names these words. */
async function fails(status, args, named) {
  const outcome = await rallytide(args);
  const shown = `rallytide ${args.join(" ")}: ${JSON.stringify(outcome)}`;
  assert.equal(outcome.status, status, shown);
  assert.match(outcome.stderr, /^error: \S.{8,}/m, shown);
  for (const word of named) assert.ok(outcome.stderr.includes(word), `\`${word}\` is not named: ${shown}`);
  return outcome;
}

const STEP = "fn step(&mut self, moment: &Moment) {";
const READINGS = "fn readings(&self, readings: &mut Readings) {";

/** A plugin's project that is the new one with more in `step`, or in another function. */
async function variant(t, name, more, head = STEP) {
  const made = join(await freshFolder(t), name);
  await linesOf(["plugin", "new", name, "--dir", made]);
  const file = join(made, "src/lib.rs");
  const source = await readFile(file, "utf8");
  assert.ok(source.includes(head), source);
  await writeFile(file, source.replace(head, `${head}\n        ${more}`));
  // The dependencies are built already, for the project of all tests.
  const target = join(project, "target");
  const args = ["build", "--quiet", "--release", "--target", "wasm32-unknown-unknown", "--target-dir", target];
  await cargo(made, args);
  return join(target, "wasm32-unknown-unknown/release", `${name.replaceAll("-", "_")}_plugin.wasm`);
}

test("a_new_project_passes_its_own_tests", async () => {
  const said = await cargo(project, ["test"]);
  assert.match(said, /test result: ok\. 3 passed/);
});

test("a_new_plugin_passes_the_check_which_says_what_it_is_and_takes", async () => {
  const lines = await linesOf(["plugin", "check", built]);
  const text = lines.join("\n");
  assert.match(text, /^long-rallies 0\.1\.0: \S/);
  assert.match(text, /provides +long_rallies\.won$/m);
  assert.match(text, /setting +shots: a whole number from 2 to 60, 10 unless set/);
  assert.match(text, /entries +fuel [1-9]\d+, [1-9]\d* each$/m);
  assert.match(text, /dearest +fuel [1-9]\d* of 10000000, at entry `\S+`$/m);
  assert.match(text, /memory +[1-9]\d* of 33554432 bytes at the end$/m);
  const again = await rallytide(["plugin", "check", built]);
  assert.deepEqual(asLines(again.stdout), lines, "all of it is counted, none timed");
  assert.match(again.stderr, /^on this machine: \d+ µs for all of it, \d+ µs for the longest call$/m);
});

test("a_check_can_be_made_on_a_chart_of_ones_own", async () => {
  const text = (await linesOf(["plugin", "check", built, "--on", DEMO_MATCH])).join("\n");
  assert.ok(text.includes(`on \`${DEMO_MATCH}\``), text);
});

test("try_prints_the_final_readings_of_the_plugin_and_of_no_other", async () => {
  const readings = (await linesOf(["plugin", "try", built, DEMO_MATCH])).map((line) => JSON.parse(line));
  assert.deepEqual(
    readings.map(({ indicator, team }) => [indicator, team]),
    [
      ["long_rallies.won", "a"],
      ["long_rallies.won", "b"],
    ],
  );
  const [a, b] = readings.map(({ value }) => value);
  assert.equal(a.part + b.part, a.whole);
  assert.ok(a.whole > 0);
});

test("try_gives_the_bytes_that_a_host_with_the_file_in_its_plugin_folder_gives", async (t) => {
  const plugins = await freshFolder(t);
  await writeFile(join(plugins, "long.wasm"), await readFile(built));
  const host = await linesOf(["readings", DEMO_MATCH, "--plugins", plugins, "--only", "long_rallies.won"]);
  assert.deepEqual(await linesOf(["plugin", "try", built, DEMO_MATCH]), host);
  const each = ["--each", "--only", "long_rallies.won", "--plugins", plugins];
  const hostEach = await linesOf(["readings", DEMO_MATCH, ...each]);
  assert.deepEqual(await linesOf(["plugin", "try", built, DEMO_MATCH, "--each"]), hostEach);
});

test("a_setting_given_to_try_counts", async () => {
  const whole = async (shots) => {
    const [line] = await linesOf(["plugin", "try", built, DEMO_MATCH, "--set", `shots=${shots}`]);
    return JSON.parse(line).value.whole;
  };
  assert.ok((await whole(2)) > (await whole(20)));
});

test("settings_that_do_not_fit_are_wrong_usage", async () => {
  const tried = (set) => ["plugin", "try", built, DEMO_MATCH, "--set", set];
  await fails(2, tried("shots=99"), ["shots", "99", "from 2 to 60"]);
  await fails(2, tried("shots=many"), ["many", "from 2 to 60"]);
  await fails(2, tried("length=3"), ["length", "`shots`"]);
  await fails(2, tried("shots"), ["shots"]);
});

test("a_panic_is_told_with_its_message_place_and_entry", async (t) => {
  const wasm = await variant(t, "brittle", 'assert!(moment.score.rallies < 3, "three is too many");');
  for (const args of [
    ["check", wasm],
    ["try", wasm, DEMO_MATCH],
  ]) {
    await fails(1, ["plugin", ...args], ["brittle", "three is too many", "src/lib.rs", "at entry", "panicked"]);
  }
});

test("an_endless_loop_is_told_as_fuel_used_up", async (t) => {
  const wasm = await variant(t, "endless", "loop { std::hint::black_box(&moment); }");
  await fails(1, ["plugin", "check", wasm], ["endless", "out_of_fuel", "hint: look for a loop"]);
});

test("an_indicator_that_is_not_declared_is_told_with_what_to_add", async (t) => {
  const slip = 'readings.set(rallytide_plugin_kit::key("slip.best"), rallytide_plugin_kit::Value::Count(1));';
  const wasm = await variant(t, "slip", slip, READINGS);
  for (const args of [
    ["check", wasm],
    ["try", wasm, DEMO_MATCH],
  ]) {
    await fails(1, ["plugin", ...args], ["slip", "`slip.best`", "undeclared_indicator", "hint: in Rust: add it"]);
  }
});

test("a_made_up_match_is_told_with_how_to_see_it", async () => {
  const [own, made] = await Promise.all([linesOf(["plugin", "check", built]), linesOf(["simulate", "--seed", "1"])]);
  const text = own.join("\n");
  assert.match(text, /^on a made-up match \(`rallytide simulate --seed 1`\), \d+ entries:$/m);
  const [, entry] = text.match(/at entry `(\S+)`/);
  assert.ok(
    made.some((line) => line.includes(`"${entry}"`)),
    entry,
  );
});

test("what_a_plugin_logs_goes_to_the_standard_error_of_try_and_into_the_check", async (t) => {
  const log =
    'if moment.score.rallies == 1 { rallytide_plugin_kit::log(rallytide_plugin_kit::Severity::Info, "one down"); }';
  const wasm = await variant(t, "chatty", log);
  const { status, stdout, stderr } = await rallytide(["plugin", "try", wasm, DEMO_MATCH]);
  assert.equal(status, 0, stderr);
  assert.match(stderr, /^chatty: info at \d+: one down$/m);
  assert.doesNotMatch(stdout, /one down/);
  assert.match((await linesOf(["plugin", "check", wasm])).join("\n"), /^ +info at \d+: one down$/m);
});

test("a_file_that_is_no_plugin_is_refused_with_what_to_change", async (t) => {
  const file = join(await freshFolder(t), "words.wasm");
  await writeFile(file, "not a plugin");
  await fails(1, ["plugin", "check", file], [file, "no WebAssembly", "hint: "]);
  await fails(1, ["plugin", "try", file, DEMO_MATCH], [file, "hint: "]);
});

test("files_that_are_not_there_are_something_outside", async () => {
  await fails(3, ["plugin", "check", "/nowhere/x.wasm"], ["/nowhere/x.wasm", "hint: "]);
  await fails(3, ["plugin", "try", built, "/nowhere/chart.jsonl"], ["/nowhere/chart.jsonl", "hint: "]);
  await fails(3, ["plugin", "try", "/nowhere/x.wasm", DEMO_MATCH, "--watch"], ["/nowhere", "hint: "]);
  await fails(3, ["plugin", "new", "tilt", "--dir", "/nowhere/tilt"], ["/nowhere/tilt", "hint: "]);
});

test("a_name_that_no_plugin_may_have_is_wrong_usage_and_nothing_is_written", async (t) => {
  const here = await freshFolder(t);
  for (const name of ["Tilt", "2tilt", "a_b", "../tilt"]) {
    await fails(2, ["plugin", "new", name, "--dir", join(here, "made")], [`\`${name}\``, "lower case"]);
  }
  assert.deepEqual(await readdir(here), []);
});

test("a_folder_that_exists_is_refused_and_left_as_it_is", async (t) => {
  const here = await freshFolder(t);
  const taken = join(here, "tilt");
  await mkdir(taken);
  await fails(3, ["plugin", "new", "tilt", "--dir", taken], [taken, "hint: "]);
  assert.deepEqual(await readdir(taken), []);
});

test("watch_runs_again_at_each_build_and_waits_out_a_broken_one", async (t) => {
  const here = await freshFolder(t);
  const file = join(here, "plugin.wasm");
  const good = await readFile(built);
  /** As cargo does: whole, under another name, then into its place. */
  const put = async (bytes) => {
    await writeFile(join(here, "next"), bytes);
    await rename(join(here, "next"), file);
  };
  await put(good);
  const child = spawn(RALLYTIDE, ["plugin", "try", file, DEMO_MATCH, "--watch"], { env: environment(), stdio: "pipe" });
  t.after(() => child.kill("SIGKILL"));
  const stdout = collected(child.stdout);
  const stderr = collected(child.stderr);
  const seen = () => ({ stdout: stdout().slice(-500), stderr: stderr().slice(-1000) });
  const lines = (count) => until(`${count} lines`, () => asLinesSoFar(stdout()).length === count, { seen });
  await lines(2);
  await until("the file to be watched", () => stderr().includes("watching"), { seen });
  await put(Buffer.from("half a file"));
  await until("the refusal", () => stderr().includes("no WebAssembly"), { seen });
  await put(good);
  await lines(4);
  const [a, b, again, andAgain] = asLines(stdout());
  assert.deepEqual([again, andAgain], [a, b]);
});

/** The whole lines of what may end in the middle of one. */
function asLinesSoFar(text) {
  return asLines(text.slice(0, text.lastIndexOf("\n") + 1));
}
