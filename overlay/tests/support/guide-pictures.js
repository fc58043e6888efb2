// Takes the pictures of the guides from the running program: a real host, a demo match
// as far as its third game, every page as people see it.
//   npm run guide-pictures [-- part of a name]      (RALLYTIDE names the program; default ../target/debug/rallytide)
// A picture that is larger than a guide should carry fails the run.

import { execFile, spawn } from "node:child_process";
import { mkdir, mkdtemp, readFile, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { openBrowser, openPage } from "./browser.js";

const OVERLAY = fileURLToPath(new URL("../../", import.meta.url));
const PROGRAM = process.env.RALLYTIDE ?? join(OVERLAY, "../target/debug/rallytide");
const CHART = join(OVERLAY, "../demo-streams/harbour-final.jsonl");
/** So much of the demo match is charted: a rally is on. */
const LINES = 1207;
/** A part of the name of those to take; all without. */
const only = process.argv[2] ?? "";
const MOST_BYTES = 100 * 1024;
const LAPTOP = { width: 1200, height: 675 };

/** @typedef {import("playwright-core").Page} Page */

/** @type {readonly { file: string, path: string, size?: { width: number, height: number }, shrunk?: number, clip?: { x: number, y: number, width: number, height: number }, act?: (page: Page) => Promise<void> }[]} */
const PICTURES = [
  { file: "desk/pictures/first-page.png", path: "/" },
  { file: "desk/pictures/courts.png", path: "/desk#courts" },
  {
    file: "desk/pictures/strap.png",
    path: "/courts/6/graphic",
    size: { width: 1920, height: 1080 },
    clip: { x: 420, y: 20, width: 1080, height: 150 },
    // The picture has no video below it.
    act: (page) => page.evaluate(() => void (document.body.style.background = "#5b7f6b")),
  },
  { file: "chart/pictures/practice.png", path: "/practice" },
  { file: "booth/pictures/booth.png", path: "/courts/6/booth", size: { width: 1024, height: 768 }, shrunk: 0.65 },
  {
    file: "review/pictures/review.png",
    shrunk: 0.62,
    path: "/review/harbour-final?pressed=lost-a",
    act: async (page) => {
      await page.keyboard.press("n");
      await page.locator("details[open] .shots li").first().waitFor();
    },
  },
];

const data = await mkdtemp(join(tmpdir(), "rallytide-guides-"));
const host = spawn(PROGRAM, ["serve", "--listen", "127.0.0.1:0", "--data", data, "--pages", OVERLAY], {
  stdio: ["ignore", "pipe", "inherit"],
});
const browser = await openBrowser();
try {
  const address = await addressOf(host);
  const chart = join(data, "..", `${data.split("/").at(-1)}.jsonl`);
  await writeFile(chart, `${(await readFile(CHART, "utf8")).split("\n").slice(0, LINES).join("\n")}\n`);
  await promisify(execFile)(PROGRAM, ["feed", chart, "--to", address, "--pace", "0"]);
  await rm(chart);
  for (const picture of PICTURES) if (picture.file.includes(only)) await take(address, picture);
} finally {
  await browser.close();
  host.kill();
  await rm(data, { recursive: true, force: true });
}

/** @param {import("node:child_process").ChildProcessByStdio<null, import("node:stream").Readable, null>} program @returns {Promise<string>} */
function addressOf(program) {
  return new Promise((resolve, reject) => {
    let said = "";
    program.on("close", (status) => reject(new Error(`the host ended with ${status}: ${said}`)));
    program.stdout.on("data", (bytes) => {
      said += String(bytes);
      const found = /(http:\/\/[\d.:]+)\//.exec(said);
      if (found?.[1] !== undefined) resolve(found[1]);
    });
  });
}

/** @param {string} address @param {(typeof PICTURES)[number]} picture */
async function take(address, { file, path, size = LAPTOP, shrunk = 1, clip, act }) {
  const { page, errors, close } = await openPage(browser, {
    viewport: size,
    deviceScaleFactor: shrunk,
    reducedMotion: "reduce",
  });
  page.setDefaultTimeout(60_000);
  await page.goto(`${address}${path}`);
  await page.waitForLoadState("networkidle").catch(() => {});
  await act?.(page);
  // What is shown stays for a second at least; then it is the last word.
  await page.waitForTimeout(2500);
  const target = join(OVERLAY, file);
  await mkdir(join(target, ".."), { recursive: true });
  await page.screenshot({ path: target, ...(clip === undefined ? {} : { clip }) });
  await close();
  const { size: bytes } = await stat(target);
  console.log(`${file}: ${Math.round(bytes / 1024)} KiB`, ...errors);
  if (bytes > MOST_BYTES) throw new Error(`${file} has ${bytes} bytes, a guide carries ${MOST_BYTES} at most`);
}
