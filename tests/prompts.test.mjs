/**
 * What the commentator is offered, in the real program: the lines of the demo matches as texts for
 * a person to read aloud (`golden/prompts/`, written anew with `UPDATE_GOLDEN=1`), and what every
 * line has to be, on these, on made-up and on random charts with corrections.
 *
 * Which lines are worth saying is common practice of the trade; nothing here is published.
 */
import assert from "node:assert/strict";
import { readFile, readdir, writeFile } from "node:fs/promises";
import { basename } from "node:path";
import { test } from "node:test";
import { readChart } from "./oracle/chart.mjs";
import { randomChart } from "./oracle/random-chart.mjs";
import { demoStreams } from "./support/charts.mjs";
import { linesOf, rallytide } from "./support/program.mjs";

const GOLDEN = new URL("golden/prompts/", import.meta.url);

const MOST_WORDS = 14;
const MOST_CURRENT = 3;
const PAUSE_MS = 8000;

/** The only kind that is offered while a rally is on. */
const WITHIN_A_RALLY = "need";

/** Of other kinds nothing is said again for so many rallies; these follow what happens. */
const RESTS = 3;
const OFTEN = ["answer", "point"];

/** Lines after more than three rallies of four are chatter. */
const MOST_OF_RALLIES = 0.75;

/** Made-up matches of each format, and charts with everything in them that can be recorded. */
const SIMULATED = [
  ["--seed", "11"],
  ["--seed", "12", "--scoring", "rally", "--points", "21"],
  ["--seed", "13", "--discipline", "singles"],
  ["--seed", "14", "--games", "1", "--points", "15"],
];
const RANDOM_SEEDS = [501, 502, 503, 504, 505, 506];

/**
 * @typedef {{ entry: any, readings: any[], prompts: any[], fresh: any[] }} Step an effective entry,
 *   all readings after it, its prompts, and those of them that are new
 */

/** @param {string} text a chart @returns {Promise<Step[]>} */
async function stepsOf(text) {
  const effective = new Map(readChart(text).effective.map((entry) => [entry.id, entry]));
  const { status, stdout, stderr } = await rallytide(["readings", "-", "--each"], { input: text });
  assert.equal(status, 0, stderr);
  let before = new Set();
  return stdout
    .trimEnd()
    .split("\n")
    .map((line) => {
      const { entry, readings } = JSON.parse(line);
      const prompts = readings.filter(({ indicator }) => indicator === "prompt");
      const fresh = prompts.filter((prompt) => !before.has(`${prompt.slot} ${prompt.value.text}`));
      before = new Set(prompts.map((prompt) => `${prompt.slot} ${prompt.value.text}`));
      return { entry: effective.get(entry), readings, prompts, fresh };
    });
}

const kindOf = ({ slot }) => slot.split(".").at(-1);

/** The numbers of a reading, as they can be said. */
function numbersOf({ value }) {
  switch (value.type) {
    case "count":
      return [value.n];
    case "share":
      return [value.part, value.whole];
    case "chance":
      return [Math.round(value.p * 100)];
    default:
      return [];
  }
}

/** What a reason calls a reading: `third.won/drop`. */
const nameOf = ({ indicator, slot }) => (slot === null ? indicator : `${indicator}/${slot}`);

/** Every number of a text is one of a reading that is cited, as it stands right now. */
function checkNumbers(prompt, readings) {
  const cited = readings.filter((reading) =>
    prompt.why.some(({ code, team }) => code === nameOf(reading) && team === reading.team),
  );
  const known = cited.flatMap(numbersOf);
  for (const [number] of prompt.value.text.matchAll(/\d+/g)) {
    assert.ok(known.includes(Number(number)), `${number} of \`${prompt.value.text}\` is not among ${known}`);
  }
}

function checkWords({ value: { text }, why }) {
  assert.ok(text.split(/\s+/).length <= MOST_WORDS, `more than ${MOST_WORDS} words: ${text}`);
  assert.ok(!text.includes("%"), text);
  const assumes = /as this match has gone so far/i.test(text);
  const isChance = why.some(({ code }) => code.startsWith("win."));
  assert.equal(isChance, assumes, `a chance is said with what it assumes: ${text}`);
  assert.ok(assumes || !text.includes("percent"), text);
}

function checkWhy(prompt, seen) {
  assert.ok(prompt.why.length > 0, `nothing shows \`${prompt.value.text}\``);
  for (const { entry } of prompt.why) assert.ok(seen.has(entry), `${entry} is no entry so far`);
}

