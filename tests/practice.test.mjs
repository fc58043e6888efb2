/**
 * Practice in a real browser: a simulated volunteer charts made-up rallies with mistakes that are
 * known beforehand, and the page has to report exactly these. The page's clock is the test's, so
 * how far behind the volunteer is comes out to the tenth of a second.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { test } from "node:test";
import { endActions, endActionsAlone, shotActions } from "../overlay/practice/hints.js";
import { openBrowser } from "./support/browser.mjs";
import { until } from "./support/wait.mjs";
import { LAPTOP, LEAD, chart, openPractice, press, rightKeys, startHost } from "./support/practice-page.mjs";

const resultOf = async (page) => {
  await page.locator(".outcome").waitFor();
  const rows = await page
    .locator(".outcome tbody tr")
    .evaluateAll((all) => all.map((row) => [...row.children].map((cell) => cell.textContent)));
  return {
    head: await page.locator(".outcome h2").innerText(),
    words: await page.locator(".outcome-words").innerText(),
    rows,
  };
};

/** What is not as it should be, by row. */
const wrongRows = ({ rows }) =>
  rows.flatMap((cells) => {
    const words = cells.length === 2 ? cells[1] : cells[3];
    return /right$/.test(words) ? [] : [`${cells[0]} ${words}`];
  });

/** Mistakes a volunteer makes, one a rally: what becomes of the keys, and what the page has to say. */
const MISTAKES = [
  { needs: () => true, make: (keys) => keys, says: () => [] },
  {
    // A volley in the middle is missed, noticed, and the side put right at the next shot.
    needs: ({ shots }) =>
      shots.findIndex((shot, place) => place > 2 && place < shots.length - 1 && shot.cues.length === 0),
    make: (keys, at) =>
      keys.flatMap((key) =>
        key.shot === at && key.cue === undefined
          ? []
          : key.shot === at + 1 && key.cue === undefined
            ? [{ ...key, actions: ["missed", ...key.actions] }]
            : [key],
      ),
    says: (at) => [`${at + 1} ✗ missed`],
  },
  {
    needs: ({ shots }) =>
      shots.findIndex(
        (shot, place) =>
          place > 1 && shot.cues.length === 0 && shot.stroke !== "lob" && shots[place + 1]?.cues.length === 0,
      ),
    make: (keys, at) =>
      keys.map((key) => (key.shot === at && key.cue === undefined ? { ...key, actions: ["stroke:lob:bounce"] } : key)),
    says: (at) => [`${at + 1} ✗ wrong stroke`],
  },
  {
    // A key too many at the end; whoever hit last is then said by the arrow.
    needs: ({ shots }) => shots.length - 1,
    make: (keys, _at, { end }) =>
      keys.map((key) =>
        key.shot === "end" ? { ...key, actions: ["stroke:other", key.actions[0], `team:${end.by}`] } : key,
      ),
    says: () => [" ✗ nobody played this"],
  },
  {
    needs: ({ shots }) =>
      shots.findIndex(
        (shot, place) => place > 1 && ["drop", "drive", "dink"].includes(shot.stroke) && shot.contact === "bounce",
      ),
    make: (keys, at) =>
      keys.map((key) =>
        key.shot === at && key.cue === undefined ? { ...key, actions: [...key.actions, "contact:half_volley"] } : key,
      ),
    says: (at) => [`${at + 1} ✗ contact: off the bounce, not half volley`],
  },
  {
    needs: ({ shots }) => shots.findIndex((shot) => shot.cues.length === 1),
    make: (keys, at) => keys.filter((key) => key.shot !== at || key.cue === undefined),
    says: (at, { shots }) => [
      `${at + 1} ✗ ${{ attackable: "high ball", off_balance: "off balance", net_cord: "net cord" }[shots[at].cues[0]] ?? shots[at].cues[0]}: missed`,
    ],
  },
  {
    needs: ({ shots }) => shots.findIndex((shot, place) => place > 1 && shot.cues.length === 0),
    make: (keys, at) =>
      keys.map((key) =>
        key.shot === at && key.cue === undefined ? { ...key, actions: [...key.actions, "cue:awkward"] } : key,
      ),
    says: (at) => [`${at + 1} ✗ awkward: wasn’t there`],
  },
  {
    // The third shot on the wrong side turns all after it: one mistake, the rest is told as following from it.
    needs: ({ shots }) => (shots.length > 3 ? 2 : -1),
    make: (keys, at, { end }) =>
      keys.map((key) => {
        if (key.shot === at && key.cue === undefined) return { ...key, actions: ["missed", ...key.actions] };
        return key.shot === "end" ? { ...key, actions: [key.actions[0], `team:${end.by}`] } : key;
      }),
    says: (at, { shots }) => [
      `${at + 1} ✗ wrong side`,
      ...shots.slice(at + 1).map((_, next) => `${at + next + 2} ✓ on the other side, because of a shot before`),
    ],
  },
  {
    // Out for net and the other way round: the same team gains by it.
    needs: ({ end }) => (end.how === "out" || end.how === "net" ? 0 : -1),
    make: (keys, _, { end }) =>
      keys.map((key) =>
        key.shot === "end" ? { ...key, actions: [end.how === "out" ? "end:net" : "end:out", key.actions[1]] } : key,
      ),
    says: (_, __, { end }) => [`End it ended by ${end.how}, not ${end.how === "out" ? "net" : "out"}`],
  },
  {
    needs: () => 0,
    make: (keys, _, { end }) =>
      keys.map((key) =>
        key.shot === "end" ? { ...key, actions: [key.actions[0], `team:${end.by === "a" ? "b" : "a"}`] } : key,
      ),
    says: (_, __, { end, teams }) => [
      `End ${teams[end.by].name} ended it, not ${teams[end.by === "a" ? "b" : "a"].name}`,
    ],
  },
];

