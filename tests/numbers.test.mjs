/**
 * What holds between the numbers of any match, whatever is charted: shares keep within their whole,
 * and what one team did on offense is what the other suffered on defense. On made-up matches of
 * every format, after every entry, in the real program.
 *
 * Nothing here is published; it follows from what the indicators are (`plugins/<name>/README.md`).
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { readChart } from "./oracle/chart.mjs";
import { linesOf, rallytide } from "./support/program.mjs";

const MATCHES = [
  ["--seed", "21", "--players", "all"],
  ["--seed", "22", "--detail", "ends"],
  ["--seed", "23", "--detail", "score"],
  ["--seed", "24", "--scoring", "rally", "--points", "21", "--players", "some"],
  ["--seed", "25", "--discipline", "singles"],
  ["--seed", "26", "--discipline", "singles", "--scoring", "rally", "--points", "15"],
];
const OTHER = { a: "b", b: "a" };

/** @param {readonly string[]} options @returns {Promise<{ entry: any, readings: any[] }[]>} */
async function stepsOf(options) {
  const chart = await linesOf(["simulate", ...options]);
  const text = `${chart.join("\n")}\n`;
  // What an entry says after all corrections.
  const contents = new Map(readChart(text).effective.map(({ id, entry }) => [id, { ...entry, id }]));
  const { status, stdout, stderr } = await rallytide(["readings", "-", "--each"], { input: text });
  assert.equal(status, 0, stderr);
  return stdout
    .trimEnd()
    .split("\n")
    .map((line) => {
      const { entry, readings } = JSON.parse(line);
      return { entry: contents.get(entry), readings };
    });
}

/** @param {any[]} readings */
function lookup(readings) {
  const named = ({ indicator, team, slot, player }) => `${indicator} ${team ?? ""} ${slot ?? ""} ${player ?? ""}`;
  const byName = new Map(readings.map((one) => [named(one), one.value]));
  return (indicator, team = null, slot = null, player = null) => byName.get(named({ indicator, team, slot, player }));
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

const NONE = { part: 0, whole: 0 };

/** Every rally is won once, and its pressure, speedups and sitters are those of the rallies played. */
function sharesOfRalliesFit(readings, rallies, where) {
  const of = lookup(readings);
  const won = (team) =>
    of("serve.won", team).part + of("serve.won", OTHER[team]).whole - of("serve.won", OTHER[team]).part;
  assert.equal(won("a") + won("b"), rallies.ended, `each rally is won once ${where}`);
  for (const team of ["a", "b"]) {
    const [pressed, otherwise] = [of("pressed.won", team), of("unpressed.won", team)];
    assert.equal(pressed.whole + otherwise.whole, rallies.withShots, `under pressure or not ${where}`);
    assert.ok(pressed.part + otherwise.part <= won(team), `a rally won under pressure was won ${where}`);
    assert.ok(pressed.whole <= of("escape.share", team).whole, `a rally under pressure holds a pressed spell ${where}`);
    const [sitter, other] = ["sitter", "other"].map((slot) => of("speedup.won", team, slot) ?? NONE);
    assert.ok(sitter.whole + other.whole <= rallies.withShots, `a rally has one first speedup of a team ${where}`);
    assert.ok(sitter.part + other.part <= won(team), `a speedup won is a rally won ${where}`);
    assert.ok(
      sitter.whole <= of("sitter.punished", team).whole,
      `a speedup off a high ball had one to punish ${where}`,
    );
    assert.ok(
      of("approach.reached", team).whole <= rallies.withShots,
      `one spell a rally begins at its 2nd shot ${where}`,
    );
    assert.ok(of("neutral.first", team).whole <= rallies.withShots, `somebody is first once a rally ${where}`);
    assert.ok(of("gift.share", team).whole <= rallies.ended - won(team), `what was given away was lost ${where}`);
  }
}

/** What single players did is what their team did; in singles there is nobody to tell apart. */
function playersMakeTheirTeam(readings, { isDoubles, struck, lostByError }, where) {
  const of = lookup(readings);
  const all = readings.filter(({ indicator }) => indicator.startsWith("player."));
  assert.equal(all.length, isDoubles ? 12 : 0, where);
  if (!isDoubles) return;
  for (const team of ["a", "b"]) {
    const [shots, errors] = ["player.shots", "player.errors"].map((name) =>
      [0, 1].map((one) => of(name, team, null, one)),
    );
    for (const [one, two] of [shots, errors]) {
      assert.equal(one.whole, two.whole, `both partners' shares are of the same ${where}`);
      assert.equal(one.part + two.part, one.whole, `each is one of the two's ${where}`);
    }
    assert.ok(
      shots[0].whole <= struck[team],
      `${shots[0].whole} named of ${struck[team]} shots from the third on ${where}`,
    );
    assert.ok(errors[0].whole <= lostByError[team], `an error of somebody is one of the team's ${where}`);
    for (const player of [0, 1])
      assert.equal(
        of("player.pressed", team, null, player).whole,
        shots[player].part,
        `pressed of those struck ${where}`,
      );
  }
}

/** Follows a match by what its entries say alone. */
class Played {
  ended = 0;
  withShots = 0;
  struck = { a: 0, b: 0 };
  lostByError = { a: 0, b: 0 };
  #rally = [];

  /** @param {any} entry */
  take(entry) {
    if (entry.kind === "shot") this.#rally.push(entry.team);
    if (entry.kind === "rally_end") {
      this.ended += 1;
      this.withShots += this.#rally.length > 0 ? 1 : 0;
      this.#count(entry);
    }
    if (entry.kind === "rally_end" || entry.kind === "replay") this.#rally = [];
  }

  /** A shot after two by one team is one further: at most these are from the third on. */
  #count(entry) {
    let number = 0;
    for (const [place, team] of this.#rally.entries()) {
      number += this.#rally[place - 1] === team ? 2 : 1;
      if (number >= 3) this.struck[team] += 1;
    }
    if (["net", "out", "fault"].includes(entry.how)) this.lostByError[entry.by] += 1;
  }
}

