/**
 * The commands: help, exit status, what goes to stdout and what to stderr, and what they do with
 * input, files and places that are not as they should be. Nothing may panic.
 *
 * Exit status: 0 done, 1 the input is at fault, 2 wrong usage, 3 something outside.
 */
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdir, readFile, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { Dice } from "./oracle/random-values.mjs";
import { runOver } from "./support/batches.mjs";
import { Charter } from "./support/charter.mjs";
import {
  DEMO_MATCH,
  chartFile,
  chartText,
  demoMatch,
  demoStreams,
  headerFor,
  numbered,
  rallies,
} from "./support/charts.mjs";
import { forEverybody } from "./support/expected.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { RALLYTIDE, asLines, environment, linesOf, rallytide } from "./support/program.mjs";
import { rawField } from "./support/raw-json.mjs";
import { inTime, until } from "./support/wait.mjs";

const COMMANDS = ["serve", "demo", "feed", "score", "readings", "check", "export", "agree", "simulate", "plugin"];

/** Runs a command and looks at what every one of them has to keep to. */
async function run(args, options) {
  const outcome = await rallytide(args, options);
  const shown = `rallytide ${args.join(" ")}: ${JSON.stringify(outcome)}`;
  assert.equal(outcome.signal, null, shown);
  assert.doesNotMatch(outcome.stderr, /panicked|RUST_BACKTRACE/, shown);
  assert.ok(!`${outcome.stdout}${outcome.stderr}`.includes("\u001b"), `no colors where nobody looks: ${shown}`);
  return { ...outcome, shown };
}

/** A command that has to fail: with this status, nothing on stdout, a sentence on stderr. */
async function fails(status, args, named, options) {
  const outcome = await run(args, options);
  assert.equal(outcome.status, status, outcome.shown);
  assert.equal(outcome.stdout, "", outcome.shown);
  assert.match(outcome.stderr, /^error: \S.{8,}/m, outcome.shown);
  for (const word of named) assert.ok(outcome.stderr.includes(word), `\`${word}\` is not named: ${outcome.shown}`);
  return outcome;
}

test("the_program_lists_its_commands", async () => {
  const { status, stdout } = await run(["--help"]);
  assert.equal(status, 0);
  for (const command of COMMANDS) assert.match(stdout, new RegExp(`^ +${command} +\\w`, "m"));
});

for (const command of COMMANDS) {
  test(`${command} explains itself`, async () => {
    const { status, stdout, stderr } = await run([command, "--help"]);
    assert.equal(status, 0);
    assert.equal(stderr, "");
    assert.match(stdout, /^Usage: .*rallytide/m);
    assert.ok(stdout.split("\n").length > 6, stdout);
  });
}

for (const [what, args, named] of [
  ["no command", [], ["Usage"]],
  ["a command that there is not", ["umpire"], ["umpire"]],
  ["score without a file", ["score"], ["FILE"]],
  ["an option that there is not", ["score", DEMO_MATCH, "--jsn"], ["--jsn"]],
  ["feed without a host", ["feed", DEMO_MATCH], ["--to"]],
  ["feed to what is no link", ["feed", DEMO_MATCH, "--to", "ftp://127.0.0.1"], ["ftp://127.0.0.1", "http://"]],
  ["a pace that is no number", ["demo", "--pace", "fast"], ["fast"]],
  ["a seed that is no number", ["simulate", "--seed", "x"], ["--seed", "x"]],
  ["simulate without a seed", ["simulate"], ["--seed"]],
  ["games that cannot be", ["simulate", "--seed", "1", "--games", "4"], ["4", "1, 3 or 5"]],
  ["many matches without a folder", ["simulate", "--seed", "1", "--matches", "2"], ["--out"]],
  ["an indicator that no plugin provides", ["readings", DEMO_MATCH, "--only", "mood"], ["mood", "initiative"]],
  ["an export form that there is not", ["export", DEMO_MATCH, "--as", "paper"], ["paper"]],
  ["an address that is none", ["serve", "--listen", "here", "--data", "/tmp"], ["here"]],
]) {
  test(`${what} is wrong usage`, async () => {
    const { status, stdout, stderr, shown } = await run(args);
    assert.equal(status, 2, shown);
    assert.equal(stdout, "", shown);
    for (const word of named) assert.ok(stderr.includes(word), `\`${word}\` is not named: ${shown}`);
  });
}

