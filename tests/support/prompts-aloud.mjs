/**
 * The lines of a match as a text to read aloud, each with where the match stood and what shows it.
 *
 *   node support/prompts-aloud.mjs CHART…    prints those of charts
 */
import { readFile } from "node:fs/promises";
import { argv } from "node:process";
import { fileURLToPath } from "node:url";
import { promptSteps } from "./prompt-steps.mjs";

const minutes = (ms) => `${Math.floor(ms / 60_000)}:${String(Math.floor(ms / 1000) % 60).padStart(2, "0")}`;

/** Where the match stands after an entry. */
function standing({ entry, score, before, ended }) {
  const { finished, points, winner } = score;
  const over = finished.map(({ a, b }) => `${a}–${b}`);
  const now = winner === null ? [`${points.a}–${points.b}, ${score.serving} serves`] : [`match to ${winner}`];
  const what =
    entry.kind === "rally_end" ? `after rally ${ended}` : `at a ${entry.kind.replace("_", "-")} after rally ${ended}`;
  return `${what}, ${[...over, ...now].join(" | ")}${finished.length > before.finished.length ? ", game over" : ""}`;
}

/** @param {any} header @param {import("./prompt-steps.mjs").Step[]} steps */
export function aloud(header, steps) {
  const start = Date.parse(steps[0].entry.at);
  const { a, b } = header.teams;
  const lines = steps.flatMap((step) =>
    step.fresh.map(({ slot, value, why }) => {
      const time = minutes(Date.parse(step.entry.at) - start).padStart(6);
      const shown = why.map(({ code, team, entry: by }) => `${code}${team === null ? "" : ` ${team}`} ${by}`);
      const indent = " ".repeat(8);
      return `${time}  ${value.text}\n${indent}${standing(step)}\n${indent}${slot} at ${step.entry.id}: ${shown.join(", ")}\n`;
    }),
  );
  return [`${header.title}: ${a.name} (a), ${b.name} (b)\n`, ...lines].join("\n");
}

if (argv[1] === fileURLToPath(import.meta.url)) {
  for (const file of argv.slice(2)) {
    const { header, steps } = await promptSteps(await readFile(file, "utf8"));
    console.log(aloud(header, steps));
  }
}