for (const options of MATCHES) {
  test(`the numbers of the made-up match ${options.join(" ")} fit together after every entry`, async () => {
    const steps = await stepsOf(options);
    const isDoubles = !options.includes("singles");
    const played = new Played();
    for (const { entry, readings } of steps) {
      played.take(entry);
      const where = `after ${entry?.id}`;
      keepWithinBounds(readings, where);
      chancesAddUp(readings, where);
      if (entry?.kind !== "rally_end") continue;
      offenseMirrorsDefense(readings, where);
      sharesOfRalliesFit(readings, played, where);
      playersMakeTheirTeam(readings, { isDoubles, ...played }, where);
    }
    assert.ok(played.ended > 10, `${played.ended} rallies`);
  });
}

test("the made-up matches hold attacks, escapes, first attacks, gifts, speedups and players to compare", async () => {
  const of = lookup((await stepsOf(MATCHES[0])).at(-1).readings);
  const holds = (indicator, team, slot = null, player = null) => {
    const { part, whole } = of(indicator, team, slot, player);
    assert.ok(part > 0 && part < whole, `${indicator} ${slot ?? ""} ${team} ${player ?? ""}: ${part} of ${whole}`);
  };
  for (const team of ["a", "b"]) {
    for (const indicator of [
      ...["offense.finished", "escape.share", "neutral.first", "defense.bounced", "gift.share"],
      ...["pressed.won", "unpressed.won", "approach.reached", "sitter.punished"],
    ])
      holds(indicator, team);
    for (const slot of ["sitter", "other"]) holds("speedup.won", team, slot);
    for (const player of [0, 1])
      for (const name of ["shots", "pressed", "errors"]) holds(`player.${name}`, team, null, player);
  }
});