// What is at fault outside: files, folders, ports.

for (const command of [["score"], ["readings"], ["check"], ["export", "--as", "csv"], ["agree", DEMO_MATCH]]) {
  test(`${command.join(" ")} of a file that is not there is something outside`, async () => {
    await fails(3, [...command, "/nowhere/chart.jsonl"], ["/nowhere/chart.jsonl", "hint: "]);
  });
}

test("a_port_in_use_is_named_with_what_to_do", async (t) => {
  const host = await Host.start(t);
  const other = await freshFolder(t);
  await fails(3, ["serve", "--listen", host.address, "--data", other], [host.address, "hint: ", "--listen"]);
});

test("a_data_folder_that_another_host_has_is_refused", async (t) => {
  const host = await Host.start(t);
  await fails(3, ["serve", "--listen", "127.0.0.1:0", "--data", host.data], [host.data]);
});

test("folders_that_are_missing_are_named_with_what_to_do", async (t) => {
  const data = await freshFolder(t);
  const listen = ["--listen", "127.0.0.1:0"];
  await fails(3, ["serve", ...listen, "--data", "/nowhere/data"], ["/nowhere/data", "hint: "]);
  await fails(3, ["serve", ...listen, "--data", data, "--plugins", "/nowhere/plugins"], ["/nowhere/plugins", "hint: "]);
  await fails(3, ["serve", "--config", "/nowhere/host.toml"], ["/nowhere/host.toml"]);
  await fails(3, ["readings", DEMO_MATCH, "--plugins", "/nowhere/plugins"], ["/nowhere/plugins", "hint: "]);
  await fails(
    3,
    ["simulate", "--seed", "1", "--matches", "2", "--out", "/nowhere/matches"],
    ["/nowhere/matches", "hint: "],
  );
});

test("a_data_folder_that_is_missing_is_made_and_told_with_what_is_beside_it", async (t) => {
  const event = await freshFolder(t);
  const start = (data) => Host.start(t, { data, command: ["serve", "--listen", "127.0.0.1:0", "--data", data] });
  const saturday = join(event, "saturday");
  const first = await start(saturday);
  assert.ok(first.stderr().includes(`note: the data folder \`${saturday}\` was not there`), first.stderr());
  assert.doesNotMatch(first.stderr(), /hint: /, "nothing is beside it");
  await Charter.welcomed(first, { chart: headerFor("opening") });
  await first.stop();

  const again = await start(saturday);
  assert.equal(again.stderr(), "", "a folder that is there is taken without a word");
  await again.stop();

  const mistyped = await start(join(event, "satruday"));
  assert.ok(mistyped.stderr().includes(`hint: matches are kept beside it in \`${saturday}\``), mistyped.stderr());
  const { stderr } = await fails(
    3,
    ["serve", "--listen", "127.0.0.1:0", "--data", join(event, "sunday", "data")],
    ["sunday", "hint: "],
  );
  assert.match(stderr, /no folder in which/);
  await assert.rejects(stat(join(event, "sunday")), { code: "ENOENT" });
});

// The tests may run as root, who may write everywhere but where nobody can.
test("a_data_folder_that_cannot_be_written_is_named", async (t) => {
  const file = await chartFile(await freshFolder(t), "", "in-the-place-of-a-folder");
  for (const folder of [file, "/proc"]) {
    await fails(3, ["serve", "--listen", "127.0.0.1:0", "--data", folder], [folder]);
  }
});

test("output_that_cannot_be_written_is_something_outside", async () => {
  const full = spawn("sh", ["-c", '"$0" score "$1" >/dev/full', RALLYTIDE, DEMO_MATCH], { env: environment() });
  const status = await inTime("the command to end", new Promise((resolve) => full.on("close", resolve)));
  assert.equal(status, 3);
});

