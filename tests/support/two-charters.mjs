/**
 * Two people chart one made-up match: one records the strokes over a socket, a second late, the
 * other one marks the cues on the page. Their delays are made up from a seed; the page's clock is
 * turned by the test, so the speed of the machine plays no part.
 */
import { seeded } from "../../overlay/tests/support/two-people.js";
import { readChart } from "../oracle/chart.mjs";
import { linesOf } from "./program.mjs";
import { atTempo } from "./tempo.mjs";
import { until } from "./wait.mjs";

/** When made-up matches begin. */
export const START = Date.parse("2026-05-09T10:00:00.000Z");
/** The page's keys for the cues of either half, as it comes (`overlay/cues/keys.js`). */
const KEYS = {
  left: { attackable: "KeyF", off_balance: "KeyD", awkward: "KeyS", net_cord: "KeyA" },
  right: { attackable: "KeyJ", off_balance: "KeyK", awkward: "KeyL", net_cord: "Semicolon" },
};

/**
 * What happened, at the tempo of play: strokes and ends, and what was seen about which shot.
 * @param {number} seed @param {number} rallies
 */
export async function played(seed, rallies) {
  const lines = await linesOf(["simulate", "--seed", String(seed), "--plain", "--games", "1"]);
  const header = { ...JSON.parse(lines[0]), court: "1" };
  const effective = readChart(lines.join("\n")).effective.map(({ id, entry }) => ({ ...entry, id }));
  const wanted = effective.filter(({ kind }) => ["shot", "cue", "rally_end"].includes(kind));
  const strokes = [];
  const cues = [];
  let ended = 0;
  let latest = null;
  for (const entry of atTempo(wanted, START).entries) {
    const { cues: seen = [], ...rest } = entry;
    if (entry.kind === "cue") cues.push({ cue: entry.cue, about: entry.shot ?? latest.id });
    else strokes.push(rest);
    if (entry.kind === "shot") latest = rest;
    for (const cue of seen) cues.push({ cue, about: entry.id });
    if (entry.kind === "rally_end" && (ended += 1) === rallies) break;
  }
  const times = new Map(strokes.map(({ id, at, team }) => [id, { at: Date.parse(at), team }]));
  return { header, strokes, cues: cues.map((one) => ({ ...one, ...times.get(one.about) })) };
}

/**
 * When each of it was recorded and marked.
 * @param {Awaited<ReturnType<typeof played>>} match @param {number} seed
 * @param {{ late: number, strokesSpread: number, react: number, cuesSpread: number }} habits in ms
 */
export function timed({ strokes, cues }, seed, { late, strokesSpread, react, cuesSpread }) {
  const chance = seeded(seed);
  // Box and Muller's way to a normal distribution.
  const normal = () => Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());
  let recorded = 0;
  const events = strokes.map((entry) => {
    recorded = Math.max(recorded + 50, Date.parse(entry.at) + late + strokesSpread * normal());
    const at = Math.round(recorded);
    return { at, stroke: { ...entry, at: new Date(at).toISOString() } };
  });
  const marks = cues.map((cue) => ({ at: Math.round(cue.at + react + cuesSpread * normal()), cue }));
  return [...events, ...marks].sort((one, other) => one.at - other.at);
}

/** The chart of one person who sees and records everything: every cue right behind its shot. */
export function byOnePerson({ header, strokes, cues }) {
  const entries = strokes.flatMap((stroke) => [
    stroke,
    ...cues
      .filter(({ about }) => about === stroke.id)
      .map(({ cue }, place) => ({ id: `${stroke.id}-c${place}`, at: stroke.at, kind: "cue", cue, shot: stroke.id })),
  ]);
  return [header, ...entries].map((line) => `${JSON.stringify(line)}\n`).join("");
}

/**
 * Everything computed from a chart, without what tells who recorded it when: the tempo is that of
 * the recorder's hand. @param {string} chart
 */
export async function readingsOf(chart) {
  const lines = await linesOf(["readings", "-"], { input: chart });
  const readings = lines.map((line) => JSON.parse(line)).filter(({ indicator }) => indicator !== "rally.tempo");
  return readings.map(({ seq: _, why, ...reading }) => ({
    ...reading,
    why: why.map(({ entry, ...reason }) => reason),
  }));
}

/** The cues page of a court, on a clock that the test turns. */
export class CuesPage {
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
    await this.page.goto(this.host.http("/courts/1/cues"));
    await this.page.locator(".pad").waitFor();
    await this.connected();
    await this.page.clock.pauseAt(this.now);
  }

  /** Gone without a word, as a device that is switched off. */
  async kill() {
    await this.page.close({ runBeforeUnload: false });
  }

  connected() {
    return until("the cues page to be connected", async () => (await this.line()) === "connected", {
      seen: () => this.page.locator(".line").textContent(),
    });
  }

  line() {
    return this.page.locator(".line").getAttribute("data-line");
  }

  /** Turns the clock, in steps in which the line can answer. @param {number} at ms since 1970 */
  async at(at) {
    while (this.now < at) {
      const step = Math.min(2_000, at - this.now);
      await this.page.clock.runFor(step);
      this.now += step;
    }
  }

  /** @param {{ team: string, cue: string }} cue */
  async mark({ team, cue }) {
    const half = (await this.page.locator(".half:first-child").getAttribute("data-team")) === team ? "left" : "right";
    await this.page.keyboard.press(KEYS[half][cue]);
  }

  /** @param {number} seq an entry that the page has to know of */
  async knows(seq) {
    await until(`the page to know of entry ${seq}`, async () => Number(await this.told("known")) >= seq, {
      seen: () => this.told("known"),
    });
  }

  /** Nothing of it is on its way to the host. */
  async saved() {
    await until("all marked cues to be saved", async () => (await this.told("waiting")) === "0", {
      seen: () => this.page.locator(".line").textContent(),
    });
  }

  /** @param {"known" | "waiting" | "kept"} what */
  told(what) {
    return this.page.locator("main").getAttribute(`data-${what}`);
  }

  /** @param {string} words of what was marked last */
  async says(words) {
    await until(`the page to say \`${words}\``, async () => (await this.recent())[0] === words, {
      seen: () => this.recent(),
    });
  }

  /** @returns {Promise<string[]>} what was marked last, the latest first */
  recent() {
    return this.page.locator(".recent li > span:first-child").allTextContents();
  }
}
