/**
 * A made-up match at the tempo of play, charted on the page by a script that is late and slips
 * (`slipping-typist.mjs`), and how well the chart agrees with the match, as `rallytide agree` says.
 */
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { LocalChart } from "../../overlay/shared/charting/local-chart.js";
import {
  START,
  allSaved,
  begin,
  effectiveOf,
  effectiveOfText,
  openChart,
  pressInTime,
  startHost,
  stopClock,
} from "./chart-page.mjs";
import { freshFolder } from "./folders.mjs";
import { linesOf, rallytide } from "./program.mjs";
import { SlippingTypist, askedFor, winnerOf } from "./slipping-typist.mjs";
import { atTempo } from "./tempo.mjs";

/** The depths of charting, and the arrangements of keys for the deepest. */
export const WAYS = {
  "every shot": { detail: "shots" },
  "every shot, left hand": { detail: "shots", hand: "left" },
  "every shot, number pad": { detail: "shots", hand: "pad" },
  "few strokes": { detail: "shots", strokes: "few" },
  "rally results and cues": { detail: "ends" },
  "score only": { detail: "score" },
};

/** How late is late, ms. */
const LATE_MS = 2_000;

const asText = (lines) => lines.map((line) => `${JSON.stringify(line)}\n`).join("");

/** @param {number} seed @param {{ games?: number, count?: number }} [length] best of how many games; how many rallies of it */
export async function playedMatch(seed, { games = 3, count = Infinity } = {}) {
  const simulated = await linesOf(["simulate", "--seed", String(seed), "--plain", "--games", String(games)]);
  const [first, ...lines] = simulated.map((line) => JSON.parse(line));
  const rallies = [[]];
  for (const entry of atTempo(lines, START).entries) {
    rallies.at(-1).push(entry);
    if (entry.kind === "rally_end") rallies.push([]);
  }
  return { header: { ...first, court: "1" }, rallies: rallies.slice(0, -1).slice(0, count) };
}

/** The same without a page: which keys the script presses when, and the chart they make. */
export async function planned(host, { header, rallies }, seed, way) {
  const localChart = await LocalChart.from(await (await host.get("/chart/chart.wasm")).arrayBuffer());
  const typist = new SlippingTypist(localChart, header, { seed, ...way });
  for (const rally of rallies) typist.typeRally(askedFor(rally, way.detail, way.strokes ?? "all"));
  return typist;
}

/** Chooses depth and arrangement as somebody would, before the first key. */
async function choose(page, { detail, hand, strokes }) {
  for (let times = ["shots", "ends", "score"].indexOf(detail); times > 0; times -= 1)
    await page.keyboard.press("Digit0");
  if (hand === undefined && strokes === undefined) return;
  await page.locator('[data-do="keys"]').press("Enter");
  for (const [name, value] of Object.entries({ hand, strokes }))
    if (value !== undefined) await page.locator(`dialog.keys [name=${name}]`).selectOption(value);
  await page.keyboard.press("Escape");
}

/** What a chart says, and when, without its ids. */
const told = (effective) =>
  effective.map(({ kind, team, stroke, contact, cue, depth, how, by, won_by, at }) =>
    JSON.stringify({ kind, team, stroke, contact, cue, depth, how, by, won_by, at }),
  );

/**
 * Charts the match on the page, on a clock that turns with the script.
 * @param {{ after: (run: () => unknown) => void }} t owns host and page
 * @param {import('playwright-core').Browser} browser
 */
export async function chartedByScript(t, browser, match, seed, way) {
  const host = await startHost(t);
  const typist = await planned(host, match, seed, way);
  const context = await browser.newContext();
  const clock = await stopClock(context);
  const { page, errors } = await openChart(t, host, { context });
  await begin(page, match.header);
  await choose(page, way);
  await allSaved(page);
  await clock.start();
  await pressInTime(page, typist);
  await page.clock.resume();
  await allSaved(page);
  const effective = await effectiveOf(host, match.header.id);
  await context.close();
  const agreed = await agreement(t, match, host.logFile(match.header.id));
  return {
    typist,
    errors,
    agreed,
    onPage: told(effective),
    onPaper: told(effectiveOfText(asText([match.header, ...typist.entries]))),
    wrongRallies: wrongRallies(match, effective),
  };
}

/** @returns {number[]} which rallies the chart gives to the wrong team, or has too few or too many */
function wrongRallies({ rallies }, effective) {
  const charted = effective.filter(({ kind }) => kind === "rally_end").map(winnerOf);
  const truth = rallies.map((rally) => winnerOf(rally.at(-1)));
  const longer = Math.max(charted.length, truth.length);
  return Array.from({ length: longer }, (_, at) => at).filter((at) => charted[at] !== truth[at]);
}

/** @returns {Promise<Record<string, { cases: number, agreed: number, kappa: number | null }>>} by what is compared */
async function agreement(t, { header, rallies }, chart) {
  const truth = join(await freshFolder(t), "truth.jsonl");
  await writeFile(truth, asText([header, ...rallies.flat()]));
  const { stdout, stderr, status } = await rallytide(["agree", "--json", truth, chart]);
  if (status !== 0) throw new Error(`\`rallytide agree\` ended with ${status}: ${stderr}`);
  const kinds = JSON.parse(stdout).kinds.map(({ kind, cases, agreed, kappa }) => [
    kind,
    { cases, agreed, kappa: kappa?.value ?? null },
  ]);
  return Object.fromEntries(kinds);
}

/** What a script's match came to, in figures. */
export function figuresOf({ rallies }, { typist, agreed, wrongRallies: wrong }) {
  const late = [...typist.lateness].sort((one, other) => one - other);
  const at = (share) => (late[Math.min(late.length - 1, Math.floor(late.length * share))] / 1000).toFixed(1);
  const share = (kind) => {
    const { cases, agreed: same } = agreed[kind] ?? { cases: 0 };
    return cases === 0 ? "not charted" : `${((same / cases) * 100).toFixed(1)} % of ${cases}`;
  };
  return {
    rallies: rallies.length,
    keys: typist.codes.length,
    "keys a rally": (typist.codes.length / rallies.length).toFixed(1),
    slips: Object.values(typist.slips).reduce((sum, count) => sum + count, 0),
    "wrong team until seen": typist.wrongAtFirst,
    "wrong team": wrong.length,
    "late, median": `${at(0.5)} s`,
    "late, 95 of 100": `${at(0.95)} s`,
    "later than 2 s": late.filter((ms) => ms > LATE_MS).length,
    winner: share("rally_winner"),
    "how it ended": share("rally_how"),
    "who struck": share("team"),
    stroke: share("stroke"),
    contact: share("contact"),
    "high ball": share("attackable"),
    initiative: share("initiative"),
  };
}
