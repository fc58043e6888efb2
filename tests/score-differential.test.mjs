/**
 * The score of random matches: the program against the second implementation, byte for byte.
 *
 * `ORACLE_MATCHES` says how many (10,000 unless said otherwise), `ORACLE_SEED` which seed is the
 * first. The charts hold everything that touches the score: ends of rallies in every form, replays,
 * time-outs, penalties, the referee's word, lineups, retirements, and corrections of all of it.
 */
import assert from "node:assert/strict";
import { mkdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { readChart } from "./oracle/chart.mjs";
import { randomChart } from "./oracle/random-chart.mjs";
import { scoreLines } from "./oracle/scoring.mjs";
import { runOver } from "./support/batches.mjs";
import { chartFile } from "./support/charts.mjs";
import { compareLines } from "./support/compare.mjs";
import { freshFolder } from "./support/folders.mjs";

const MATCHES = Number(process.env.ORACLE_MATCHES ?? 10_000);
const FIRST_SEED = Number(process.env.ORACLE_SEED ?? 1);
const BATCH = 500;

/** Every tenth match is charted shot by shot: that must make no difference to the score. */
const kindOf = (seed) => (seed % 10 === 0 ? "mixed" : "score");

/** Discipline, scoring and its options: every combination there is. */
const FORMATS = [
  "singles side_out",
  "doubles side_out",
  ...["any", "server"].flatMap((point) => [
    `singles rally ${point}`,
    `doubles rally ${point} swap`,
    `doubles rally ${point} static`,
  ]),
];

function formatName({ discipline, scoring, winning_point: point = "any", positions = "swap" }) {
  if (scoring === "side_out") return `${discipline} side_out`;
  return `${discipline} rally ${point}${discipline === "doubles" ? ` ${positions}` : ""}`;
}

test(`both implementations keep the same score in ${MATCHES} random matches`, async (t) => {
  const folder = await freshFolder(t);
  const seen = { formats: new Map(), over: 0, lines: 0 };
  for (let first = FIRST_SEED; first < FIRST_SEED + MATCHES; first += BATCH) {
    const seeds = Array.from({ length: Math.min(BATCH, FIRST_SEED + MATCHES - first) }, (_, index) => first + index);
    await compareBatch(join(folder, `from-${first}`), seeds, seen);
  }
  t.diagnostic(`${seen.lines} scores compared, ${seen.over} matches played to their end`);
  t.diagnostic([...seen.formats].map(([name, count]) => `${name}: ${count}`).join(", "));
  if (MATCHES < BATCH) return;
  assert.deepEqual([...seen.formats.keys()].sort(), [...FORMATS].sort(), "every format has to come up");
  assert.ok(seen.over > MATCHES / 10, "too few matches reach their end");
});

async function compareBatch(folder, seeds, seen) {
  await mkdir(folder);
  const charts = seeds.map((seed) => ({ seed, kind: kindOf(seed), text: randomChart(seed, kindOf(seed)) }));
  const files = await Promise.all(charts.map(({ seed, text }) => chartFile(folder, text, `${seed}.jsonl`)));
  const outcomes = await runOver(files, ["score", "--json"], "score");
  charts.forEach((chart, place) => {
    const { header, effective } = readChart(chart.text);
    const expected = scoreLines(header, effective);
    compareLines(
      chart,
      "score --json",
      outcomes[place],
      expected.map((line) => JSON.stringify(line)),
    );
    const format = formatName(header.format);
    seen.formats.set(format, (seen.formats.get(format) ?? 0) + 1);
    seen.lines += expected.length;
    if (expected.at(-1)?.score.winner) seen.over += 1;
  });
  await rm(folder, { recursive: true });
}
