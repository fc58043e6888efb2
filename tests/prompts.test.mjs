/**
 * What the commentator is offered, in the real program: the lines of the demo matches as texts for
 * a person to read aloud (`golden/prompts/`, written anew with `UPDATE_GOLDEN=1`), and what every
 * line has to be, on these, on made-up matches of every format and depth of charting, and on random
 * charts with corrections.
 *
 * `PROMPT_MATCHES=500 node --test --test-name-pattern=made-up prompts.test.mjs` tries more made-up
 * matches; half of them are new ones each time, unless `PROMPT_SEED` says where they begin.
 *
 * Which lines are worth saying is common practice of the trade; nothing here is published.
 */
import assert from "node:assert/strict";
import { readFile, readdir, writeFile } from "node:fs/promises";
import { basename } from "node:path";
import { test } from "node:test";
import { randomChart } from "./oracle/random-chart.mjs";
import { demoStreams } from "./support/charts.mjs";
import { linesOf } from "./support/program.mjs";
import { checkClaim } from "./support/prompt-claims.mjs";
import { aloud } from "./support/prompts-aloud.mjs";
import { promptSteps } from "./support/prompt-steps.mjs";

const GOLDEN = new URL("golden/prompts/", import.meta.url);

const MOST_WORDS = 20;
const MOST_CURRENT = 3;
/** Rallies within which the same thing is not said in other words. */
const SAME_THING = 5;
/** New lines where a game ends, and anywhere else. */
const MOST_AT_GAME_END = 3;

/** Made-up matches of every format and depth; a seed picks one. */
const PLANS = [
  [],
  ["--detail", "score"],
  ["--detail", "ends"],
  ["--scoring", "rally", "--points", "21", "--games", "1"],
  ["--discipline", "singles"],
  ["--players", "all", "--games", "5"],
  ["--scoring", "rally", "--points", "15", "--winning-point", "server", "--positions", "static"],
  ["--games", "1", "--points", "15", "--players", "none"],
  ["--discipline", "singles", "--scoring", "rally", "--points", "11"],
  ["--detail", "score", "--scoring", "rally", "--points", "15"],
];
const MATCHES = Number(process.env.PROMPT_MATCHES ?? 20);
const FIRST_NEW_SEED = Number(process.env.PROMPT_SEED ?? Math.floor(Math.random() * 1_000_000_000));
const RANDOM_SEEDS = [501, 502, 503, 504, 505, 506];

/** @param {number} place @returns {string[]} what makes the match */
function planOf(place) {
  const seed = place < MATCHES / 2 ? place + 1 : FIRST_NEW_SEED + place;
  return ["--seed", String(seed), ...PLANS[place % PLANS.length]];
}

const wordsOf = (text) => text.split(/\s+/).length;

/** @param {import("./support/prompt-steps.mjs").Step[]} steps what any chart's lines are */
function checkForm(steps) {
  const seen = new Set();
  const said = new Set();
  let newInRally = 0;
  for (const step of steps) {
    const { entry, prompts, fresh } = step;
    seen.add(entry.id);
    if (entry.kind === "rally_end") newInRally = 0;
    assert.ok(prompts.length <= MOST_CURRENT, `${prompts.length} lines at ${entry.id}`);
    for (const { value, why } of fresh) {
      const where = `at ${entry.id}: ${value.text}`;
      assert.ok(!step.isOn, `in the middle of a rally ${where}`);
      assert.ok(step.endsGame || ["rally_end", "time_out"].includes(entry.kind), `no stop in play ${where}`);
      assert.ok(wordsOf(value.text) <= MOST_WORDS, `more than ${MOST_WORDS} words ${where}`);
      assert.ok(/^\p{Lu}.*[^.]\.$/u.test(value.text), `no sentence ${where}`);
      assert.ok(!/%|percent/.test(value.text), `a percentage ${where}`);
      assert.ok(!said.has(value.text), `said again ${where}`);
      said.add(value.text);
      assert.ok(why.length > 0, `nothing shows it ${where}`);
      for (const reason of why) assert.ok(seen.has(reason.entry), `${reason.entry} is no entry so far ${where}`);
    }
    newInRally += fresh.length;
    const most = step.endsGame ? MOST_AT_GAME_END : 1;
    assert.ok(fresh.length <= most, `${fresh.length} new lines at ${entry.id}`);
    if (!step.endsGame) assert.ok(newInRally <= 1, `a second line about one rally at ${entry.id}`);
    else newInRally = -MOST_AT_GAME_END;
  }
  return said.size;
}