test("a_reader_that_goes_away_is_no_reason_to_complain", async () => {
  for (const args of [
    ["readings", DEMO_MATCH, "--each"],
    ["score", DEMO_MATCH, "--json"],
    ["simulate", "--seed", "3"],
    ["export", DEMO_MATCH, "--as", "json"],
    ["export", DEMO_MATCH, "--as", "csv"],
    ["export", DEMO_MATCH, "--as", "html"],
  ]) {
    const child = spawn(RALLYTIDE, args, { env: environment(), stdio: ["ignore", "pipe", "pipe"] });
    let stderr = "";
    child.stderr.on("data", (part) => {
      stderr += part;
    });
    child.stdout.once("readable", () => child.stdout.destroy());
    const status = await inTime("the command to end", new Promise((resolve) => child.on("close", resolve)));
    assert.ok(status === 0 || status === null, `rallytide ${args.join(" ")} ended with ${status}`);
    assert.equal(stderr, "", args.join(" "));
  }
});

test("a_host_that_is_not_there_is_something_outside", async (t) => {
  const host = await Host.start(t);
  await host.stop();
  await fails(3, ["feed", DEMO_MATCH, "--to", host.http("/"), "--pace", "0"], [host.address, "hint: "]);
});

// What is at fault inside: the chart.

/** A chart with something wrong on lines 3, 5 and 8, something to flag on line 4. */
const FAULTY = [
  JSON.stringify(headerFor("faulty")),
  ...numbered([{ kind: "shot", team: "a", stroke: "serve" }]).map((one) => JSON.stringify(one)),
  '{"id":"x1","at":"2025-05-03T10:00:02.000Z","kind":"smash"}',
  '{"id":"x2","at":"2025-05-03T10:00:03.000Z","kind":"shot","team":"a","stroke":"drive"}',
  '{"id":"x3","at":',
  '{"id":"x4","at":"2025-05-03T10:00:05.000Z","kind":"rally_end","won_by":"a"}',
  '{"id":"x4","at":"2025-05-03T10:00:05.000Z","kind":"rally_end","won_by":"a"}',
  '{"id":"x5","at":"2025-05-03T10:00:06.000Z","kind":"retract","target":"nowhere"}',
]
  .map((line) => `${line}\n`)
  .join("");

test("check_names_every_line_that_would_be_refused_and_every_flag", async (t) => {
  const { status, stdout, stderr, shown } = await run(["check", await chartFile(await freshFolder(t), FAULTY)]);
  assert.equal(status, 1, shown);
  const about = asLines(stdout).map((line) =>
    /^line (\d+): (note|flag \w+|refused \w+)/.exec(line)?.slice(1).join(" "),
  );
  assert.deepEqual(
    about.sort(),
    ["3 refused unknown_kind", "4 flag missed_shot", "5 refused malformed", "7 note", "8 refused bad_correction"],
    shown,
  );
  assert.match(stderr, /3 refused/);
});

for (const command of [["score"], ["score", "--json"], ["readings"], ["readings", "--each"]]) {
  test(`${command.join(" ")} of a chart with faults names the lines`, async (t) => {
    const file = await chartFile(await freshFolder(t), FAULTY);
    const { stderr } = await fails(1, [...command, file], [file]);
    for (const line of [3, 5, 8]) assert.match(stderr, new RegExp(`line ${line}: `));
    assert.doesNotMatch(stderr, /line 6: /);
  });
}

test("a_header_at_fault_is_named_as_line_1", async () => {
  const good = headerFor("header");
  for (const [what, header] of [
    ["empty", ""],
    ["an_entry", '{"id":"e1","at":"2025-05-03T10:00:00.000Z","kind":"replay"}\n'],
    ["another_version", `${JSON.stringify({ ...good, chart: 2 })}\n`],
    ["no_format", `${JSON.stringify({ ...good, format: undefined })}\n`],
    ["a_hundred_points", `${JSON.stringify({ ...good, format: { ...good.format, points: 100 } })}\n`],
  ]) {
    const { status, stdout, shown } = await run(["check", "-"], { input: header });
    assert.equal(status, 1, `${what}: ${shown}`);
    assert.match(stdout, /^line 1: refused \w+: /m, `${what}: ${shown}`);
    await fails(1, ["score", "-"], ["line 1: "], { input: header });
  }
});

