/**
 * `rallytide agree`: two charts of one match, with the plugins of the real program.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { DEMO_MATCH, chartFile, chartText, demoStreams, headerFor, numbered, recorded } from "./support/charts.mjs";
import { freshFolder } from "./support/folders.mjs";
import { linesOf, rallytide } from "./support/program.mjs";

async function agreement(a, b, ...more) {
  const [line, ...rest] = await linesOf(["agree", a, b, "--json", ...more]);
  assert.deepEqual(rest, []);
  return JSON.parse(line);
}

const kindOf = ({ kinds }, word) => kinds.find(({ kind }) => kind === word);

test("every_invented_chart_agrees_with_itself_in_everything", async () => {
  for (const file of await demoStreams()) {
    const found = await agreement(file, file);
    assert.deepEqual(found.places, [], file);
    assert.equal(found.rallies.both, found.a.rallies, file);
    for (const { kind, cases, agreed, kappa } of found.kinds) {
      assert.equal(agreed, cases, `${file}: ${kind}`);
      assert.ok(kappa === null || Math.abs(kappa.value - 1) < 1e-9, `${file}: ${kind}`);
    }
  }
  const { kinds } = await agreement(DEMO_MATCH, DEMO_MATCH);
  for (const word of ["initiative", "depth"]) assert.ok(kindOf({ kinds }, word).cases > 1000, word);
});

/** The demo match as another charter might have charted it: one wrong stroke, one cue missed, one
 * shot missed, a clock that is two seconds ahead. */
async function otherChart(t) {
  const { header, entries } = recorded(await readFile(DEMO_MATCH, "utf8"));
  const strokes = entries.filter(({ kind, stroke }) => kind === "shot" && stroke === "dink");
  const [wrong, missed] = [strokes[10], strokes[60]];
  const other = entries
    .filter(({ id, shot }) => id !== missed.id && shot !== missed.id)
    .map((entry) => (entry.id === wrong.id ? { ...entry, stroke: "lob" } : entry))
    .map((entry) => ({ ...entry, at: new Date(Date.parse(entry.at) + 2000).toISOString() }));
  const usable = other.filter(({ target, after }) => target !== missed.id && after !== missed.id);
  return {
    file: await chartFile(await freshFolder(t), { header: { ...header, id: "other" }, entries: usable }),
    wrong,
    missed,
  };
}

test("slips_are_found_where_they_are_with_what_they_did_to_the_initiative", async (t) => {
  const { file, wrong, missed } = await otherChart(t);
  const found = await agreement(DEMO_MATCH, file);
  assert.equal(found.clocks.offset_ms, 2000);
  assert.deepEqual(
    found.places
      .filter(({ kind }) => kind === "stroke" || kind === "shot")
      .map(({ kind, entry_a, entry_b, a, b }) => [kind, entry_a, entry_b, a, b]),
    [
      ["stroke", wrong.id, wrong.id, "dink", "lob"],
      ["shot", missed.id, null, "dink", "missing"],
    ],
  );
  assert.deepEqual(kindOf(found, "stroke").confusions, [{ a: "dink", b: "lob", count: 1 }]);
  const back = await agreement(file, DEMO_MATCH);
  assert.equal(back.clocks.offset_ms, -2000);
  assert.equal(back.places.length, found.places.length);
});

test("people_read_words_and_machines_one_object", async (t) => {
  const { file, wrong } = await otherChart(t);
  const { status, stdout, stderr } = await rallytide(["agree", DEMO_MATCH, file]);
  assert.deepEqual([status, stderr], [0, ""]);
  for (const words of ["who held the initiative", "kappa", "b's clock is 2.0 s ahead", wrong.id]) {
    assert.ok(stdout.includes(words), `\`${words}\` is missing: ${stdout}`);
  }
  const few = await rallytide(["agree", DEMO_MATCH, file, "--places", "0"]);
  assert.ok(!few.stdout.includes(wrong.id));
});

