/**
 * The charters' page in a real browser against a host, and the made-up match that is typed into
 * it: `rallytide simulate` makes it, the typist of the overlay's tests says which keys it takes.
 */
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { LocalChart } from "../../overlay/shared/charting/local-chart.js";
import { SCHEME } from "../../overlay/shared/charting/scheme.js";
import { Typist } from "../../overlay/tests/support/typist.js";
import { readChart } from "../oracle/chart.mjs";
import { openBrowser, openPage } from "./browser.mjs";
import { freshFolder } from "./folders.mjs";
import { Host } from "./host.mjs";
import { linesOf } from "./program.mjs";
import { atTempo } from "./tempo.mjs";
import { until } from "./wait.mjs";

const OVERLAY = fileURLToPath(new URL("../../overlay", import.meta.url));
export const LAPTOP = { width: 1366, height: 768 };
/** When made-up matches begin; a typist's first key is not before. */
export const START = Date.parse("2026-05-09T10:00:00.000Z");

/** @type {Map<string, string>} key of the default choice → what it does */
export const ACTION_OF = new Map(SCHEME.map(({ code, action }) => [code, action]));

export async function startHost(t, { data, port = 0 } = {}) {
  const folder = data ?? (await freshFolder(t));
  const command = ["serve", "--listen", `127.0.0.1:${port}`, "--data", folder, "--pages", OVERLAY];
  return Host.start(t, { data: folder, port, command });
}

/** The same host again, with its folder and its port. */
export const restartHost = (t, host) => startHost(t, { data: host.data, port: host.port });

/**
 * Types a made-up match on paper, so to speak.
 * @param {Host} host
 * @param {number} seed
 * @param {{ rallies?: number, minutes?: number, games?: number }} [until] how much of it; best of how many games
 */
export async function typed(host, seed, { rallies = Infinity, minutes = Infinity, games = 3 } = {}) {
  const [first, ...lines] = (
    await linesOf(["simulate", "--seed", String(seed), "--plain", "--games", String(games)])
  ).map((line) => JSON.parse(line));
  const header = { ...first, court: "1" };
  const timed = atTempo(lines, START);
  let ended = 0;
  const end = timed.entries.findIndex(
    ({ kind, at }) => kind === "rally_end" && ((ended += 1) === rallies || Date.parse(at) - START >= minutes * 60_000),
  );
  const entries = end < 0 ? timed.entries : timed.entries.slice(0, end + 1);
  const localChart = await LocalChart.from(await (await host.get("/chart/chart.wasm")).arrayBuffer());
  const typist = new Typist(localChart, header);
  for (const entry of entries) typist.type(entry);
  return { ...timed, header, entries, typist };
}

/** Opens the page and waits until the court has answered. */
export async function openChart(t, host, { browser, context, address } = {}) {
  const opened = await openPage(
    context ?? browser ?? (await openBrowser(t)),
    address ?? host.http("/courts/1/chart"),
    LAPTOP,
  );
  await until("the page to connect", async () => (await lineOf(opened.page)) === "connected");
  return opened;
}

/** Brings the header to the page as somebody would: a chart file without entries. */
export async function begin(page, header, entries = []) {
  const text = [header, ...entries].map((line) => `${JSON.stringify(line)}\n`).join("");
  await page
    .locator(".setup [name=file]")
    .setInputFiles({ name: "match.jsonl", mimeType: "application/jsonl", buffer: Buffer.from(text) });
  await page.locator(".setup button").press("Enter");
  await page.locator(".court").waitFor();
}

/** Begins a match with the form, as somebody would who knows the names alone. */
export async function beginByForm(page) {
  const names = { a: "Otter", a0: "Ari", a1: "Noa", b: "Plover", b0: "Bea", b1: "Bo" };
  for (const [name, words] of Object.entries(names)) await page.locator(`.setup [name=${name}]`).fill(words);
  await page.locator(".setup [name=title]").press("Enter");
  await page.locator(".court").waitFor();
}

/** The same arrow again within half a second is one rally: who means two waits so long. */
const TWO_RALLIES_MS = 520;
/** The arrow pressed last on a page, and when. @type {WeakMap<object, { code: string, at: number }>} */
const lastArrow = new WeakMap();

/** Real key events of the browser's own input, as fast as the page takes them. */
export async function press(page, codes) {
  for (const code of codes) {
    const isArrow = code === "ArrowLeft" || code === "ArrowRight";
    const last = lastArrow.get(page);
    const since = performance.now() - (last?.at ?? -Infinity);
    if (isArrow && last?.code === code && since < TWO_RALLIES_MS) await pause(TWO_RALLIES_MS - since);
    await page.keyboard.press(code);
    if (isArrow) lastArrow.set(page, { code, at: performance.now() });
  }
}

/** The same at the time at which a typist presses them, on a clock that the test turns. */
export async function pressInTime(page, { codes, times }, from = 0, to = codes.length) {
  let now = await page.evaluate(() => Date.now());
  for (let at = from; at < to; at += 1) {
    if (times[at] > now) await page.clock.runFor(times[at] - now);
    now = Math.max(now, times[at]);
    await page.keyboard.press(codes[at]);
  }
}

/** @param {import('playwright-core').Page} page that has not been opened yet */
export async function stopClock(page, at = START - 1000) {
  await page.clock.install({ time: at - 60_000 });
  return { start: () => page.clock.pauseAt(at) };
}

export const lineOf = (page) => page.locator(".line").getAttribute("data-line");
export const textOf = (page, selector) => page.locator(selector).textContent();

export async function allSaved(page) {
  await until("everything to be saved", async () => (await textOf(page, ".line")) === "Connected, all saved", {
    within: 60_000,
    seen: () => textOf(page, ".line"),
  });
}

/** @param {string} id of a match @returns {Promise<any[]>} what is true after all corrections, as the host has it */
export async function effectiveOf(host, id) {
  return effectiveOfText(await readFile(host.logFile(id), "utf8"));
}

/** @param {string} text a chart file @returns {any[]} what is true after all corrections */
export function effectiveOfText(text) {
  const times = new Map(
    text
      .trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line))
      .map(({ id, at }) => [id, at]),
  );
  return readChart(text).effective.map(({ id, entry }) => ({ ...entry, id, at: times.get(id) }));
}

/** What axe finds wrong, a line each. */
export async function faultsByAxe(page) {
  const require = createRequire(new URL("../../overlay/package.json", import.meta.url));
  await page.addScriptTag({ path: require.resolve("axe-core/axe.min.js") });
  const { violations } = await page.evaluate(() =>
    globalThis.axe.run({
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    }),
  );
  return violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
}