test("entries_after_the_match_are_reported_and_change_nothing", async () => {
  const header = headerFor("late", { points: 2, games: 1 });
  const input = (winners) => chartText({ header, entries: numbered(rallies(winners)) });
  const check = await run(["check", "-"], { input: input("aab") });
  assert.equal(check.status, 1);
  assert.match(check.stdout, /^line 4: refused match_over: /m);
  assert.deepEqual(
    await linesOf(["score", "-", "--json"], { input: input("aab") }),
    await linesOf(["score", "-", "--json"], { input: input("aa") }),
  );
});

test("some_entries_with_seq_and_some_without_are_refused", async () => {
  const [one, two, three] = numbered(rallies("aba"));
  const mixed = chartText({ header: headerFor("mixed"), entries: [{ ...one, seq: 1 }, two, { ...three, seq: 3 }] });
  const { status, stdout } = await run(["check", "-"], { input: mixed });
  assert.equal(status, 1);
  assert.match(stdout, /^line 3: refused bad_order: /m);
});

test("seq_orders_the_entries_and_not_the_file", async () => {
  const header = headerFor("ordered");
  const entries = numbered(rallies("aabba"));
  const inOrder = await linesOf(["score", "-", "--json"], { input: chartText({ header, entries }) });
  const turned = entries.map((entry, place) => ({ ...entry, seq: place + 1 })).reverse();
  assert.deepEqual(await linesOf(["score", "-", "--json"], { input: chartText({ header, entries: turned }) }), inOrder);
});

test("a_torn_last_line_is_reported_and_dropped", async (t) => {
  const chart = { header: headerFor("torn"), entries: numbered(rallies("aba")) };
  const torn = await chartFile(await freshFolder(t), `${chartText(chart)}{"id":"e4","at":"2025-05-03T1`);
  for (const command of ["score", "readings"]) {
    const { status, stdout, stderr, shown } = await run([command, torn]);
    assert.equal(status, 0, shown);
    assert.match(stderr, /line 5: .*torn/);
    assert.deepEqual(asLines(stdout), await linesOf([command, "-"], { input: chartText(chart) }));
  }
  const check = await run(["check", torn]);
  assert.equal(check.status, 0, check.shown);
  assert.match(check.stdout, /^line 5: note: .*torn/m);
});

test("a_dash_reads_the_standard_input", async () => {
  const input = await readFile(DEMO_MATCH);
  for (const args of [
    ["score"],
    ["score", "--json"],
    ["readings"],
    ["readings", "--each"],
    ["check"],
    ["export", "--as", "json"],
  ]) {
    const [command, ...options] = args;
    const piped = await linesOf([command, "-", ...options], { input });
    assert.deepEqual(piped, await linesOf([command, DEMO_MATCH, ...options]), args.join(" "));
  }
});

test("machines_read_json_on_stdout_and_people_words_on_stderr", async (t) => {
  const twice = (await readFile(DEMO_MATCH, "utf8")).replace(/\n([^\n]+)\n$/, '\n$1\n$1\n{"torn');
  const file = await chartFile(await freshFolder(t), twice);
  for (const args of [["score", "--json"], ["readings"], ["readings", "--each"], ["export", "--as", "json"]]) {
    const [command, ...options] = args;
    const { status, stdout, stderr, shown } = await run([command, file, ...options]);
    assert.equal(status, 0, shown.slice(0, 500));
    for (const line of asLines(stdout)) assert.equal(typeof JSON.parse(line), "object", line.slice(0, 200));
    assert.match(stderr, /torn/);
  }
});

test("only_the_indicators_asked_for_are_printed", async () => {
  const all = (await linesOf(["readings", DEMO_MATCH])).map((line) => JSON.parse(line));
  const only = (await linesOf(["readings", DEMO_MATCH, "--only", "initiative,escape.best"])).map((line) =>
    JSON.parse(line),
  );
  assert.deepEqual(
    only,
    all.filter(({ indicator }) => ["initiative", "escape.best"].includes(indicator)),
  );
  assert.deepEqual(
    only.map(({ indicator, team }) => `${indicator} ${team}`),
    ["escape.best a", "escape.best b", "initiative null"],
  );
});

