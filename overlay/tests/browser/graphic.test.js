// The graphic in a real browser, fed over a real WebSocket by a fake host.

import assert from "node:assert/strict";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { readPng } from "../support/png.js";
import { seeText, useStage } from "../support/stage.js";
import { LARGE } from "../support/graphic-states.js";
import { HEADER, SCORE, held, initiative, reading, shot, snapshot, update } from "../support/states.js";

const GRAPHIC = `/courts/1/graphic?${LARGE}`;
const stage = useStage();

test("everything_but_the_plates_is_transparent", () =>
  stage.play({ path: GRAPHIC, greeting: held("a") }, async (page) => {
    await seeText(page, "rt-tide-line", "offense");
    const picture = readPng(await page.screenshot({ omitBackground: true }));
    for (const [x, y] of [
      [2, 2],
      [1917, 2],
      [960, 540],
      [2, 1077],
      [1917, 1077],
      [1500, 200],
    ]) {
      assert.deepEqual(picture.pixel(x, y), [0, 0, 0, 0], `at ${x}, ${y}`);
    }
    for (const selector of [".rt-score", ".rt-tide", ".rt-ribbon"]) {
      const { x, y, width } = await page.locator(selector).boundingBox();
      assert.equal(picture.pixel(Math.round(x + width / 2), Math.round(y + 6))[3], 255, `${selector} is opaque`);
    }
  }));

test("everything_stays_inside_the_inner_ninety_percent", () =>
  stage.play({ path: GRAPHIC, greeting: held("a") }, async (page) => {
    await seeText(page, "rt-tide-line", "offense");
    for (const selector of [".rt-score", ".rt-moment", ".rt-tide", ".rt-ribbon"]) {
      const { x, y, width, height } = await page.locator(selector).boundingBox();
      assert.ok(x >= 95.9 && x + width <= 1824.1 && y >= 53.9 && y + height <= 1026.1, selector);
    }
  }));

test("the_tide_says_who_is_on_offense_and_why_as_the_feed_says", () =>
  stage.play({ path: GRAPHIC, greeting: held("a", 1, ["attackable"]) }, async (page, host) => {
    await seeText(page, ".rt-state:first-child", "offense");
    await seeText(page, ".rt-state:last-child", "defense");
    await seeText(page, ".rt-why", "high ball");
    assert.match(host.asked[0], /\/courts\/1\/feed\?role=viewer$/);
    host.send(update(42, { readings: [initiative("b", 1, ["body", "half_volley"])] }));
    await seeText(page, ".rt-state:last-child", "offense");
    await seeText(page, ".rt-why", "off balance, half volley");
    host.send(update(43, { readings: [initiative(null)] }));
    await seeText(page, ".rt-even", "neutral");
    assert.equal(await page.locator(".rt-why").innerText(), "");
  }));

test("the_ribbon_is_exact_while_the_words_are_held", () =>
  stage.play({ path: GRAPHIC, greeting: held("a") }, async (page, host) => {
    await page.clock.install();
    await page.reload();
    await seeText(page, ".rt-state:first-child", "offense");
    const strokes = Array.from({ length: 6 }, (_, at) =>
      shot(4 + at, at % 2 === 0 ? "a" : "b", "volley", { toward: at % 2 === 0 ? "b" : "a", strength: 1 }),
    );
    strokes.forEach((one, at) =>
      host.send(update(42 + at, { readings: [initiative(one.toward)], rally: { number: 12, shots: [one] } })),
    );
    await until(async () => {
      await page.clock.runFor(20);
      return (await page.locator(".rt-mark").count()) === 9;
    }, "nine marks on the ribbon");
    await seeText(page, ".rt-state:first-child", "offense");
    host.send(update(60, { readings: [initiative("b")] }));
    await until(async () => {
      await page.clock.runFor(100);
      return (await page.locator(".rt-state:last-child").innerText()) === "offense";
    }, "the words following after their hold");
  }));

