/**
 * The random charts: always the same for a seed, readable, and never going on after the end of
 * the match. The score is judged line by line here, apart from how the generator keeps it.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { CORRECTION_KINDS, effectiveChart, parseChart } from "./chart.mjs";
import { randomChart } from "./random-chart.mjs";
import { eachReadingLines, finalReadingLines } from "./readings.mjs";
import { Match, scoreLines } from "./scoring.mjs";

const KINDS = ["score", "shots", "mixed", "attacks"];

function overAfter(header, entries) {
  const match = new Match(header);
  for (const { entry } of effectiveChart(entries)) match.apply(entry);
  return match.winner !== null;
}

test("a_seed_gives_the_same_chart_and_another_seed_another_one", () => {
  assert.equal(randomChart(7), randomChart(7));
  assert.notEqual(randomChart(7), randomChart(8));
});

test("after_the_end_of_the_match_only_corrections_and_notes_follow", () => {
  let late = 0;
  for (let seed = 1; seed <= 40; seed += 1) {
    const { header, entries } = parseChart(randomChart(seed, "score"));
    for (let index = 1; index < entries.length; index += 1) {
      if (!overAfter(header, entries.slice(0, index))) continue;
      late += 1;
      assert.ok([...CORRECTION_KINDS, "note"].includes(entries[index].entry.kind), `seed ${seed}, ${index}`);
    }
  }
  assert.ok(late > 20, "too few charts reach the end of the match");
});

test("the_score_is_that_of_the_chart_with_its_corrections_carried_out", () => {
  for (let seed = 1; seed <= 60; seed += 1) {
    const { header, entries } = parseChart(randomChart(seed, "mixed"));
    const effective = effectiveChart(entries);
    const plain = effective.map(({ id, at, entry }) => ({ ...entry, id, at, seq: undefined }));
    const text = [header, ...plain].map((line) => JSON.stringify(line)).join("\n");
    const again = effectiveChart(parseChart(text).entries);
    assert.deepEqual(scoreLines(header, again), scoreLines(header, effective), `seed ${seed}`);
  }
});

test("the_last_line_of_all_readings_is_the_final_readings", () => {
  for (const kind of KINDS) {
    for (let seed = 1; seed <= 30; seed += 1) {
      const { header, entries } = parseChart(randomChart(seed, kind));
      const effective = effectiveChart(entries);
      const lines = eachReadingLines(header, effective);
      assert.equal(lines.length, effective.length);
      const final = finalReadingLines(header, effective);
      if (lines.length > 0) assert.ok(lines.at(-1).endsWith(`"readings":[${final.join(",")}]}`));
    }
  }
});

// [derived] from the parity rule, 1999 book 5.B.7 (htpickleball.org), glossary 2022.
test("a_score_is_even_exactly_when_the_starting_server_belongs_on_the_right", () => {
  for (let seed = 1; seed <= 60; seed += 1) {
    const { header, entries } = parseChart(randomChart(seed, "score"));
    const { discipline, positions } = header.format;
    const plain = entries.every(
      ({ entry }) => entry.kind !== "lineup" && (entry.with ?? entry.entry ?? entry).kind !== "lineup",
    );
    if (discipline === "singles" || positions === "static" || !plain) continue;
    for (const { score } of scoreLines(header, effectiveChart(entries))) {
      if (score.winner !== null) continue;
      const starterOnRight = (player) => (score.court === "right") === (player === 0);
      const receiving = score.serving === "a" ? "b" : "a";
      assert.equal(score.points[score.serving] % 2 === 0, starterOnRight(score.server_player));
      assert.equal(score.points[receiving] % 2 === 0, starterOnRight(score.receiver_player));
    }
  }
});
