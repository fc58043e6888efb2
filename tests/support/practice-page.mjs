/**
 * The practice page in a real browser, on a clock that the test turns, and what a volunteer without
 * mistakes presses for a rally.
 */
import { fileURLToPath } from "node:url";
import { LocalChart } from "../../overlay/shared/charting/local-chart.js";
import { codesOf } from "../../overlay/shared/charting/presets.js";
import { cueActions, endActions, shotActions } from "../../overlay/practice/hints.js";
import { asked, readMatch } from "../../overlay/practice/made-up.js";
import { openBrowser } from "./browser.mjs";
import { freshFolder } from "./folders.mjs";
import { Host } from "./host.mjs";

const OVERLAY = fileURLToPath(new URL("../../overlay", import.meta.url));
export const LAPTOP = { width: 1366, height: 768 };
const USUAL = codesOf({ hand: "right", strokes: "all" });
export const SEED = 3;
/** How late the volunteer is, ms of the page's clock. */
export const LATE = 400;
/** A rally is shown so long before its serve, ms at real speed. */
export const LEAD = 1500;

export async function startHost(t) {
  const folder = await freshFolder(t);
  return Host.start(t, {
    data: folder,
    command: ["serve", "--listen", "127.0.0.1:0", "--data", folder, "--pages", OVERLAY],
  });
}

export async function openPractice(
  t,
  host,
  { rallies = "10", tempo = "1", context = {}, detail = "shots", arrangement = {} } = {},
) {
  const browser = await openBrowser(t);
  const page = await browser.newPage({ viewport: LAPTOP, ...context });
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  await page.clock.install({ time: 0 });
  await page.goto(host.http(`/practice?seed=${SEED}&court=1`));
  await page.locator(".choose").waitFor();
  await page.locator(".choose [name=rallies]").selectOption(rallies);
  await page.locator(".choose [name=tempo]").selectOption(tempo);
  await page.locator(".choose [name=detail]").selectOption(detail);
  if (Object.keys(arrangement).length > 0) await arrange(page, arrangement);
  await page.clock.pauseAt(60_000);
  await page.locator(".choose button:not([type])").press("Enter");
  await page.locator(".court").waitFor();
  const localChart = await LocalChart.from(await (await host.get("/chart/chart.wasm")).arrayBuffer());
  const made = readMatch(await (await host.get(`/practice/matches/${SEED}`)).text(), localChart, Number(rallies));
  return { page, errors, ...made };
}

/** Chooses keys in their dialog, as somebody would. */
async function arrange(page, arrangement) {
  await page.locator('[data-do="keys"]').press("Enter");
  for (const [name, value] of Object.entries(arrangement))
    await page.locator(`dialog.keys [name=${name}]`).selectOption(value);
  await page.keyboard.press("Escape");
}

/** @param {Record<string, string>} [codes] the keys of an arrangement */
export const press = async (page, actions, codes = USUAL) => {
  for (const action of actions) await page.keyboard.press(codes[action]);
};

/** What a volunteer without mistakes presses for a rally, and when: ms since the serve. */
export function rightKeys(rally, strokes = "all") {
  const shots = asked(rally.shots, strokes);
  const keys = shots.flatMap((shot, place) => [
    { shot: place, at: shot.at + LATE, actions: shotActions(shot, place + 1, strokes) },
    ...shot.cues.map((cue) => ({
      shot: place,
      cue,
      at: shot.at + LATE + 1,
      actions: cueActions(shots, place, cue),
    })),
  ]);
  const last = rally.shots.at(-1);
  keys.push({ shot: "end", at: last.at + 1500, actions: endActions(rally.end.how, rally.end.by, last.team) });
  return keys;
}

/** Plays the rally that is laid out and presses `keys` at their times. */
export async function chart(page, keys, codes = USUAL) {
  await press(page, ["film:play"], codes);
  let now = -LEAD;
  for (const { at, actions } of keys) {
    await page.clock.runFor(Math.round(at) - now);
    now = Math.round(at);
    await press(page, actions, codes);
  }
}
