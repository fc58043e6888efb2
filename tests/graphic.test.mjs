/**
 * The pages in a real browser, fed by a real host over a real WebSocket: the graphic and the booth
 * show who holds the initiative and why, as `rallytide readings --each` says from the same chart.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { readChart } from "./oracle/chart.mjs";
import { coverOf, openBrowser, openPage } from "./support/browser.mjs";
import { Charter } from "./support/charter.mjs";
import { chartText, demoMatch } from "./support/charts.mjs";
import { liveStates } from "./support/expected.mjs";
import { Host } from "./support/host.mjs";
import { until } from "./support/wait.mjs";

const VIDEO = { width: 1920, height: 1080 };
const TABLET = { width: 1280, height: 800 };

/** So many entries of the demo match are looked at one by one; the rest is only fed. */
const LOOKED_AT = 260;

/** What the graphic says for each reason; at most four words of it are shown. */
const WORDS = {
  "high ball": "attackable",
  "off balance": "body",
  "sped up": "attack",
  "around the post": "attack",
  "half volley": "half_volley",
  "taken in the air": "air",
  "pinned back": "depth",
};

const isCorrection = ({ kind }) => ["retract", "amend", "insert"].includes(kind);

/** @returns {{ holder: string, why: { code: string, team: string }[] }} */
function initiativeOf({ readings }) {
  const { value, why } = JSON.parse(readings).find(({ indicator }) => indicator === "initiative");
  return { holder: value.toward ?? "none", why };
}

/**
 * Moments of the demo match worth looking at: for each kind of moment the first that there is.
 * @param {Awaited<ReturnType<typeof liveStates>>} states
 * @returns {number[]} places, in order
 */
function momentsOf(states) {
  const shot = ({ recorded }) => recorded.kind === "shot" || recorded.kind === "cue";
  const codes = (state) => initiativeOf(state).why.map(({ code }) => code);
  const wanted = {
    "team a on offense": (state) => shot(state) && initiativeOf(state).holder === "a" && codes(state).length === 1,
    "team b on offense": (state) => shot(state) && initiativeOf(state).holder === "b" && codes(state).length === 1,
    "an attackable ball": (state) =>
      shot(state) && initiativeOf(state).holder !== "none" && codes(state).includes("attackable"),
    "a ball in the air": (state) =>
      shot(state) && initiativeOf(state).holder !== "none" && codes(state).includes("air"),
    "several reasons": (state) => shot(state) && codes(state).length >= 3,
    "nobody ahead": (state) => shot(state) && initiativeOf(state).holder === "none" && state.recorded.stroke === "dink",
    "both pressed": (state) => shot(state) && initiativeOf(state).holder === "none" && codes(state).length >= 2,
    "the end of a rally": ({ recorded }) => recorded.kind === "rally_end",
    "a correction": ({ recorded }) => isCorrection(recorded),
  };
  const found = Object.entries(wanted).map(([what, fits]) => {
    const place = states.findIndex(fits);
    assert.ok(place >= 0, `the first ${LOOKED_AT} entries of the demo match hold no moment with ${what}`);
    return place;
  });
  return [...new Set(found)].sort((one, other) => one - other);
}

/** What the graphic shows, as a viewer sees it. */
function readGraphic(page) {
  return page.evaluate(() => {
    const text = (selector) => document.querySelector(selector)?.textContent?.trim() ?? null;
    const tide = document.querySelector("rt-tide-line .rt-tide");
    const states = [...document.querySelectorAll("rt-tide-line .rt-state")].map((node) => node.textContent);
    return {
      connection: document.documentElement.dataset.connection ?? null,
      phase: tide?.dataset.phase ?? null,
      holder: tide?.dataset.toward ?? null,
      states,
      edge: tide === null ? null : Number.parseFloat(tide.style.getPropertyValue("--rt-edge")),
      why: text("rt-tide-line .rt-why"),
      call: text("rt-score-plate .rt-call"),
      points: [...document.querySelectorAll("rt-score-plate .rt-points")].map((node) => node.textContent),
      foot: text("rt-score-plate .rt-game"),
    };
  });
}

/** What the booth shows. */
function readBooth(page) {
  return page.evaluate(() => {
    const text = (selector) => document.querySelector(selector)?.textContent?.trim() ?? null;
    return {
      connection: document.querySelector("rt-connection-state")?.dataset.phase ?? null,
      headline: text("rt-evidence .rt-headline"),
      reasons: document.querySelectorAll("rt-evidence .rt-reasons > li").length,
      call: text("rt-score-plate .rt-call"),
      holder: document.querySelector("rt-tide-line .rt-tide")?.dataset.toward ?? null,
    };
  });
}