test("between_rallies_nothing_moves_and_nothing_is_claimed", () =>
  stage.play({ path: GRAPHIC, greeting: held("a") }, async (page, host) => {
    await seeText(page, "rt-tide-line", "offense");
    host.send(
      update(42, {
        readings: [initiative(null)],
        rally: { number: 12, shots: [], end: { entry: "r12e", won_by: "a", how: "out", by: "b" } },
      }),
    );
    await seeText(page, "rt-rally-ribbon", "won, ball out");
    await until(async () => (await page.locator(".rt-tide").getAttribute("data-phase")) === "rest", "the tide at rest");
    assert.doesNotMatch(await page.locator("rt-tide-line").innerText(), /offense|defense|neutral/);
    await until(() => page.evaluate(() => document.getAnimations().length === 0), "the last movement to end");
    const first = await page.screenshot();
    host.send({ type: "beat" });
    host.send(update(43, { readings: [reading("rally.tempo", null, { type: "duration", ms: 600 })] }));
    await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
    assert.ok(first.equals(await page.screenshot()));
  }));

test("a_streak_that_grows_brings_a_plate_that_goes_again", () =>
  stage.play({ path: GRAPHIC, greeting: held("b"), prepare: (page) => page.clock.install() }, async (page, host) => {
    await seeText(page, "rt-tide-line", "offense");
    assert.equal(await page.locator(".rt-moment[data-shown]").count(), 0);
    host.send(update(42, { readings: [initiative(null), reading("escape.streak", "a", { type: "count", n: 3 })] }));
    await until(async () => {
      await page.clock.runFor(50);
      return (await page.locator(".rt-moment[data-shown]").count()) === 1;
    }, "the moment");
    assert.match(await page.locator(".rt-moment").innerText(), /Quill \/ Abara\s+out of pressure\s+3 times in a row/);
    await page.clock.runFor(5000);
    assert.equal(await page.locator(".rt-moment[data-shown]").count(), 0);
  }));

test("out_of_pressure_gives_way_once_that_team_has_lost_the_rally_and_not_before_it_can_be_read", () =>
  stage.play({ path: GRAPHIC, greeting: held("b"), prepare: (page) => page.clock.install() }, async (page, host) => {
    const isShown = async () => (await page.locator(".rt-moment[data-shown]").count()) === 1;
    const ticking = (what, label) => until(async () => (await page.clock.runFor(50), what()), label);
    await seeText(page, "rt-tide-line", "offense");
    host.send(update(42, { readings: [initiative(null), reading("escape.streak", "a", { type: "count", n: 3 })] }));
    await ticking(isShown, "the moment");
    host.send(
      update(43, { rally: { number: 12, shots: [], end: { entry: "r12e", won_by: "b", how: "out", by: "a" } } }),
    );
    await until(
      () => page.evaluate(() => document.querySelector("rt-streak-moment").view.moment === null),
      "the end of the rally",
    );
    await page.clock.runFor(32);
    assert.ok(await isShown(), "it stays until it can have been read");
    await page.clock.runFor(1000);
    assert.equal(await isShown(), false);
  }));

for (const [what, extra, expected] of [
  ["a_match_point", { game_point: "b", match_point: "b" }, "Fenn / Tarrow match point"],
  [
    "a_game_won",
    {
      game: 3,
      finished: [
        { a: 11, b: 7 },
        { a: 9, b: 11 },
      ],
      games: { a: 1, b: 1 },
    },
    "Fenn / Tarrow won game 2 11–9",
  ],
  [
    "the_match_won",
    {
      winner: "a",
      call: null,
      finished: [
        { a: 11, b: 7 },
        { a: 11, b: 5 },
      ],
      games: { a: 2, b: 0 },
    },
    "Quill / Abara won the match 2–0",
  ],
]) {
  test(`${what}_brings_its_plate`, () =>
    stage.play({ path: GRAPHIC, greeting: snapshot() }, async (page, host) => {
      await seeText(page, ".rt-call", "5–3–1");
      host.send(update(42, { score: { ...SCORE, ...extra } }));
      await page.locator(".rt-moment[data-shown]").waitFor();
      assert.equal((await page.locator(".rt-moment").innerText()).replaceAll(/\s+/g, " ").trim(), expected);
    }));
}

