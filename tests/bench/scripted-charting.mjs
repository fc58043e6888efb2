/**
 * Whole made-up matches of one game at the tempo of play, charted on the page at every depth and with every
 * arrangement of the keys by a script that is late and slips (`support/slipping-typist.mjs`); how
 * well the charts agree with what was played, by `rallytide agree`; the keys that each mistake
 * takes. Prints the tables that `README.md` here keeps; minutes, on a clock that turns with the
 * script, so the machine's speed plays no part.
 *
 *     cargo build -p rallytide
 *     node bench/scripted-charting.mjs [SEED …]
 */
import { chromium } from "playwright-core";
import { tableOfMistakes } from "../support/mistakes.mjs";
import { RALLYTIDE } from "../support/program.mjs";
import { WAYS, chartedByScript, figuresOf, playedMatch } from "../support/scripted-charting.mjs";

const given = process.argv.slice(2).map(Number);
const seeds = given.length === 0 ? [3] : given;
if (seeds.some((seed) => !Number.isSafeInteger(seed) || seed < 0)) {
  console.error("usage: node bench/scripted-charting.mjs [SEED …], each a whole number");
  process.exit(2);
}

/** Hosts and pages to be closed, the latest first. */
const owned = [];
const owner = { after: (run) => owned.push(run) };
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--disable-quic"],
});
try {
  console.log(`measured: ${RALLYTIDE}, ${new Date().toISOString().slice(0, 10)}`);
  for (const seed of seeds) {
    const match = await playedMatch(seed, { games: 1 });
    const columns = {};
    for (const [number, [name, way]] of Object.entries(WAYS).entries()) {
      const charted = await chartedByScript(owner, browser, match, seed * 10 + number, way);
      const isPlanned = JSON.stringify(charted.onPage) === JSON.stringify(charted.onPaper);
      if (!isPlanned) console.log(`${name}: the page has charted something else than the keys say`);
      columns[name] = figuresOf(match, charted);
      console.error(`${name}: ${columns[name].keys} keys`);
      for (const run of owned.splice(0).reverse()) await run();
    }
    console.log(`\nMatch of seed ${seed}\n`);
    console.log(`| | ${Object.keys(columns).join(" | ")} |`);
    console.log(`|---${"|---".repeat(Object.keys(columns).length)}|`);
    for (const what of Object.keys(Object.values(columns)[0]))
      console.log(
        `| ${what} | ${Object.values(columns)
          .map((figures) => figures[what])
          .join(" | ")} |`,
      );
  }
  console.log(`\n${tableOfMistakes().join("\n")}`);
} finally {
  for (const run of owned.reverse()) await run();
  await browser.close();
}