/** The same rallies with every shot, with ends alone, and with the winners alone. */
const DEPTHS = {
  "every shot": (winner) => [
    { kind: "shot", team: "a", stroke: "serve" },
    { kind: "shot", team: "b", stroke: "return" },
    { kind: "rally_end", how: "winner", by: winner },
  ],
  "ends and cues": (winner) => [{ kind: "rally_end", how: "winner", by: winner }],
  "score only": (winner) => [{ kind: "rally_end", won_by: winner }],
};

test("charts_of_different_depth_are_warned_about_at_the_head_of_the_report", async (t) => {
  const folder = await freshFolder(t);
  const files = {};
  for (const [depth, rally] of Object.entries(DEPTHS))
    files[depth] = await chartFile(
      folder,
      { header: headerFor("one"), entries: numbered([..."abba"].flatMap(rally)) },
      `${depth}.jsonl`,
    );
  for (const a of Object.keys(DEPTHS)) {
    for (const b of Object.keys(DEPTHS)) {
      const found = await agreement(files[a], files[b]);
      const { stdout } = await rallytide(["agree", files[a], files[b]]);
      assert.ok(stdout.includes(`match \`one\`, charted: ${a}, `), stdout);
      const [first] = stdout.split("\n");
      if (a === b) {
        assert.deepEqual(found.warnings, []);
        assert.doesNotMatch(stdout, /^warning/m);
        continue;
      }
      assert.equal(found.warnings.length, 1);
      assert.ok(found.warnings[0].includes(`(a: ${a}, b: ${b})`), found.warnings[0]);
      assert.equal(first, `warning: ${found.warnings[0]}`, "it comes before anything else");
    }
  }
  assert.deepEqual(Object.keys(await agreement(files["every shot"], files["score only"]))[0], "warnings");
});

test("a_chart_without_a_rally_has_no_depth_to_warn_about", async (t) => {
  const folder = await freshFolder(t);
  const empty = await chartFile(folder, { header: headerFor("one"), entries: [] }, "empty.jsonl");
  const entries = numbered(DEPTHS["every shot"]("a"));
  const shots = await chartFile(folder, { header: headerFor("one"), entries }, "shots.jsonl");
  assert.deepEqual((await agreement(empty, shots)).warnings, []);
});

test("charts_of_other_matches_are_refused_unless_told_otherwise", async (t) => {
  const folder = await freshFolder(t);
  const entries = numbered([{ kind: "rally_end", won_by: "a" }]);
  const one = await chartFile(folder, { header: headerFor("one"), entries }, "one.jsonl");
  const longer = await chartFile(folder, { header: headerFor("one", { points: 15 }), entries }, "longer.jsonl");
  for (const [other, named] of [
    [DEMO_MATCH, "the teams differ"],
    [longer, "the formats differ"],
  ]) {
    const refused = await rallytide(["agree", one, other]);
    assert.equal(refused.status, 1);
    assert.equal(refused.stdout, "");
    assert.match(refused.stderr, /^error: the charts are not of one match$/m);
    assert.ok(refused.stderr.includes(named) && refused.stderr.includes("--anyway"), refused.stderr);
    const anyway = await rallytide(["agree", one, other, "--anyway"]);
    assert.equal(anyway.status, 0, anyway.stderr);
    assert.match(anyway.stderr, /^warning: /);
  }
});

test("bad_charts_and_wrong_usage_have_their_exit_status", async (t) => {
  const bad = await chartFile(await freshFolder(t), `${JSON.stringify(headerFor("bad"))}\n{"id":"x1"}\n`);
  assert.equal((await rallytide(["agree", bad, DEMO_MATCH])).status, 1);
  assert.equal((await rallytide(["agree", DEMO_MATCH])).status, 2);
  assert.equal((await rallytide(["agree", "-", "-"], { input: "" })).status, 2);
  assert.equal((await rallytide(["agree", DEMO_MATCH, "/nowhere/chart.jsonl"])).status, 3);
  const input = chartText({ header: headerFor("piped"), entries: numbered([{ kind: "rally_end", won_by: "b" }]) });
  const file = await chartFile(await freshFolder(t), input);
  assert.equal((await rallytide(["agree", "-", file], { input })).status, 0);
});
