/**
 * What holds between the numbers of any match, whatever is charted: shares keep within their whole,
 * and what one team did on offense is what the other suffered on defense. On made-up matches of
 * every format, after every entry, in the real program.
 *
 * Nothing here is published; it follows from what the indicators are (`plugins/<name>/README.md`).
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { linesOf, rallytide } from "./support/program.mjs";

const MATCHES = [
  ["--seed", "21"],
  ["--seed", "22", "--detail", "ends"],
  ["--seed", "23", "--detail", "score"],
  ["--seed", "24", "--scoring", "rally", "--points", "21"],
  ["--seed", "25", "--discipline", "singles"],
  ["--seed", "26", "--discipline", "singles", "--scoring", "rally", "--points", "15"],
];
const OTHER = { a: "b", b: "a" };

/** @param {readonly string[]} options @returns {Promise<{ entry: any, readings: any[] }[]>} */
async function stepsOf(options) {
  const chart = await linesOf(["simulate", ...options]);
  const kinds = new Map(
    chart
      .slice(1)
      .map((line) => JSON.parse(line))
      .map((entry) => [entry.id, entry]),
  );
  const { status, stdout, stderr } = await rallytide(["readings", "-", "--each"], { input: `${chart.join("\n")}\n` });
  assert.equal(status, 0, stderr);
  return stdout
    .trimEnd()
    .split("\n")
    .map((line) => {
      const { entry, readings } = JSON.parse(line);
      return { entry: kinds.get(entry), readings };
    });
}

/** @param {any[]} readings */
function lookup(readings) {
  const byName = new Map(readings.map((one) => [`${one.indicator} ${one.team ?? ""} ${one.slot ?? ""}`, one.value]));
  return (indicator, team = "", slot = "") => byName.get(`${indicator} ${team} ${slot}`);
}

/** @param {any[]} readings @param {string} where */
function keepWithinBounds(readings, where) {
  for (const { indicator, team, slot, value } of readings) {
    const what = `${indicator} ${team ?? ""} ${slot ?? ""} ${where}: ${JSON.stringify(value)}`;
    if (value.type === "share")
      assert.ok(Number.isInteger(value.part) && value.part >= 0 && value.part <= value.whole, what);
    if (value.type === "chance") assert.ok(value.p >= 0 && value.p <= 1, what);
    if (value.type === "count") assert.ok(Number.isInteger(value.n) && value.n >= 0, what);
  }
}

/** @param {any[]} readings @param {string} where */
function chancesAddUp(readings, where) {
  const of = lookup(readings);
  for (const indicator of ["win.game", "win.match"]) {
    const sum = of(indicator, "a").p + of(indicator, "b").p;
    assert.ok(Math.abs(sum - 1) < 1e-12, `${indicator} adds up to ${sum} ${where}`);
  }
}

/** Once a rally has ended its spells have ended as well, so both sides of them are counted. */
function offenseMirrorsDefense(readings, where) {
  const of = lookup(readings);
  const first = { a: of("neutral.first", "a"), b: of("neutral.first", "b") };
  assert.equal(first.a.whole, first.b.whole, where);
  assert.equal(first.a.part + first.b.part, first.a.whole, `one team is first ${where}`);
  for (const team of ["a", "b"]) {
    const attacks = of("offense.finished", team);
    const escapes = of("escape.share", OTHER[team]);
    assert.equal(attacks.whole, escapes.whole, `attacks of ${team} are pressed spells of ${OTHER[team]} ${where}`);
    assert.equal(attacks.part, escapes.whole - escapes.part, `a finished attack is a lost spell ${where}`);
    assert.ok(of("escape.best", team).n >= of("escape.streak", team).n, where);
    assert.ok(of("escape.best", team).n <= of("escape.share", team).part, where);
    const thirds = readings.filter((one) => one.indicator === "third.won" && one.team === team);
    const whole = thirds.reduce((sum, { value }) => sum + value.whole, 0);
    assert.ok(whole <= of("serve.won", team).whole, `a rally has one third shot ${where}`);
  }
  const served = of("serve.won", "a").whole + of("serve.won", "b").whole;
  assert.equal(served, of("charting.coverage").whole, `each rally is served once ${where}`);
  const lost = served - of("serve.won", "a").part - (of("serve.won", "b").whole - of("serve.won", "b").part);
  assert.ok(of("gift.share", "a").whole <= lost, `a rally given away was lost ${where}`);
}

for (const options of MATCHES) {
  test(`the numbers of the made-up match ${options.join(" ")} fit together after every entry`, async () => {
    const steps = await stepsOf(options);
    let ends = 0;
    for (const { entry, readings } of steps) {
      const where = `after ${entry?.id}`;
      keepWithinBounds(readings, where);
      chancesAddUp(readings, where);
      if (entry?.kind !== "rally_end") continue;
      offenseMirrorsDefense(readings, where);
      ends += 1;
    }
    assert.ok(ends > 10, `${ends} rallies`);
  });
}

test("the made-up matches hold attacks, escapes, first attacks and gifts to compare", async () => {
  const of = lookup((await stepsOf(MATCHES[0])).at(-1).readings);
  for (const team of ["a", "b"]) {
    for (const indicator of ["offense.finished", "escape.share", "neutral.first", "defense.bounced", "gift.share"]) {
      const { part, whole } = of(indicator, team);
      assert.ok(part > 0 && part < whole, `${indicator} ${team}: ${part} of ${whole}`);
    }
  }
});