test("the_score_for_people_has_a_line_for_every_counted_rally", async () => {
  const chart = { header: headerFor("table"), entries: numbered(rallies("aabab")) };
  const input = chartText(chart);
  const scores = (await linesOf(["score", "-", "--json"], { input })).map((line) => JSON.parse(line).score);
  const table = await linesOf(["score", "-"], { input });
  const rows = table.slice(-scores.length);
  rows.forEach((row, place) => assert.ok(row.includes(scores[place].call), `${row} has to hold ${scores[place].call}`));
  const widths = new Set(
    table.slice(0, 2).map((row) => (row.indexOf("0-0-2") < 0 ? row.indexOf("call") : row.indexOf("0-0-2"))),
  );
  assert.equal(widths.size, 1, "columns stand below each other");
});

// Matches made up.

test("the_same_seed_makes_the_same_match_and_another_seed_another_one", async () => {
  const make = (seed, ...more) => linesOf(["simulate", "--seed", String(seed), ...more]);
  assert.deepEqual(await make(3), await make(3));
  assert.notDeepEqual(await make(3), await make(4));
  const singles = JSON.parse(
    (await make(3, "--discipline", "singles", "--scoring", "rally", "--points", "21", "--games", "1"))[0],
  );
  assert.deepEqual(
    {
      discipline: singles.format.discipline,
      scoring: singles.format.scoring,
      points: singles.format.points,
      games: singles.format.games,
    },
    { discipline: "singles", scoring: "rally", points: 21, games: 1 },
  );
});

test("made_up_matches_are_charts_that_nobody_would_refuse", async (t) => {
  const folder = await freshFolder(t);
  await linesOf(["simulate", "--seed", "20", "--matches", "6", "--out", folder]);
  for (let place = 1; place <= 6; place += 1) {
    const text = await readFile(join(folder, `match-${place}.jsonl`), "utf8");
    assert.deepEqual(asLines(text), await linesOf(["simulate", "--seed", String(19 + place)]), "the seeds that follow");
    const { status, stdout } = await run(["check", "-"], { input: text });
    assert.equal(status, 0, stdout);
    assert.notEqual(
      JSON.parse((await linesOf(["score", "-", "--json"], { input: text })).at(-1)).score.winner,
      null,
      "played to its end",
    );
  }
});

test("every_demo_stream_is_a_chart_that_nobody_would_refuse", async () => {
  const streams = await demoStreams();
  assert.ok(streams.length >= 3 && streams.includes(DEMO_MATCH), `only ${streams.length} found`);
  for (const file of streams) {
    const { status, stdout } = await run(["check", file]);
    assert.equal(status, 0, `${file}: ${stdout}`);
    assert.doesNotMatch(stdout, /note:/, file);
  }
});

// Commands that live on.

test("feed_charts_a_file_into_a_running_host", async (t) => {
  const host = await Host.start(t);
  const { header, entries } = await demoMatch();
  const { status, stderr } = await run(["feed", DEMO_MATCH, "--to", host.http("/"), "--pace", "0"]);
  assert.equal(status, 0, stderr);
  assert.match(stderr, new RegExp(`${entries.length} entries accepted, 0 refused`));
  assert.deepEqual(
    (await host.logged(header.id)).map(({ id }) => id),
    entries.map(({ id }) => id),
  );
  const now = await host.now(header.court);
  assert.equal(rawField(now, "readings"), forEverybody(await linesOf(["readings", DEMO_MATCH])));
  const again = await run(["feed", DEMO_MATCH, "--to", host.http(`/courts/${header.court}`), "--pace", "0"]);
  assert.equal(again.status, 0, again.stderr);
  assert.equal(await host.now(header.court), now, "a second time changes nothing");
});

test("feed_keeps_the_recorded_tempo", async (t) => {
  const host = await Host.start(t);
  const header = headerFor("tempo");
  const entries = numbered(rallies("ab"));
  entries[1].at = new Date(Date.parse(entries[0].at) + 4000).toISOString();
  const file = await chartFile(await freshFolder(t), { header, entries });
  const start = Date.now();
  await run(["feed", file, "--to", host.http("/"), "--pace", "10"]);
  // A busy machine can only be later than that, never earlier.
  const second = Date.parse((await host.logged("tempo"))[1].received);
  assert.ok(second - start >= 400, `4 s at ten times the tempo came after ${second - start} ms`);
});

