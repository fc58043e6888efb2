/**
 * Readings and flags of random charts: the plugins in the real program against the second
 * implementation, byte for byte.
 *
 * `ORACLE_CHARTS` says how many charts (240 unless said otherwise), `ORACLE_SEED` which seed is the
 * first. As many again have seeds that no run had before, from `ORACLE_FRESH_SEED` on where one is
 * to be seen again. Compared are the indicators that the oracle knows.
 */
import assert from "node:assert/strict";
import { randomInt } from "node:crypto";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { readChart } from "./oracle/chart.mjs";
import { flagLines } from "./oracle/flags.mjs";
import { randomChart } from "./oracle/random-chart.mjs";
import { PLUGIN_OF, eachReadingLines, finalReadingLines } from "./oracle/readings.mjs";
import { scoreLines } from "./oracle/scoring.mjs";
import { runOver } from "./support/batches.mjs";
import { chartFile, demoStreams } from "./support/charts.mjs";
import { compareLines } from "./support/compare.mjs";
import { freshFolder } from "./support/folders.mjs";
import { asLines, rallytide } from "./support/program.mjs";

const CHARTS = Number(process.env.ORACLE_CHARTS ?? 240);
const FIRST_SEED = Number(process.env.ORACLE_SEED ?? 1);
const FRESH_SEED = Number(process.env.ORACLE_FRESH_SEED ?? randomInt(1_000_000, 2 ** 31));

/** One chart in so many is compared after every entry, the others at their end. */
const EACH_ONE_IN = 4;

const KINDS = ["shots", "attacks", "mixed", "attacks", "score"];

const only = Object.keys(PLUGIN_OF);

const chartsFrom = (first) =>
  Array.from({ length: CHARTS }, (_, index) => {
    const seed = first + index;
    const kind = KINDS[index % KINDS.length];
    return { seed, kind, each: index % EACH_ONE_IN === 0, text: randomChart(seed, kind) };
  });

const charts = [...chartsFrom(FIRST_SEED), ...chartsFrom(FRESH_SEED)];

/** Runs one command over the charts and has each outcome judged. */
async function overCharts(t, chosen, args, judge) {
  const folder = await freshFolder(t);
  const files = await Promise.all(chosen.map(({ seed, text }) => chartFile(folder, text, `${seed}.jsonl`)));
  const outcomes = await runOver(files, args, "out");
  chosen.forEach((chart, place) => judge(chart, readChart(chart.text), outcomes[place]));
}

test(`both implementations end with the same readings on ${charts.length} random charts`, async (t) => {
  t.diagnostic(`fresh seeds from ORACLE_FRESH_SEED=${FRESH_SEED} on`);
  const args = ["readings", "--only", only.join(",")];
  let compared = 0;
  await overCharts(t, charts, args, (chart, { header, effective }, outcome) => {
    const expected = finalReadingLines(header, effective, { only });
    compareLines(chart, args.join(" "), outcome, expected);
    compared += expected.length;
  });
  t.diagnostic(`${compared} readings of ${only.length} indicators compared`);
});

test("both_implementations_have_the_same_readings_after_every_entry", async (t) => {
  const args = ["readings", "--each", "--only", only.join(",")];
  let compared = 0;
  await overCharts(
    t,
    charts.filter(({ each }) => each),
    args,
    (chart, { header, effective }, outcome) => {
      const expected = eachReadingLines(header, effective, { only });
      compareLines(chart, args.join(" "), outcome, expected);
      compared += expected.length;
    },
  );
  t.diagnostic(`${compared} entries compared`);
});

test("both_implementations_agree_on_every_demo_stream", async () => {
  for (const file of await demoStreams()) {
    const chart = { seed: 0, kind: file };
    const { header, effective } = readChart(await readFile(file, "utf8"));
    const scores = scoreLines(header, effective).map((line) => JSON.stringify(line));
    compareLines(chart, "score --json", await rallytide(["score", "--json", file]), scores);
    const each = eachReadingLines(header, effective, { only });
    compareLines(
      chart,
      "readings --each",
      await rallytide(["readings", "--each", "--only", only.join(","), file]),
      each,
    );
  }
});

test("both_implementations_raise_the_same_flags", async (t) => {
  const raised = new Map();
  await overCharts(t, charts, ["check"], (chart, { header, effective }, outcome) => {
    assert.equal(outcome.status, 0, `seed ${chart.seed} (${chart.kind}): ${outcome.stdout}`);
    const expected = flagLines(header, effective).flatMap(({ entry, flags }) =>
      [...flags].sort().map((flag) => `${entry} ${flag}`),
    );
    const actual = asLines(outcome.stdout)
      .map(flagOf)
      .filter((line) => line !== null);
    assert.deepEqual(actual.sort(), expected.sort(), `seed ${chart.seed} (${chart.kind})`);
    for (const line of expected) raised.set(line.split(" ")[1], (raised.get(line.split(" ")[1]) ?? 0) + 1);
  });
  t.diagnostic([...raised].map(([flag, count]) => `${flag}: ${count}`).join(", "));
  if (CHARTS >= 100) assert.equal(raised.size, 5, "every flag of the format has to come up");
});

/** `entry flag` of a line of `check` that is about a flag, else null. */
function flagOf(line) {
  const found = /^line \d+: flag (\w+): entry `([^`]+)`/.exec(line);
  return found === null ? null : `${found[2]} ${found[1]}`;
}