test("a_dropped_feed_comes_back_and_goes_on_after_the_last_message", () =>
  stage.play({ path: GRAPHIC, greeting: held("a") }, async (page, host) => {
    await seeText(page, "rt-tide-line", "offense");
    host.send(update(44, {}));
    host.greeting = null;
    await until(() => page.evaluate(() => document.documentElement.dataset.connection === "live"), "a live page");
    host.drop();
    await until(() => host.connected === 1 && host.asked.length === 2, "the page to come back");
    assert.match(host.asked[1], /role=viewer&after=44&match=invented$/);
    host.send(update(45, { readings: [initiative("b")], score: { ...SCORE, points: { a: 4, b: 5 } } }));
    await seeText(page, '.rt-row[data-team="a"] .rt-points', "4");
    await seeText(page, ".rt-state:last-child", "offense");
  }));

test("a_host_that_restarts_is_found_again_with_its_snapshot", () =>
  stage.play({ path: GRAPHIC, greeting: held("a") }, async (page, host) => {
    await seeText(page, "rt-tide-line", "offense");
    const { port } = host;
    await host.stop();
    await until(
      () => page.evaluate(() => document.documentElement.dataset.connection === "lost"),
      "the page to notice",
    );
    await until(
      async () => (await page.locator("rt-tide-line").innerText()).includes("offense") === false,
      "no lean shown as if live",
    );
    assert.equal(await page.locator('.rt-row[data-team="a"] .rt-points').innerText(), "3");
    host.greeting = snapshot({ seq: 60, score: { ...SCORE, points: { a: 9, b: 5 } } });
    await host.listen(port);
    await seeText(page, '.rt-row[data-team="a"] .rt-points', "9");
  }));

test("a_dead_network_is_noticed_though_the_socket_stays_open", () =>
  stage.play({ path: GRAPHIC, greeting: held("a"), prepare: (page) => page.clock.install() }, async (page, host) => {
    await seeText(page, "rt-tide-line", "offense");
    for (let beat = 0; beat < 4; beat += 1) {
      const before = host.beats;
      await page.clock.runFor(5100);
      await until(() => host.beats > before, "the page to ask for a beat");
      await until(
        async () =>
          (await page.clock.runFor(1), await page.evaluate(() => document.documentElement.dataset.connection)) ===
          "live",
        "a live page",
      );
    }
    assert.equal(host.asked.length, 1);
    host.answersBeats = false;
    await page.clock.runFor(13_000);
    await until(async () => (await page.clock.runFor(100), host.asked.length === 2), "a second attempt");
  }));

test("a_correction_is_shown_at_once", () =>
  stage.play({ path: GRAPHIC, greeting: snapshot() }, async (page, host) => {
    await seeText(page, ".rt-call", "5–3–1");
    host.send(
      snapshot({
        seq: 42,
        revision: 1,
        reason: "corrected",
        score: { ...SCORE, points: { a: 4, b: 5 }, call: "5-4-1" },
      }),
    );
    await seeText(page, ".rt-call", "5–4–1");
  }));

test("an_update_that_does_not_follow_makes_the_page_ask_for_a_snapshot", () =>
  stage.play({ path: GRAPHIC, greeting: snapshot() }, async (page, host) => {
    await seeText(page, ".rt-call", "5–3–1");
    host.greeting = snapshot({ seq: 50, revision: 3, score: { ...SCORE, call: "6-3-1" } });
    host.send(update(51, { revision: 3 }));
    await seeText(page, ".rt-call", "6–3–1");
    assert.doesNotMatch(host.asked[1], /after=/);
  }));

test("without_a_match_nothing_is_drawn_and_one_that_starts_appears", () =>
  stage.play(
    { path: GRAPHIC, greeting: snapshot({ match: null, score: null, readings: [], rally: null }) },
    async (page, host) => {
      await until(
        () => page.evaluate(() => document.querySelector("rt-score-plate")?.hidden === true),
        "the empty stage",
      );
      assert.equal(await page.evaluate(() => document.querySelector(".stage").innerText.trim()), "");
      host.send(snapshot({ seq: 1, reason: "match" }));
      await seeText(page, "rt-score-plate", "Quill / Abara");
    },
  ));

test("a_score_only_chart_shows_the_score_alone", () => {
  const end = { entry: "r12e", won_by: "a", how: null, by: null };
  const greeting = snapshot({ rally: { number: 12, shots: [], end, earlier: [{ number: 11, shots: [], end }] } });
  return stage.play({ path: GRAPHIC, greeting }, async (page) => {
    await seeText(page, ".rt-call", "5–3–1");
    assert.equal(await page.locator("rt-tide-line").isVisible(), false);
    assert.equal(await page.locator("rt-rally-ribbon").isVisible(), false);
  });
});