test("feed_says_what_the_host_refuses", async (t) => {
  const host = await Host.start(t);
  const chart = { header: headerFor("refusing", { points: 2, games: 1 }), entries: numbered(rallies("aab")) };
  const file = await chartFile(await freshFolder(t), chart);
  const { status, stderr, shown } = await run(["feed", file, "--to", host.http("/"), "--pace", "0"]);
  assert.equal(status, 1, shown);
  assert.match(stderr, /refused `e3` \(match_over\)/);
});

test("demo_charts_its_match_live_and_prints_the_links", async (t) => {
  const { header, entries } = await demoMatch();
  const host = await Host.start(t, { command: ["demo", "--pace", "0", "--listen", "127.0.0.1:0"] });
  for (const page of ["graphic", "booth"]) {
    const link = host.http(`/courts/${header.court}/${page}`);
    assert.ok(host.stdout().includes(link), host.stdout());
    assert.equal((await fetch(link)).status, 200);
  }
  const last = await until("the whole match to be charted", async () => {
    const response = await host.get(`/courts/${header.court}/now`);
    const now = response.status === 200 ? await response.json() : null;
    return now?.seq === entries.length && now;
  });
  assert.deepEqual(last.match, header);
  await host.stop();
});

test("a_host_that_is_asked_to_stop_ends_in_good_order_from_the_moment_it_has_printed_its_links", async (t) => {
  const data = await freshFolder(t);
  for (const signal of ["SIGTERM", "SIGINT", "SIGTERM", "SIGINT", "SIGTERM", "SIGINT"]) {
    const child = spawn(RALLYTIDE, ["serve", "--listen", "127.0.0.1:0", "--data", data], {
      env: environment(),
      stdio: ["ignore", "pipe", "inherit"],
    });
    t.after(() => child.kill("SIGKILL"));
    child.stdout.once("data", () => child.kill(signal));
    const ended = new Promise((resolve) => child.on("close", (status, by) => resolve(status ?? by)));
    assert.equal(await inTime("the host to end", ended), 0, signal);
  }
});

test("a_configuration_file_says_what_the_command_line_may_overrule", async (t) => {
  const folder = await freshFolder(t);
  await mkdir(join(folder, "logs"));
  const config = join(folder, "host.toml");
  await writeFile(config, 'listen = "127.0.0.1:1"\ndata = "logs"\n');
  const host = await Host.start(t, {
    data: join(folder, "logs"),
    command: ["serve", "--config", config, "--listen", "127.0.0.1:0"],
  });
  await until("the data folder to be named, beside the file", () => host.stdout().includes(join(folder, "logs")), {
    seen: host.stdout,
  });
  await host.stop();
  await writeFile(config, 'lisen = "127.0.0.1:0"\n');
  const { stderr } = await fails(2, ["serve", "--config", config], [config, "lisen"]);
  for (const known of ["listen", "data", "plugins"]) assert.ok(stderr.includes(`\`${known}\``), stderr);
});

test("damaged_charts_are_reported_and_never_a_reason_to_panic", async (t) => {
  const folder = await freshFolder(t);
  const dice = new Dice(5);
  const whole = (await readFile(DEMO_MATCH)).subarray(0, 8000);
  const files = await Promise.all(
    Array.from({ length: 120 }, async (_, place) => {
      const bytes = Buffer.from(whole);
      for (let left = dice.between(1, 6); left > 0; left -= 1) {
        const at = dice.between(0, bytes.length - 1);
        if (dice.chance(0.5)) bytes[at] = dice.between(0, 255);
        else bytes.copy(bytes, at, dice.between(0, bytes.length - 1));
      }
      const file = join(folder, `${place}.jsonl`);
      await writeFile(file, bytes);
      return file;
    }),
  );
  const found = new Set();
  for (const args of [["check"], ["score", "--json"], ["readings"]]) {
    (await runOver(files, args, "out")).forEach(({ status, stderr }, place) => {
      assert.ok(status === 0 || status === 1, `${args.join(" ")} of damaged chart ${place}: ${status}, ${stderr}`);
      assert.doesNotMatch(stderr, /panicked/);
      found.add(status);
    });
  }
  assert.ok(found.has(1), "damage of this kind does harm");
});