/** Whether a rally is being played after this entry: between two, nothing is said. */
function isPlaying({ header, entries }, place) {
  const { effective } = readChart(chartText({ header, entries: entries.slice(0, place + 1) }));
  const kinds = effective.map(({ entry }) => entry.kind);
  return kinds.findLast((kind) => ["shot", "rally_end", "replay"].includes(kind)) === "shot";
}

const callShown = (score) => score.call.replaceAll("-", "\u2013");

/** Waits until both pages show the moment, and compares the words. */
async function assertShown(pages, chart, states, place) {
  const { header } = chart;
  const state = states[place];
  const { holder, why } = initiativeOf(state);
  const playing = isPlaying(chart, place);
  const where = `entry ${state.recorded.id}, position ${place + 1}`;
  const wantedStates = { a: ["offense", "defense"], b: ["defense", "offense"], none: ["", ""] }[
    playing ? holder : "none"
  ];

  let graphic;
  await until(
    `the graphic to show ${holder} at ${where}`,
    async () => {
      graphic = await readGraphic(pages.graphic.page);
      return (
        graphic.phase === (playing ? "play" : "rest") &&
        graphic.holder === (playing ? holder : "none") &&
        wordsFit(graphic.why, playing ? holder : "none", why)
      );
    },
    { seen: () => ({ graphic, why }) },
  );
  assert.deepEqual(graphic.states, wantedStates, where);
  const leaning = { a: graphic.edge > 50, b: graphic.edge < 50, none: graphic.edge === 50 };
  assert.ok(leaning[playing ? holder : "none"], `${where}: the tide's edge stands at ${graphic.edge}`);
  if (state.score !== null) assert.equal(graphic.call, callShown(state.score), where);

  const headline =
    playing && holder !== "none" ? `${header.teams[holder].name} on offense` : playing ? "Neutral" : "Between rallies";
  let booth;
  await until(
    `the booth to show ${headline} at ${where}`,
    async () => {
      booth = await readBooth(pages.booth.page);
      return booth.headline?.startsWith(headline) && booth.reasons === (playing ? why.length : 0);
    },
    { seen: () => ({ booth, why }) },
  );
  assert.equal(booth.holder, graphic.holder, where);
  assert.equal(booth.call, graphic.call, where);
}

/** What is said speaks against the team under pressure, and something is said if there is anything. */
function wordsFit(text, holder, why) {
  const pressed = { a: "b", b: "a", none: null }[holder];
  const against = new Set(why.filter(({ team }) => team === pressed).map(({ code }) => code));
  if (text === null) return false;
  const said = text === "" ? [] : text.split(", ");
  return (
    said.every((words) => against.has(WORDS[words])) &&
    said.length > 0 === against.size > 0 &&
    text.split(" ").length <= 4
  );
}

/** The larger pieces, which say everything. */
const LARGE = "pieces=score,moment,show,tide,ribbon";

/** Both pages of a court of a host. */
async function openPages(browser, host, court) {
  return {
    graphic: await openPage(browser, host.http(`/courts/${court}/graphic?${LARGE}`), VIDEO),
    booth: await openPage(browser, host.http(`/courts/${court}/booth`), TABLET),
  };
}

function assertNoErrors({ graphic, booth }) {
  assert.deepEqual(graphic.errors, [], "errors in the graphic");
  assert.deepEqual(booth.errors, [], "errors in the booth");
}

test("graphic_and_booth_show_the_demo_match_as_the_chart_says", async (t) => {
  const host = await Host.start(t);
  const chart = await demoMatch();
  const { header, entries } = chart;
  const states = await liveStates({ header, entries: entries.slice(0, LOOKED_AT) });
  const pages = await openPages(await openBrowser(t), host, header.court);
  const charter = await Charter.welcomed(host, { court: header.court, chart: header });
  let charted = 0;
  for (const place of momentsOf(states)) {
    await charter.chart(entries.slice(charted, place + 1));
    charted = place + 1;
    await assertShown(pages, chart, states, place);
  }

  await charter.chart(entries.slice(charted));
  const { score } = JSON.parse(await host.now(header.court));
  assert.notEqual(score.winner, null, "the demo match is played to its end");
  const result = `${header.teams[score.winner].name} won the match`;
  await until("the graphic to show the result", async () =>
    (await readGraphic(pages.graphic.page)).foot?.startsWith(result),
  );
  await until("the booth to show the result", async () =>
    (await readBooth(pages.booth.page)).headline?.startsWith(result),
  );
  assertNoErrors(pages);
});