test("a_stopped_plugin_takes_its_piece_away_and_leaves_the_rest", () =>
  stage.play({ path: GRAPHIC, greeting: held("a") }, async (page, host) => {
    await seeText(page, "rt-tide-line", "offense");
    host.send(update(42, { gone: [{ indicator: "initiative", team: null, player: null, slot: null }] }));
    await until(async () => !(await page.locator("rt-tide-line").isVisible()), "the tide to go");
    assert.ok(await page.locator("rt-rally-ribbon").isVisible());
    assert.ok(await page.locator("rt-score-plate").isVisible());
  }));

for (const [what, score, header, expected] of [
  ["match_point", { game_point: "b", match_point: "b" }, {}, /match point/],
  ["change_of_ends", { change_ends: true }, {}, /Change ends/],
  ["rally_scoring_without_server_number", { server: null, call: "5-3" }, {}, /servingright side/],
  [
    "the_result",
    {
      winner: "a",
      call: null,
      games: { a: 2, b: 0 },
      finished: [
        { a: 11, b: 7 },
        { a: 12, b: 10 },
      ],
    },
    {},
    /Quill \/ Abara won the match/,
  ],
]) {
  test(`the_plate_says_${what}`, () =>
    stage.play(
      { path: GRAPHIC, greeting: snapshot({ score: { ...SCORE, ...score }, match: { ...HEADER, ...header } }) },
      async (page) => {
        await seeText(page, "rt-score-plate", expected);
      },
    ));
}

test("names_are_text_whatever_they_hold", () => {
  const nasty = "<img src=x onerror=alert(1)>";
  const match = { ...HEADER, teams: { ...HEADER.teams, a: { name: nasty, players: [nasty, "x"] } } };
  return stage.play({ path: GRAPHIC, greeting: { ...held("a"), match } }, async (page) => {
    await seeText(page, "rt-score-plate", nasty);
    assert.equal(await page.locator("img").count(), 0);
  });
});

test("long_names_stay_inside_their_plates", () => {
  const long = "Featherstonehaugh-Whitcombe / Papadimitropoulos-Wiśniewska";
  const match = { ...HEADER, teams: { a: { name: long, players: [] }, b: { name: "W".repeat(70), players: [] } } };
  return stage.play({ path: GRAPHIC, greeting: { ...held("a"), match } }, async (page) => {
    await seeText(page, "rt-tide-line", "offense");
    const spilled = await page.evaluate(() =>
      [...document.querySelectorAll(".rt-name")]
        .filter((name) => {
          const plate = name.closest(".rt-row, .rt-team, .rt-moment").getBoundingClientRect();
          const box = name.getBoundingClientRect();
          return box.right > plate.right + 1 || box.bottom > plate.bottom + 1 || box.top < plate.top - 1;
        })
        .map((name) => `${name.parentElement.className}: ${name.getBoundingClientRect().height}`),
    );
    assert.deepEqual(spilled, []);
  });
});

test("pieces_scale_and_colors_follow_the_address", () =>
  stage.play({ path: "/courts/1/graphic?pieces=score&scale=0.5&color-a=101010", greeting: held("a") }, async (page) => {
    await seeText(page, "rt-score-plate", "Quill / Abara");
    assert.equal(await page.locator("rt-tide-line, rt-rally-ribbon, rt-streak-moment").count(), 0);
    const { width } = await page.locator(".rt-score").boundingBox();
    assert.ok(Math.abs(width - 290) < 1, String(width));
    const edge = await page.evaluate(
      () => getComputedStyle(document.querySelector('[data-team="a"] .rt-edge')).backgroundColor,
    );
    assert.notEqual(edge, "rgb(16, 16, 16)", "a color too dark for the plate is lifted");
  }));

test("a_smaller_picture_shows_the_same_at_its_scale", () =>
  stage.play(
    { path: GRAPHIC, greeting: held("a"), context: { viewport: { width: 1280, height: 720 } } },
    async (page) => {
      await seeText(page, "rt-tide-line", "offense");
      const { width } = await page.locator(".rt-score").boundingBox();
      assert.ok(Math.abs(width - (580 * 2) / 3) < 1, String(width));
    },
  ));
