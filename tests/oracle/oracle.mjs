#!/usr/bin/env node
/**
 * Command line of the independent second implementation, for comparing its output with the
 * program's, byte for byte.
 *
 *   node oracle.mjs score FILE                             as `rallytide score FILE --json`
 *   node oracle.mjs readings FILE [--each] [--only a,b]    as `rallytide readings FILE …`
 *   node oracle.mjs flags FILE                             the flags of every effective entry
 *   node oracle.mjs batch DIR [--each] [--only a,b]        writes NAME.score, NAME.readings and,
 *                                                          with --each, NAME.each beside every
 *                                                          NAME.jsonl
 *
 * Exit status: 0 done, 1 the chart is at fault, 2 wrong usage.
 */
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { ChartError, readChart } from "./chart.mjs";
import { flagLines } from "./flags.mjs";
import { eachReadingLines, finalReadingLines } from "./readings.mjs";
import { scoreLines } from "./scoring.mjs";

const USAGE = "usage: oracle.mjs score|readings|flags FILE, or batch DIR [--each] [--only a,b]";

function parseArguments(argv) {
  const options = { each: false, only: null };
  const words = [];
  for (let index = 0; index < argv.length; index += 1) {
    const word = argv[index];
    if (word === "--each") options.each = true;
    else if (word === "--only") options.only = (argv[(index += 1)] ?? "").split(",");
    else if (word.startsWith("--")) return null;
    else words.push(word);
  }
  const [command, path] = words;
  return words.length === 2 ? { command, path, options } : null;
}

const asJsonLines = (lines) => lines.map((line) => JSON.stringify(line));

/** @returns {string[]|null} lines, null for an unknown command */
function linesOf(command, text, options) {
  const { header, effective } = readChart(text);
  switch (command) {
    case "score":
      return asJsonLines(scoreLines(header, effective));
    case "flags":
      return asJsonLines(flagLines(header, effective));
    case "each":
      return eachReadingLines(header, effective, options);
    case "readings":
      return finalReadingLines(header, effective, options);
    default:
      return null;
  }
}

const asText = (lines) => lines.map((line) => `${line}\n`).join("");

function batch(folder, options) {
  for (const name of readdirSync(folder).filter((file) => file.endsWith(".jsonl"))) {
    const path = join(folder, name);
    const text = readFileSync(path, "utf8");
    for (const command of ["score", "readings", ...(options.each ? ["each"] : [])]) {
      const target = path.replace(/jsonl$/, command);
      writeFileSync(target, asText(linesOf(command, text, options)));
    }
  }
}

function main() {
  const parsed = parseArguments(process.argv.slice(2));
  if (parsed === null) return fail(2, USAGE);
  const { command, path, options } = parsed;
  try {
    if (command === "batch") {
      batch(path, options);
      return 0;
    }
    const wanted = command === "readings" && options.each ? "each" : command;
    const lines = linesOf(wanted, readFileSync(path, "utf8"), options);
    if (lines === null) return fail(2, USAGE);
    process.stdout.write(asText(lines));
    return 0;
  } catch (error) {
    if (error instanceof ChartError) return fail(1, `${path}: ${error.message}`);
    throw error;
  }
}

function fail(status, message) {
  process.stderr.write(`${message}\n`);
  return status;
}

process.exitCode = main();
