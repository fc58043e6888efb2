/**
 * Every rally worked out by hand in `worked-rallies/` against what the plugins read in the real
 * program. The rules are common practice of the trade; nothing expected here was computed.
 */
import assert from "node:assert/strict";
import { readFile, readdir } from "node:fs/promises";
import { test } from "node:test";
import { fileURLToPath } from "node:url";
import { linesOf } from "./support/program.mjs";

const CASES = new URL("worked-rallies/", import.meta.url);

/** Strengths are exact fractions; the program computes with doubles. */
const TOLERANCE = 1e-12;

const names = (await readdir(CASES, { withFileTypes: true })).filter((one) => one.isDirectory()).map((one) => one.name);

test("the_folder_of_worked_rallies_is_not_empty", () => {
  assert.ok(names.length >= 15, `only ${names.length} cases found`);
});

for (const name of names) {
  test(`${name} is read as a coach would call it`, async () => {
    const folder = new URL(`${name}/`, CASES);
    const expected = parseExpected(await readFile(new URL("expected.txt", folder), "utf8"));
    const lines = await linesOf(["readings", fileURLToPath(new URL("chart.jsonl", folder)), "--each"]);
    const read = lines.map((line) => JSON.parse(line));
    assert.deepEqual(
      read.map(({ entry }) => entry),
      expected.map(({ entry }) => entry),
      "the effective entries",
    );
    read.forEach((line, place) => compare(line, expected[place]));
  });
}

/**
 * @param {string} text an `expected.txt`
 * @returns {{ entry: string, line: string, strength: number, escape: string|null }[]} `line`: without
 *   the strength, which is compared as a number
 */
function parseExpected(text) {
  const wanted = [];
  for (const row of text.split("\n")) {
    if (row.startsWith("#")) continue;
    const line = row.split("  #")[0].trimEnd();
    if (line === "") continue;
    if (line.startsWith("  = ")) {
      wanted.at(-1).escape = line.slice("  = ".length);
      continue;
    }
    const found = /^(\S+) \| holder=(\S+) strength=(\S+) \| (.*)$/.exec(line);
    assert.ok(found, `expected.txt holds a line that is not understood: ${line}`);
    const [, entry, holder, fraction, rest] = found;
    const [part, whole = "1"] = fraction.split("/");
    wanted.push({ entry, line: `holder=${holder} | ${rest}`, strength: part / whole, escape: null });
  }
  return wanted;
}

function compare({ entry, readings }, wanted) {
  const find = (indicator, team = null) => {
    const reading = readings.find((one) => one.indicator === indicator && one.team === team);
    assert.ok(reading, `${entry}: there is no \`${indicator}\` of ${team ?? "the match"}`);
    return reading;
  };
  const { value, why, flags } = find("initiative");
  const rows = why.map((row) => `${row.code}:${row.team}:${row.entry}${row.inferred ? ":inferred" : ""}`);
  const depthOf = (team) => {
    const { value: where, flags: how } = find("depth", team);
    return `${team}=${where.text}${how.includes("inferred") ? "~" : ""}`;
  };
  const line = [
    `holder=${value.toward ?? "-"}`,
    `why=${rows.join(", ") || "-"}`,
    `flags=${flags.join(",") || "-"}`,
    `depth ${depthOf("a")} ${depthOf("b")}`,
  ].join(" | ");
  assert.equal(line, wanted.line, entry);
  assert.ok(Math.abs(value.strength - wanted.strength) <= TOLERANCE, `${entry}: strength ${value.strength}`);
  if (wanted.escape !== null) assert.equal(escapeLine(find), wanted.escape, `${entry}: escapes`);
}

/** `escape a=streak/best/part:whole approach=part:whole b=…` */
function escapeLine(find) {
  const share = (indicator, team) => {
    const { part, whole } = find(indicator, team).value;
    return `${part}:${whole}`;
  };
  const teams = ["a", "b"].map((team) => {
    const counts = `${find("escape.streak", team).value.n}/${find("escape.best", team).value.n}`;
    return `${team}=${counts}/${share("escape.share", team)} approach=${share("approach.reached", team)}`;
  });
  return `escape ${teams.join(" ")}`;
}