test("graphic_and_booth_survive_a_restart_of_the_host", async (t) => {
  const first = await Host.start(t);
  const chart = await demoMatch();
  const { header, entries } = chart;
  const { court } = header;
  const states = await liveStates({ header, entries: entries.slice(0, LOOKED_AT) });
  const pages = await openPages(await openBrowser(t), first, court);
  const charter = await Charter.welcomed(first, { court, chart: header });
  const held = states.findIndex(
    (state, place) => place > 20 && state.recorded.kind === "shot" && initiativeOf(state).holder !== "none",
  );
  await charter.chart(entries.slice(0, held + 1));
  await assertShown(pages, chart, states, held);

  await first.kill();
  let graphic;
  let booth;
  await until(
    "both pages to say that the host is gone",
    async () => {
      graphic = await readGraphic(pages.graphic.page);
      booth = await readBooth(pages.booth.page);
      return graphic.connection !== "live" && booth.connection === "lost" && graphic.holder === "none";
    },
    { seen: () => ({ graphic, booth }) },
  );
  assert.deepEqual(graphic.states, ["", ""], "nothing is shown as if it were live");
  assert.equal(graphic.call, callShown(states[held].score), "the score stays");

  const second = await Host.start(t, { data: first.data, port: first.port });
  await assertShown(pages, chart, states, held);
  assert.equal((await readBooth(pages.booth.page)).connection, "live");
  const back = await Charter.welcomed(second, { court, chart: header });
  const next = states.findIndex(
    (state, place) =>
      place > held + 10 &&
      initiativeOf(state).holder !== "none" &&
      isPlaying(chart, place) &&
      initiativeOf(state).holder !== initiativeOf(states[held]).holder,
  );
  await back.chart(entries.slice(held + 1, next + 1));
  await assertShown(pages, chart, states, next);
  assertNoErrors(pages);
});

test("a_page_that_is_opened_late_shows_what_the_others_show", async (t) => {
  const host = await Host.start(t);
  const chart = await demoMatch();
  const { header, entries } = chart;
  const states = await liveStates({ header, entries: entries.slice(0, LOOKED_AT) });
  const held = states.findLastIndex((state) => state.recorded.kind === "shot" && initiativeOf(state).holder !== "none");
  const charter = await Charter.welcomed(host, { court: header.court, chart: header });
  await charter.chart(entries.slice(0, held + 1));
  const pages = await openPages(await openBrowser(t), host, header.court);
  await assertShown(pages, chart, states, held);
  assertNoErrors(pages);
});

test("the_graphic_leaves_the_video_free", async (t) => {
  const host = await Host.start(t);
  const { header, entries } = await demoMatch();
  const charter = await Charter.welcomed(host, { court: header.court, chart: header });
  await charter.chart(entries.slice(0, 60));
  const browser = await openBrowser(t);
  const { page } = await openPage(browser, host.http(`/courts/${header.court}/graphic?${LARGE}`), VIDEO);
  const free = [
    [0, 0],
    [1919, 0],
    [0, 1079],
    [1919, 1079],
    [960, 540],
  ];
  const cover = await until("the graphic to be drawn", async () => {
    const found = await coverOf(page, free);
    return found.share > 0.005 && found;
  });
  assert.deepEqual({ width: cover.width, height: cover.height }, VIDEO);
  assert.deepEqual(
    cover.alphas,
    free.map(() => 0),
    "corners and middle are free",
  );
  assert.ok(cover.share < 0.35, `${(cover.share * 100).toFixed(1)}% of the video is covered`);
});

test("the_first_page_leads_to_graphic_and_booth", async (t) => {
  const host = await Host.start(t);
  const { header } = await demoMatch();
  await Charter.welcomed(host, { court: header.court, chart: header });
  const browser = await openBrowser(t);
  for (const [name, shows] of [
    ["Graphic", "rt-strap .rt-row"],
    ["Booth", "rt-evidence .rt-headline"],
  ]) {
    const { page, errors } = await openPage(browser, host.http("/"), TABLET);
    await page.locator(".match", { hasText: header.title }).waitFor();
    await page.getByRole("link", { name: new RegExp(`^${name}.* on court ${header.court}$`) }).click();
    await page.waitForURL(host.http(`/courts/${header.court}/${name.toLowerCase()}`));
    await page.locator(shows).waitFor();
    assert.deepEqual(errors, []);
  }
});