/** @param {Step[]} steps */
function checkAll(steps) {
  const seen = new Set();
  const said = new Set();
  const heard = new Map();
  let latest = null;
  let isOn = false;
  let ended = 0;
  for (const { entry, readings, prompts, fresh } of steps) {
    seen.add(entry.id);
    if (entry.entry.kind === "shot") isOn = true;
    if (["rally_end", "replay"].includes(entry.entry.kind)) isOn = false;
    if (entry.entry.kind === "rally_end") ended += 1;
    assert.ok(prompts.length <= MOST_CURRENT, `${prompts.length} at ${entry.id}`);
    for (const prompt of prompts) {
      checkNumbers(prompt, readings);
      checkWords(prompt);
      checkWhy(prompt, seen);
    }
    assert.ok(fresh.length <= 1, `${fresh.length} new ones at ${entry.id}`);
    for (const prompt of fresh) {
      const { text } = prompt.value;
      assert.ok(!said.has(text), `said again at ${entry.id}: ${text}`);
      said.add(text);
      assert.equal(kindOf(prompt) === WITHIN_A_RALLY, isOn, `at ${entry.id}: ${text}`);
      const kind = kindOf(prompt);
      if (!OFTEN.includes(kind) && heard.has(kind)) {
        assert.ok(
          ended - heard.get(kind) > RESTS,
          `${kind} again at ${entry.id}, after ${ended - heard.get(kind)}: ${text}`,
        );
      }
      heard.set(kind, ended);
      const at = Date.parse(entry.at);
      if (latest !== null) {
        assert.ok(Math.abs(at - latest) >= PAUSE_MS, `${at - latest} ms after the one before, at ${entry.id}`);
      }
      latest = at;
    }
  }
  return { lines: said.size, rallies: ended };
}

/** @param {Step[]} steps a lifelike match */
function checkMatch(steps) {
  const { lines, rallies } = checkAll(steps);
  assert.ok(lines > 0, "nothing was said");
  assert.ok(rallies < 20 || lines <= MOST_OF_RALLIES * rallies, `${lines} lines in ${rallies} rallies`);
}

const minutes = (ms) => `${Math.floor(ms / 60_000)}:${String(Math.floor(ms / 1000) % 60).padStart(2, "0")}`;

/** The lines of a match, to be read aloud. */
function aloud(header, steps) {
  const start = Date.parse(steps[0].entry.at);
  const { a, b } = header.teams;
  const lines = steps.flatMap(({ entry, fresh }) =>
    fresh.map(({ slot, value, why }) => {
      const time = minutes(Date.parse(entry.at) - start).padStart(6);
      const shown = why.map(({ code, team, entry: by }) => `${code}${team === null ? "" : ` ${team}`} ${by}`);
      return `${time}  ${value.text}\n${" ".repeat(8)}${slot} at ${entry.id}: ${shown.join(", ")}\n`;
    }),
  );
  return [`${header.title}: ${a.name} (a), ${b.name} (b)\n`, ...lines].join("\n");
}

for (const file of await demoStreams()) {
  const name = basename(file, ".jsonl");
  test(`the lines of ${name} are those that a person has read`, async () => {
    const text = await readFile(file, "utf8");
    const steps = await stepsOf(text);
    const lines = aloud(readChart(text).header, steps);
    const golden = new URL(`${name}.txt`, GOLDEN);
    if (process.env.UPDATE_GOLDEN === "1") await writeFile(golden, lines);
    assert.equal(
      lines,
      await readFile(golden, "utf8"),
      "if the change is meant: UPDATE_GOLDEN=1, and read the difference",
    );
  });

  test(`the lines of ${name} are short, true, shown and never said twice`, async () => {
    checkMatch(await stepsOf(await readFile(file, "utf8")));
  });
}

test("no text is left over from a demo match that is gone", async () => {
  const texts = (await readdir(GOLDEN)).sort();
  const wanted = (await demoStreams()).map((file) => `${basename(file, ".jsonl")}.txt`);
  assert.deepEqual(texts, wanted.sort());
});

for (const options of SIMULATED) {
  test(`the lines of the made-up match ${options.join(" ")} are short, true, shown and never said twice`, async () => {
    const chart = await linesOf(["simulate", ...options]);
    checkMatch(await stepsOf(`${chart.join("\n")}\n`));
  });
}

for (const seed of RANDOM_SEEDS) {
  test(`whatever is recorded and corrected in random chart ${seed}, its lines are short, true and shown`, async () => {
    checkAll(await stepsOf(randomChart(seed, "mixed")));
  });
}
