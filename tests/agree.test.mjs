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