test("a set charted with known mistakes is reported with exactly these, and the lag it had", async (t) => {
  const host = await startHost(t);
  const { page, errors, header, rallies } = await openPractice(t, host, { rallies: "20" });
  const open = [...MISTAKES];
  let shots = 0;
  let clean = 0;
  for (const [number, rally] of rallies.entries()) {
    const place = open.findIndex(({ needs }) => needs(rally) !== -1);
    const { needs, make, says } = place === -1 ? MISTAKES[0] : open.splice(place, 1)[0];
    const at = needs(rally);
    await chart(page, make(rightKeys(rally), at, rally));
    const result = await resultOf(page);
    const expected = says(at, rally, { end: rally.end, teams: header.teams });
    assert.deepEqual(
      wrongRows(result),
      expected,
      `rally ${number + 1}: ${JSON.stringify(rally.shots.map(({ stroke }) => stroke))}`,
    );
    shots += rally.shots.length;
    clean += expected.length === 0 ? 1 : 0;
    if (number + 1 < rallies.length && process.env.LOOK !== undefined && number === 1)
      await page.screenshot({ path: `${process.env.LOOK}/practice-result.png` });
    if (number + 1 === rallies.length) await press(page, ["film:play"]);
  }
  assert.deepEqual(
    open.map(({ says }) => String(says)),
    [],
    "every mistake was made once",
  );
  await page.locator(".sum").waitFor();
  if (process.env.LOOK !== undefined) await page.screenshot({ path: `${process.env.LOOK}/practice-set.png` });
  const told = await page.locator(".sum-mistakes li").allInnerTexts();
  assert.deepEqual(
    told.sort(),
    [
      "1 cue missed",
      "1 cue that wasn’t there",
      "1 end of the wrong kind",
      "1 end of the wrong side",
      "1 shot missed",
      "1 shot nobody played",
      "1 wrong contact",
      "1 wrong side",
      "1 wrong stroke",
    ].sort(),
  );
  // Six of the nine mistakes are about a shot that was played: missed, stroke, contact, two cues, side.
  assert.match(
    await page.locator(".sum-right").innerText(),
    new RegExp(`^${shots - 6} of ${shots} shots right, ${clean} of 20 rallies`),
  );
  assert.equal(await page.locator(".sum-lag").innerText(), "Behind by 0.4 s usually, 0.4 s at worst");
  assert.match(await page.locator(".sum-next").innerText(), /^Practice next: /);
  assert.deepEqual(errors, []);
});

test("what is practiced reaches no court, no disk and no socket", async (t) => {
  const host = await startHost(t);
  const { page, rallies } = await openPractice(t, host, { rallies: "5" });
  const sockets = [];
  page.on("websocket", (socket) => sockets.push(socket.url()));
  await chart(page, rightKeys(rallies[0]));
  await page.locator(".outcome").waitFor();
  assert.deepEqual(sockets, []);
  assert.deepEqual(await page.evaluate(() => indexedDB.databases()), []);
  assert.deepEqual(await (await host.get("/courts")).json(), { courts: [] });
  assert.match(await page.title(), /Practice/);
  assert.match(await page.locator(".banner").innerText(), /Nothing you chart here leaves this laptop/);
});

