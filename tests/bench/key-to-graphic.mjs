/**
 * How long from a key of the charters' page to the frame that shows it there, and to the frame of
 * a graphic in another browser that shows it. Beside each, in the same run and key by key in turn,
 * the least any page could take: a bare page that writes a letter, and a bare socket relay to a
 * bare second page. Prints medians and 99th percentiles; asserts nothing.
 *
 *     cargo build --release -p rallytide
 *     RALLYTIDE=../target/release/rallytide node bench/key-to-graphic.mjs [KEYS]
 *
 * Says first which build it measures, by cargo's folders; numbers of a debug build prove nothing.
 *
 * A key counts from `event.timeStamp`, when the browser got it from the system (here: from the
 * driver). A change counts as painted when, after the change of the DOM, an animation frame has
 * begun and the task behind it runs: the frame has been handed over. Both browsers run on one
 * machine, so their clocks are one (`performance.timeOrigin` plus its time, some 0.1 ms apart).
 */
import { createServer } from "node:http";
import { realpathSync, statSync } from "node:fs";
import { chromium } from "playwright-core";
import { WebSocketServer } from "ws";
import { Host } from "../support/host.mjs";
import { RALLYTIDE } from "../support/program.mjs";

const KEYS = Number(process.argv[2] ?? 200);
const SIZE = { width: 1366, height: 768 };
/** Rallies as dull as they come: every key but the last two is a shot. */
const RALLY = ["Space", "Space", "KeyK", "KeyJ", "KeyJ", "KeyU", "Space", "KeyL", "Digit2", "Enter"];

const undo = [];
try {
  await run();
} finally {
  for (const step of undo.reverse()) await step();
}

async function run() {
  const host = await Host.start({ after: (step) => undo.push(step) });
  const relay = await startRelay();
  const [hands, eyes] = [await launch(), await launch()];
  const chart = await open(hands, host.http("/courts/1/chart"));
  await chart.locator(".line[data-line=connected]").waitFor();
  await chart.locator(".setup button").press("Enter");
  await chart.locator(".court").waitFor();
  const graphic = await open(eyes, host.http("/courts/1/graphic"));
  await graphic.locator("rt-rally-ribbon").first().waitFor({ state: "attached" });
  const [near, far] = [await open(hands, `${relay}/near`), await open(eyes, `${relay}/far`)];
  await watch(chart, ".recent");
  await watch(graphic, "rt-rally-ribbon, rt-score-plate");
  await watch(near, "p");
  await watch(far, "p");
  await near.waitForFunction(() => globalThis.open === true);
  await far.waitForFunction(() => globalThis.open === true);
  const found = { chart: [], graphic: [], near: [], far: [] };
  const ribbon = [];
  for (let at = 0; at < KEYS; at += 1) {
    const code = RALLY[at % RALLY.length];
    const [here, there] = await keyed(chart, graphic, code);
    // What is armed shows elsewhere, and the end of a rally waits to be read: shots alone count.
    if (!["Digit2", "Enter"].includes(code)) {
      found.chart.push(here);
      found.graphic.push(there);
      ribbon.push(code);
    }
    const [bare, relayed] = await keyed(near, far, "KeyJ");
    found.near.push(bare);
    found.far.push(relayed);
  }
  console.log(`${buildOf(RALLYTIDE)}: ${RALLYTIDE}`);
  say("key → shown in the charting page", found.chart);
  say("key → shown in a bare page", found.near);
  say("key → painted by the graphic in another browser", found.graphic);
  say("key → bare relay → bare page in another browser", found.far);
}

/** @param {string} path of the program @returns {string} */
function buildOf(path) {
  const real = realpathSync(path);
  const build = /[/\\](release|debug)[/\\][^/\\]+$/.exec(real)?.[1] ?? "unknown";
  return `${build} build of ${statSync(real).mtime.toISOString()}`;
}

async function launch() {
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--disable-quic"],
  });
  undo.push(() => browser.close());
  return browser;
}

/** Each in a window of its own, so that none is in the background. */
async function open(browser, url) {
  const page = await (await browser.newContext({ viewport: SIZE })).newPage();
  await page.goto(url);
  return page;
}

/** Notes when keys come, and when the frame behind each change of `selector` has been handed over. */
async function watch(page, selector) {
  await page.evaluate((watched) => {
    const now = (time = performance.now()) => performance.timeOrigin + time;
    globalThis.keyAt = 0;
    globalThis.paintedAt = 0;
    addEventListener(
      "keydown",
      (event) => {
        globalThis.keyAt = now(event.timeStamp);
      },
      true,
    );
    const channel = new MessageChannel();
    channel.port1.onmessage = () => {
      globalThis.paintedAt = now();
    };
    let waits = false;
    const observer = new MutationObserver(() => {
      if (waits) return;
      waits = true;
      requestAnimationFrame(() => {
        waits = false;
        channel.port2.postMessage(null);
      });
    });
    for (const node of document.querySelectorAll(watched))
      observer.observe(node, { childList: true, subtree: true, characterData: true, attributes: true });
  }, selector);
}

/** @returns {Promise<[number, number]>} ms from a key to its frame here, and to the one there */
async function keyed(here, there, code) {
  await here.bringToFront();
  await there.bringToFront();
  await Promise.all(
    [here, there].map((page) =>
      page.evaluate(() => {
        globalThis.paintedAt = 0;
      }),
    ),
  );
  // Not in step with the screen.
  await new Promise((resolve) => setTimeout(resolve, 30 + Math.random() * 40));
  await here.keyboard.press(code);
  if (code === "Digit2") return [0, 0];
  const painted = (page) =>
    page.waitForFunction(() => globalThis.paintedAt, undefined, { polling: 20, timeout: 10_000 });
  const [one, other] = await Promise.all([painted(here), painted(there)]);
  const key = await here.evaluate(() => globalThis.keyAt);
  return [(await one.jsonValue()) - key, (await other.jsonValue()) - key];
}

/** The least there can be: a key sends a letter, whoever listens shows it. */
async function startRelay() {
  const page = `<!doctype html><p>0</p><script>
    const shown = document.querySelector("p");
    const socket = new WebSocket(location.href.replace("http", "ws"));
    let count = 0;
    socket.onopen = () => { globalThis.open = true; };
    socket.onmessage = ({ data }) => { shown.textContent = data; };
    addEventListener("keydown", () => { shown.textContent = String(count += 1); socket.send(shown.textContent); });
  </script>`;
  const server = createServer((_, response) => response.writeHead(200, { "content-type": "text/html" }).end(page));
  const sockets = new WebSocketServer({ server });
  sockets.on("connection", (socket) => {
    socket.on("message", (data) => {
      for (const other of sockets.clients) if (other !== socket) other.send(String(data));
    });
  });
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  undo.push(() => {
    for (const socket of sockets.clients) socket.terminate();
    server.close();
  });
  return `http://127.0.0.1:${server.address().port}`;
}

function say(what, times) {
  const sorted = [...times].sort((one, other) => one - other);
  const at = (share) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))].toFixed(1).padStart(6);
  console.log(`${what.padEnd(52)} p50 ${at(0.5)} ms   p99 ${at(0.99)} ms   (${sorted.length} keys)`);
}