/** How much is charted, for what a line may rest on. */
function depthOf(steps) {
  const ends = steps.filter(({ entry }) => entry.kind === "rally_end");
  const served = ends.filter(({ shots }) => shots[0]?.stroke === "serve");
  if (served.length * 4 >= ends.length) return "shots";
  return ends.some(({ entry, shots }) => entry.how !== undefined || shots.length > 0) ? "end" : "score";
}

const RANK = ["score", "end", "shots"];

/**
 * Every line is so at its entry, rests on what is charted, and is not what was said before.
 * @param {any} header @param {import("./support/prompt-steps.mjs").Step[]} steps
 */
function checkTruth(header, steps) {
  const depth = depthOf(steps);
  const heard = new Map();
  for (const [place, now] of steps.entries()) {
    for (const { value } of now.fresh) {
      const { about, needs } = checkClaim({ header, steps: steps.slice(0, place + 1), now }, value.text);
      assert.ok(RANK.indexOf(needs) <= RANK.indexOf(depth), `a chart of ${depth} holds no ${needs}: ${value.text}`);
      const ago = now.ended - (heard.get(about) ?? -Infinity);
      assert.ok(ago > SAME_THING, `said ${ago} rallies ago in other words, at ${now.entry.id}: ${value.text}`);
      heard.set(about, now.ended);
    }
  }
}

/** Games that end are told with their result; what stood out may follow, and now and then nothing did. */
function checkRecaps(steps) {
  for (const { endsGame, entry, fresh, score } of steps) {
    if (!endsGame || entry.kind !== "rally_end" || entry.inserted) continue;
    assert.match(fresh[0]?.value.text ?? "", score.winner === null ? / won game \d/ : / won the match /);
  }
}

function checkMatch({ header, steps }) {
  checkForm(steps);
  checkTruth(header, steps);
  checkRecaps(steps);
}

for (const file of await demoStreams()) {
  const name = basename(file, ".jsonl");
  test(`the lines of ${name} are those in its golden file, and so`, async () => {
    const { header, steps } = await promptSteps(await readFile(file, "utf8"));
    const lines = aloud(header, steps);
    const golden = new URL(`${name}.txt`, GOLDEN);
    if (process.env.UPDATE_GOLDEN === "1") await writeFile(golden, lines);
    assert.equal(
      lines,
      await readFile(golden, "utf8"),
      "if the change is meant: UPDATE_GOLDEN=1, and read the difference",
    );
    checkMatch({ header, steps });
  });
}

test("no text is left over from a demo match that is gone", async () => {
  const texts = (await readdir(GOLDEN)).filter((name) => name.endsWith(".txt")).sort();
  const wanted = (await demoStreams()).map((file) => `${basename(file, ".jsonl")}.txt`);
  assert.deepEqual(texts, wanted.sort());
});

test(`the lines of ${MATCHES} made-up matches are so, at the right moment and never said twice`, async () => {
  let lines = 0;
  for (let place = 0; place < MATCHES; place += 1) {
    const plan = planOf(place);
    const chart = await linesOf(["simulate", ...plan]);
    try {
      const { header, steps } = await promptSteps(`${chart.join("\n")}\n`);
      checkMatch({ header, steps });
      lines += steps.reduce((all, { fresh }) => all + fresh.length, 0);
    } catch (error) {
      throw new Error(`rallytide simulate ${plan.join(" ")}: ${error.message}`, { cause: error });
    }
  }
  assert.ok(lines >= 5 * MATCHES, `no more than ${lines} lines in ${MATCHES} matches`);
});

for (const seed of RANDOM_SEEDS) {
  test(`whatever is recorded and corrected in random chart ${seed}, its lines come at a stop in play and are shown`, async () => {
    checkForm((await promptSteps(randomChart(seed, "mixed"))).steps);
  });
}