test("a newcomer finds practice from the first page and from the match form, and back to the court", async (t) => {
  const host = await startHost(t);
  const page = await (await openBrowser(t)).newPage({ viewport: LAPTOP });
  await page.goto(host.http("/"));
  await page.getByRole("link", { name: /practice/i }).press("Enter");
  await page.locator(".choose").waitFor();
  await page.goto(host.http("/courts/centre/chart"));
  await page.locator(".setup").waitFor();
  await page.locator('.ways [data-do="practice"]').press("Enter");
  await page.locator(".choose").waitFor();
  await page.locator('.choose [data-do="back"]').press("Enter");
  await page.locator(".setup").waitFor();
  assert.equal(new URL(page.url()).pathname, "/courts/centre/chart");
});

test("every page names the icon, and a browser that asks unbidden gets it, too", async (t) => {
  const host = await startHost(t);
  const icon = await (await host.get("/shared/icon.svg")).text();
  for (const path of ["/", "/practice", "/courts/1/chart", "/courts/1/graphic", "/courts/1/booth"]) {
    const text = await (await host.get(path)).text();
    const base = new URL(/<base href="([^"]+)"/.exec(text)?.[1] ?? path, host.http(path));
    const link = new URL(/<link rel="icon" href="([^"]+)"/.exec(text)[1], base);
    assert.equal(await (await fetch(link)).text(), icon, path);
  }
  const unbidden = await host.get("/favicon.ico");
  assert.equal(unbidden.headers.get("content-type"), "image/svg+xml");
  assert.equal(await unbidden.text(), icon);
});

test("practice goes on when the host is gone", async (t) => {
  const host = await startHost(t);
  const { page } = await openPractice(t, host, { rallies: "5" });
  const kept = () => page.evaluate(() => JSON.parse(localStorage.getItem("rallytide.practice.matches") ?? "[]").length);
  await until("matches to be kept", async () => (await kept()) >= 4);
  await host.kill();
  await page.locator('.court [data-do="finish"]').press("Enter");
  await page.locator(".choose button:not([type])").press("Enter");
  await page.locator(".court").waitFor();
  assert.match(await page.locator(".where").innerText(), /^Rally 1 of 5/);
});

test("a rally can be paused and stepped through; what was stepped is not timed", async (t) => {
  const host = await startHost(t);
  const {
    page,
    rallies: [rally],
  } = await openPractice(t, host, { rallies: "5" });
  await press(page, ["stroke:dink"]);
  await until("what to do first to be said", async () =>
    /Nothing is played yet: press \[B\] to play the rally, then chart it/.test(await page.locator(".what").innerText()),
  );
  await press(page, ["film:play", "film:on"]);
  assert.match(await page.locator(".where").innerText(), /Paused/);
  const words = () => page.locator(".drawn-court .word.stroke").allTextContents();
  assert.deepEqual(await words(), ["serve [Space]"]);
  for (const key of rightKeys(rally)) {
    if (key.shot !== "end" && key.cue === undefined)
      await until(`shot ${key.shot} to be shown`, async () => {
        if ((await words()).length > 0 && (await page.locator(".drawn-court").getAttribute("data-struck")) > key.shot)
          return true;
        await press(page, ["film:on"]);
        return false;
      });
    if (key.shot === "end") await press(page, ["film:far_on"]);
    await press(page, key.actions);
  }
  const result = await resultOf(page);
  assert.deepEqual(wrongRows(result), []);
  assert.match(result.words, /was not timed/);
});

test("an undone end lets the rally be put right before it counts", async (t) => {
  const host = await startHost(t);
  const {
    page,
    rallies: [rally],
  } = await openPractice(t, host, { rallies: "5" });
  const keys = rightKeys(rally);
  const wrong = keys.map((key) => (key.shot === "end" ? { ...key, actions: ["end:fault", "confirm"] } : key));
  await chart(page, wrong);
  assert.notDeepEqual(wrongRows(await resultOf(page)), []);
  await press(page, ["undo"]);
  await page.locator(".court").waitFor();
  await press(page, keys.at(-1).actions);
  assert.deepEqual(wrongRows(await resultOf(page)), []);
});

