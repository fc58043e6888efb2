/**
 * The charting page of somebody who records the strokes, on a clock that the test turns, beside
 * somebody else's cues page (`two-charters.mjs`).
 */
import { allSaved, begin, lineOf } from "./chart-page.mjs";
import { START } from "./two-charters.mjs";
import { until } from "./wait.mjs";

export class StrokesPage {
  /** @param {import('playwright-core').BrowserContext} context @param {import('./host.mjs').Host} host */
  constructor(context, host) {
    this.context = context;
    this.host = host;
    this.now = START - 5_000;
    this.errors = [];
  }

  async open() {
    this.page = await this.context.newPage();
    this.page.on("pageerror", (error) => this.errors.push(String(error)));
    await this.page.clock.install({ time: this.now - 60_000 });
    await this.page.goto(this.host.http("/courts/1/chart"));
    await until("the charting page to connect", async () => (await lineOf(this.page)) === "connected", {
      seen: () => this.page.locator("main").textContent(),
    });
  }

  /** Begins the match and stops the clock. */
  async begin(header) {
    await begin(this.page, header);
    await allSaved(this.page);
    await this.page.clock.pauseAt(this.now);
  }

  /** Gone without a word in the middle of a match, as a laptop that is switched off, and opened again. */
  async killAndReopen() {
    await this.page.close({ runBeforeUnload: false });
    await this.open();
    await this.page.locator(".court").waitFor();
    await allSaved(this.page);
    await this.page.clock.pauseAt(this.now);
  }

  /** Turns the clock. @param {number} at ms since 1970 */
  async at(at) {
    if (at <= this.now) return;
    await this.page.clock.runFor(at - this.now);
    this.now = at;
  }

  /** @param {{ code: string, at: number }[]} keys */
  async press(keys) {
    for (const { code, at } of keys) {
      await this.at(at);
      await this.page.keyboard.press(code);
    }
  }
}
