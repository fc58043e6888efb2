/** Comparing what the program prints with what the second implementation computes. */
import { asLines } from "./program.mjs";

/**
 * Compares line by line and fails at the first difference, with all that is needed to see it again.
 * @param {{ seed: number, kind: string }} chart of `oracle/random-chart.mjs`
 * @param {string} command the program's, for the message
 * @param {{ status: number, stdout: string, stderr: string }} outcome
 * @param {string[]} expected
 */
export function compareLines({ seed, kind }, command, outcome, expected) {
  const again = `node oracle/random-chart.mjs ${seed} --kind ${kind} >chart.jsonl; rallytide ${command} chart.jsonl`;
  if (outcome.status !== 0) {
    throw new Error(`seed ${seed} (${kind}): exit status ${outcome.status}\n${outcome.stderr}\nagain: ${again}`);
  }
  const actual = asLines(outcome.stdout);
  const place = actual.findIndex((line, index) => line !== expected[index]);
  if (place < 0 && actual.length === expected.length) return;
  const at = place < 0 ? actual.length : place;
  const entry = /"entry":"([^"]*)"/.exec(expected[at] ?? actual[at])?.[1];
  throw new Error(
    [
      `seed ${seed} (${kind}), line ${at + 1}${entry === undefined ? "" : `, entry ${entry}`}: the two differ`,
      `program: ${around(actual[at], expected[at])}`,
      `oracle:  ${around(expected[at], actual[at])}`,
      `again:   ${again}`,
    ].join("\n"),
  );
}

/** The line from shortly before the first difference on. */
function around(line, other) {
  if (line === undefined) return "(no such line)";
  if (other === undefined || line.length < 700) return line;
  let same = 0;
  while (line[same] === other[same] && same < line.length) same += 1;
  return `…${line.slice(Math.max(same - 200, 0), same + 500)}…`;
}
