/**
 * Readings and flags of random charts: the plugins in the real program against the second
 * implementation, byte for byte.
 *
 * `ORACLE_CHARTS` says how many charts (240 unless said otherwise), `ORACLE_SEED` which seed is the
 * first. Compared are the indicators that the program provides and the oracle knows.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { readChart } from "./oracle/chart.mjs";
import { flagLines } from "./oracle/flags.mjs";
import { randomChart } from "./oracle/random-chart.mjs";
import { PLUGIN_OF, eachReadingLines, finalReadingLines } from "./oracle/readings.mjs";
import { scoreLines } from "./oracle/scoring.mjs";
import { runOver } from "./support/batches.mjs";
import { chartFile, chartText, demoStreams, headerFor } from "./support/charts.mjs";
import { compareLines } from "./support/compare.mjs";
import { freshFolder } from "./support/folders.mjs";
import { asLines, rallytide } from "./support/program.mjs";

const CHARTS = Number(process.env.ORACLE_CHARTS ?? 240);
const FIRST_SEED = Number(process.env.ORACLE_SEED ?? 1);

/** One chart in so many is compared after every entry, the others at their end. */
const EACH_ONE_IN = 4;

const KINDS = ["shots", "mixed", "score"];

/** What there has to be; more is compared as soon as there is more. */
const AT_LEAST = [
  "initiative",
  "depth",
  "escape.streak",
  "escape.best",
  "escape.share",
  "approach.reached",
  "rally.shots",
  "rally.longest",
  "rally.tempo",
];

/** @returns {Promise<string[]>} the indicators that both sides know */
async function sharedIndicators() {
  const known = Object.keys(PLUGIN_OF);
  const input = chartText({ header: headerFor("empty"), entries: [] });
  const outcomes = await Promise.all(known.map((one) => rallytide(["readings", "-", "--only", one], { input })));
  return known.filter((_, place) => outcomes[place].status === 0);
}

const charts = Array.from({ length: CHARTS }, (_, index) => {
  const seed = FIRST_SEED + index;
  const kind = KINDS[index % KINDS.length];
  return { seed, kind, each: index % EACH_ONE_IN === 0, text: randomChart(seed, kind) };
});

/** Runs one command over the charts and has each outcome judged. */
async function overCharts(t, chosen, args, judge) {
  const folder = await freshFolder(t);
  const files = await Promise.all(chosen.map(({ seed, text }) => chartFile(folder, text, `${seed}.jsonl`)));
  const outcomes = await runOver(files, args, "out");
  chosen.forEach((chart, place) => judge(chart, readChart(chart.text), outcomes[place]));
}

test("the_program_provides_the_indicators_that_the_second_implementation_knows", async () => {
  const shared = await sharedIndicators();
  for (const indicator of AT_LEAST) assert.ok(shared.includes(indicator), `no plugin provides \`${indicator}\``);
});

test(`both implementations end with the same readings on ${CHARTS} random charts`, async (t) => {
  const only = await sharedIndicators();
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
  const only = await sharedIndicators();
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
  const only = await sharedIndicators();
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