test("a rally is practiced by touch alone, on a tablet", async (t) => {
  const host = await startHost(t);
  const {
    page,
    rallies: [rally],
  } = await openPractice(t, host, {
    rallies: "5",
    context: { viewport: { width: 1280, height: 800 }, hasTouch: true },
  });
  const tap = async (...actions) => {
    for (const action of actions) await page.locator(`[data-action="${action}"]:visible`).tap();
  };
  await tap("film:play", "film:far_back");
  for (const { shot, actions } of rightKeys(rally)) {
    if (shot === "end") await press(page, ["film:far_on"]);
    await tap(...actions);
  }
  assert.deepEqual(wrongRows(await resultOf(page)), []);
  await tap("film:play");
  await page.locator(".where").filter({ hasText: "Rally 2 of 5" }).waitFor();
});

test("with less to chart, less is asked for: ends alone, or the score alone", async (t) => {
  const host = await startHost(t);
  for (const [detail, keysOf] of [
    [
      "ends",
      ({ end, shots }) => [shotActions(shots.at(-1), 9), endActionsAlone(end.how, end.by, shots.at(-1).team)].flat(),
    ],
    ["score", ({ end }) => [`team:${end.won_by}`]],
  ]) {
    const {
      page,
      rallies: [rally],
    } = await openPractice(t, host, { rallies: "5", detail });
    await press(page, ["film:play", "film:far_on"]);
    await press(page, keysOf(rally));
    assert.deepEqual(
      wrongRows(await resultOf(page)),
      detail === "ends" ? rally.shots.slice(0, -1).map((_, place) => `${place + 1} ✓ not asked for`) : [],
      detail,
    );
  }
});

test("with reduced motion the ball steps from event to event instead of gliding", async (t) => {
  const host = await startHost(t);
  const places = async (context) => {
    const {
      page,
      rallies: [rally],
    } = await openPractice(t, host, { rallies: "5", context });
    await press(page, ["film:play"]);
    await page.clock.runFor(LEAD + 100);
    const seen = new Set();
    for (let now = 100; now < rally.shots[1].at - 20; now += 50) {
      seen.add(await page.locator(".ball").getAttribute("cx"));
      await page.clock.runFor(50);
    }
    return seen.size;
  };
  // Between serve and return there is one bounce: the server's place and the bounce.
  assert.equal(await places({ reducedMotion: "reduce" }), 2);
  assert.ok((await places({ reducedMotion: "no-preference" })) > 10);
});

test("practice fits a small laptop and tablets, has large targets, and axe finds nothing", async (t) => {
  const host = await startHost(t);
  const {
    page,
    rallies: [rally],
  } = await openPractice(t, host, { rallies: "5" });
  const axe = await readFile(
    createRequire(new URL("../overlay/package.json", import.meta.url)).resolve("axe-core/axe.min.js"),
    "utf8",
  );
  await page.evaluate(axe);
  const look = async (state) => {
    for (const viewport of [
      LAPTOP,
      { width: 1280, height: 800 },
      { width: 1024, height: 768 },
      { width: 768, height: 1024 },
      { width: 800, height: 1280 },
    ]) {
      await page.setViewportSize(viewport);
      const [width, height] = await page.evaluate(() => [
        document.documentElement.scrollWidth,
        document.documentElement.scrollHeight,
      ]);
      assert.ok(
        width <= viewport.width && height <= viewport.height,
        `${state} is ${width}×${height} on ${viewport.width}×${viewport.height}`,
      );
      const small = await page
        .locator("button:visible, select:visible, a.button:visible")
        .evaluateAll((all) => all.filter((one) => one.getBoundingClientRect().height < 48).map((one) => one.outerHTML));
      assert.deepEqual(small, [], state);
      if (process.env.LOOK !== undefined)
        await page.screenshot({ path: `${process.env.LOOK}/practice-${state}-${viewport.width}.png` });
    }
    await page.setViewportSize(LAPTOP);
    await page.clock.resume();
    const { violations } = await page.evaluate(() => globalThis.axe.run());
    assert.deepEqual(
      violations.map(({ id, nodes }) => `${state} ${id}: ${nodes[0]?.html}`),
      [],
    );
  };
  await look("ready");
  await press(page, ["film:play", "film:on", "next", "film:on", "film:on", "next"]);
  await look("playing");
  await page.locator('.court [data-do="keys"]').press("Enter");
  await look("keys");
  await page.keyboard.press("Escape");
  await press(page, ["film:far_on", ...endActions(rally.end.how, rally.end.by, "a")]);
  await page.locator(".outcome").waitFor();
  await look("result");
  await page.locator('.outcome [data-do="finish"]').press("Enter");
  await look("set");
  await page.locator('[data-do="again"]').press("Enter");
  await look("choose");
});
