/**
 * Every indicator that the outside may rely on exists: from the start, of whom it is said to be, in
 * the form it is said to have, in the program and (but for those of the scoring's mathematics) in the
 * second implementation.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { readChart } from "./oracle/chart.mjs";
import { PLUGIN_OF, finalReadingLines } from "./oracle/readings.mjs";
import { chartText, headerFor, numbered } from "./support/charts.mjs";
import { linesOf, rallytide } from "./support/program.mjs";

const WHO = { match: [null], team: ["a", "b"], player: ["a", "b"] };

/** Name, whose, form; the list of the format, not of any program. */
const THERE_FROM_THE_START = [
  ["initiative", "match", "lean"],
  ["depth", "team", "text"],
  ["escape.streak", "team", "count"],
  ["escape.best", "team", "count"],
  ["escape.share", "team", "share"],
  ["approach.reached", "team", "share"],
  ["offense.finished", "team", "share"],
  ["neutral.first", "team", "share"],
  ["defense.bounced", "team", "share"],
  ["serve.won", "team", "share"],
  ["pressed.won", "team", "share"],
  ["unpressed.won", "team", "share"],
  ["sitter.punished", "team", "share"],
  ["gift.share", "team", "share"],
  ["player.shots", "player", "share"],
  ["player.pressed", "player", "share"],
  ["player.errors", "player", "share"],
  ["score.run", "team", "count"],
  ["rally.shots", "match", "count"],
  ["rally.longest", "match", "count"],
  ["rally.tempo", "match", "duration"],
  ["win.game", "team", "chance"],
  ["win.match", "team", "chance"],
  ["charting.coverage", "match", "share"],
];

/** Name and slots, each there from its first case on. */
const WITH_SLOTS = {
  "third.won": ["drop"],
  "speedup.won": ["other", "sitter"],
};

/** What the second implementation leaves out. */
const NOT_IN_THE_ORACLE = ["win.game", "win.match"];

const START = { share: { part: 0, whole: 0 }, count: { n: 0 }, duration: { ms: 0 } };

/** One rally a speedup off a ball that sat up, one off a ball that did not. */
const SPEEDUPS = numbered([
  ...[["attackable"], []].flatMap((cues) => [
    { kind: "shot", team: "a", stroke: "serve" },
    { kind: "shot", team: "b", stroke: "return" },
    { kind: "shot", team: "a", stroke: "drop", cues },
    { kind: "shot", team: "b", stroke: "speedup" },
    { kind: "rally_end", won_by: "a" },
  ]),
]);

async function readingsOf(entries, format = {}) {
  const text = chartText({ header: headerFor("indicators", format), entries });
  const { status, stdout, stderr } = await rallytide(["readings", "-"], { input: text });
  assert.equal(status, 0, stderr);
  const { header, effective } = readChart(text);
  const parsed = (lines) => lines.map((line) => JSON.parse(line));
  return { program: parsed(stdout.trimEnd().split("\n")), oracle: parsed(finalReadingLines(header, effective)) };
}

/** @returns {{ team: string|null, player: number|null }[]} */
function keysOf(whose, doubles) {
  if (whose !== "player") return WHO[whose].map((team) => ({ team, player: null }));
  return doubles ? WHO.player.flatMap((team) => [0, 1].map((player) => ({ team, player }))) : [];
}

function checkStart(readings, which, doubles) {
  for (const [indicator, whose, type] of THERE_FROM_THE_START) {
    if (which === "oracle" && NOT_IN_THE_ORACLE.includes(indicator)) continue;
    const found = readings.filter((one) => one.indicator === indicator);
    const keys = found.map(({ team, player }) => ({ team, player }));
    assert.deepEqual(keys, keysOf(whose, doubles), `\`${indicator}\` in the ${which}`);
    for (const { value, slot } of found) {
      assert.equal(slot, null, indicator);
      assert.equal(value.type, type, indicator);
      if (START[type]) assert.deepEqual(value, { type, ...START[type] }, indicator);
    }
  }
}

for (const discipline of ["doubles", "singles"]) {
  test(`every indicator without slots exists from the start of ${discipline}`, async () => {
    const { program, oracle } = await readingsOf([], { discipline });
    checkStart(program, "program", discipline === "doubles");
    checkStart(oracle, "oracle", discipline === "doubles");
  });
}

test("every_slot_appears_with_its_first_case", async () => {
  const { program, oracle } = await readingsOf(SPEEDUPS);
  for (const readings of [program, oracle]) {
    for (const [indicator, slots] of Object.entries(WITH_SLOTS)) {
      const found = readings.filter((one) => one.indicator === indicator);
      assert.deepEqual(found.map(({ slot }) => slot).sort(), slots, indicator);
    }
  }
});

test("the_second_implementation_knows_every_indicator_but_those_of_chance_and_words", () => {
  const listed = [...THERE_FROM_THE_START.map(([indicator]) => indicator), ...Object.keys(WITH_SLOTS)];
  const expected = listed.filter((indicator) => !NOT_IN_THE_ORACLE.includes(indicator));
  assert.deepEqual(Object.keys(PLUGIN_OF).sort(), expected.sort());
});

test("a_made_up_match_brings_lines_for_the_commentator", async () => {
  const chart = await linesOf(["simulate", "--seed", "21"]);
  const { stdout } = await rallytide(["readings", "-", "--each", "--only", "prompt"], {
    input: `${chart.join("\n")}\n`,
  });
  const prompts = stdout
    .trimEnd()
    .split("\n")
    .flatMap((line) => JSON.parse(line).readings);
  assert.ok(prompts.length > 0);
  for (const { team, player, slot, value } of prompts) {
    assert.deepEqual({ team, player, type: value.type }, { team: null, player: null, type: "text" });
    assert.ok(slot.length > 0);
  }
});
