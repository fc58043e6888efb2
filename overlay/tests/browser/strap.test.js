// The strap: how little of the picture it covers, what it says, and that its words
// and its water never say different things.

import assert from "node:assert/strict";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { readPng } from "../support/png.js";
import { seeText, useStage } from "../support/stage.js";
import { HEADER, SCORE, held, initiative, rally, reading, shot, snapshot, update } from "../support/states.js";

const GRAPHIC = "/courts/1/graphic";
const stage = useStage();
const resting = snapshot({ rally: { ...rally(), shots: [] } });
const escaped = (team, n) => reading("escape.streak", team, { type: "count", n });

/** Share of the picture that is not see-through, in percent. */
async function covered(page) {
  const { width, height, bytes, size } = readPng(await page.screenshot({ omitBackground: true }));
  assert.equal(size, 4, "a picture with transparency");
  let opaque = 0;
  for (let at = 3; at < bytes.length; at += 4) if (bytes[at] !== 0) opaque += 1;
  return (100 * opaque) / (width * height);
}

for (const [name, greeting, shows, most] of [
  ["while_a_team_is_on_offense", held("a", 1, ["attackable"]), "offense", 6],
  ["while_it_is_neutral", held(null), "neutral", 6],
  ["between_rallies", resting, "5–3–1", 4],
  ["in_a_pause", { ...resting, paused: true }, "Play is paused", 5],
]) {
  test(`the_graphic_covers_at_most_${most}_percent_of_the_picture_${name}`, () =>
    stage.play({ path: `${GRAPHIC}?motion=off`, greeting }, async (page) => {
      await seeText(page, "rt-strap", shows);
      const share = await covered(page);
      assert.ok(share > 1 && share <= most, `${share.toFixed(2)} %`);
    }));
}

test("the_same_share_is_covered_at_720_lines", () =>
  stage.play(
    { path: `${GRAPHIC}?motion=off`, greeting: held("b"), context: { viewport: { width: 1280, height: 720 } } },
    async (page) => {
      await seeText(page, "rt-strap", "offense");
      const share = await covered(page);
      assert.ok(share > 1 && share <= 6, `${share.toFixed(2)} %`);
    },
  ));

test("no_word_is_smaller_than_26_pixels_and_each_name_stands_once", () =>
  stage.play({ path: GRAPHIC, greeting: held("a", 1, ["body", "half_volley"]) }, async (page) => {
    await seeText(page, "rt-strap", "off balance, half volley");
    const found = await page.evaluate(() => {
      const walker = document.createTreeWalker(document.querySelector(".stage"), NodeFilter.SHOW_TEXT);
      const words = [];
      while (walker.nextNode()) {
        const node = walker.currentNode.parentElement;
        if (walker.currentNode.data.trim() === "" || node.closest(".rt-hidden, [aria-hidden='true']")) continue;
        words.push({ text: walker.currentNode.data, size: Number.parseFloat(getComputedStyle(node).fontSize) });
      }
      return words;
    });
    assert.deepEqual(
      found.filter(({ size }) => size < 26),
      [],
    );
    for (const name of ["Quill / Abara", "Fenn / Tarrow"])
      assert.equal(found.filter(({ text }) => text.includes(name)).length, 1, name);
  }));

test("a_viewer_reads_who_serves_the_score_who_attacks_and_why", () =>
  stage.play({ path: GRAPHIC, greeting: held("a", 1, ["attackable"]) }, async (page, host) => {
    await seeText(page, "rt-strap .rt-side[data-team=a]", /Quill.*3/s);
    await seeText(page, "rt-strap .rt-side[data-team=b]", /5.*Fenn/s);
    await seeText(page, "rt-strap .rt-call", "5–3–1");
    assert.equal(await page.locator("rt-strap .rt-strap").getAttribute("data-serving"), "b");
    await seeText(page, "rt-strap .rt-word:first-child", "offense");
    await seeText(page, "rt-strap .rt-word:last-child", "high ball");
    host.send(update(42, { readings: [initiative("b", 1, ["attack"])] }));
    await seeText(page, "rt-strap .rt-word:last-child", "offense");
    await seeText(page, "rt-strap .rt-word:first-child", "sped up");
    host.send(update(43, { readings: [initiative(null)] }));
    await seeText(page, "rt-strap .rt-even", "neutral");
  }));

test("a_ball_around_the_post_is_called_so", () =>
  stage.play(
    {
      path: GRAPHIC,
      greeting: {
        ...held("a", 1, ["attack"]),
        rally: { ...rally("a"), shots: [shot(3, "a", "atp", { toward: "a" })] },
      },
    },
    async (page) => {
      await seeText(page, "rt-strap .rt-word:last-child", "around the post");
    },
  ));

for (const [name, greeting, team, words] of [
  ["game_point", snapshot({ ...resting, score: { ...SCORE, game_point: "b" } }), "b", "game point"],
  ["match_point", snapshot({ ...resting, score: { ...SCORE, match_point: "a", game_point: "a" } }), "a", "match point"],
  ["a_new_game", snapshot({ ...resting, score: { ...SCORE, points: { a: 0, b: 0 } } }), "a", "won game 1, 11–7"],
  ["a_change_of_ends", snapshot({ ...resting, score: { ...SCORE, change_ends: true } }), null, "change ends"],
  ["a_time_out", snapshot({ ...resting, between: { id: "t1", kind: "time_out", team: "b" } }), "b", "time-out, 1 left"],
  ["a_foul", snapshot({ ...resting, between: { id: "t1", kind: "penalty", team: "a" } }), "a", "technical foul"],
  [
    "the_end",
    snapshot({
      ...resting,
      score: {
        ...SCORE,
        winner: "a",
        games: { a: 2, b: 0 },
        finished: [
          { a: 11, b: 7 },
          { a: 11, b: 9 },
        ],
      },
    }),
    null,
    "Quill / Abara won the match: 11–7, 11–9",
  ],
]) {
  test(`${name}_hangs_as_a_tab_and_is_the_only_thing_below_the_row`, () =>
    stage.play({ path: GRAPHIC, greeting }, async (page) => {
      await seeText(page, "rt-strap .rt-tab", words);
      assert.equal(await page.locator("rt-strap .rt-strap").getAttribute("data-team"), team);
      assert.equal(await page.locator("rt-strap .rt-water").isVisible(), false);
    }));
}

test("a_streak_says_what_it_counts_and_has_the_waters_place", () =>
  stage.play({ path: GRAPHIC, greeting: held("a") }, async (page, host) => {
    await seeText(page, "rt-strap", "offense");
    host.send(update(42, { readings: [initiative(null), escaped("b", 4)] }));
    await seeText(page, "rt-strap .rt-word:last-child", "out of pressure 4 times in a row");
    assert.equal(await page.locator("rt-strap .rt-strap").getAttribute("data-toward"), null);
    await seeText(page, "rt-strap .rt-even", "neutral");
  }));

test("a_long_rally_is_told_afterwards_and_goes_with_the_next_serve", () => {
  const shots = Array.from({ length: 14 }, (_, at) =>
    shot(at + 1, at % 2 === 0 ? "b" : "a", at === 0 ? "serve" : "dink", { toward: at < 4 ? null : at < 9 ? "a" : "b" }),
  );
  return stage.play(
    { path: GRAPHIC, greeting: { ...held("b"), rally: { ...rally("b"), shots } } },
    async (page, host) => {
      await seeText(page, "rt-strap", "offense");
      const insert = page.locator("rt-rally-insert .rt-insert");
      assert.equal(await insert.isVisible(), false);
      host.send(
        update(42, {
          readings: [initiative(null)],
          rally: { number: 12, shots: [], end: { entry: "r12e", won_by: "b", how: "out", by: "a" } },
        }),
      );
      await seeText(page, "rt-rally-insert .rt-insert", /14 shots: who attacked, and when.*won, ball out/s);
      // The water is held for a moment, so that its words can be read.
      await page.locator('rt-strap [data-below="nothing"]').waitFor();
      await until(async () => (await covered(page)) > 8, "the insert in its place");
      const share = await covered(page);
      assert.ok(share < 13, `${share.toFixed(2)} %`);
      host.send(update(43, { rally: { number: 13, shots: [shot(1, "b", "serve", { entry: "r13s1" })] } }));
      await until(async () => !(await insert.isVisible()), "the insert gone");
    },
  );
});

test("a_short_rally_is_not_told_afterwards", () =>
  stage.play({ path: GRAPHIC, greeting: held("a") }, async (page, host) => {
    await seeText(page, "rt-strap", "offense");
    host.send(
      update(42, {
        readings: [initiative(null)],
        rally: { number: 12, shots: [], end: { entry: "r12e", won_by: "a", how: "winner", by: "a" } },
      }),
    );
    await page.locator('rt-strap [data-below="nothing"]').waitFor();
    assert.equal(await page.locator("rt-rally-insert .rt-insert").isVisible(), false);
  }));

/**
 * Looks at every frame from now on for words that say another thing than the picture.
 * A word counts as said once it is more than half there.
 */
const watch = (page) =>
  page.evaluate(() => {
    globalThis.contradictions = [];
    globalThis.seen = new Set();
    const number = (text) => Number.parseFloat(/(-?[\d.]+)%/.exec(text)?.[1] ?? "0");
    const reach = (flow) =>
      getComputedStyle(flow)
        .clipPath.split(",")
        .map((point) => number(point));
    const look = () => {
      const box = document.querySelector("rt-strap .rt-strap");
      if (box !== null) {
        const [a, b] = ["a", "b"].map((team) => reach(box.querySelector(`.rt-flow[data-team="${team}"]`)));
        // The box of a flow is 64 % of the water.
        const wide = { a: 0.64 * a[1], b: 0.64 * (100 - b[0]) };
        for (const [team, other, node] of [
          ["a", "b", box.querySelector(".rt-word:first-child")],
          ["b", "a", box.querySelector(".rt-word:last-child")],
        ]) {
          const text = node.textContent;
          if (text === "" || Number(getComputedStyle(node).opacity) < 0.5) continue;
          globalThis.seen.add(text.replace(/\d+/, "n"));
          const wrong =
            (text === "offense" && (wide[team] < 50 || wide[other] > 50)) ||
            (text.startsWith("out of pressure") && (wide[other] > 50 || wide[team] > 50)) ||
            (text !== "offense" && !text.startsWith("out of") && !text.startsWith("from defense") && wide[other] < 50);
          if (wrong) globalThis.contradictions.push(`${team}: ${text}, ${JSON.stringify(wide)}`);
        }
        if (box.querySelector(".rt-even").textContent === "neutral" && Math.max(wide.a, wide.b) > 50) {
          if (Number(getComputedStyle(box.querySelector(".rt-even")).opacity) > 0.5)
            globalThis.contradictions.push(`neutral, ${JSON.stringify(wide)}`);
        }
      }
      // The larger pieces, where they are there.
      const plate = document.querySelector("rt-streak-moment [data-shown]");
      const tide = document.querySelector("rt-tide-line .rt-tide");
      if (plate !== null && tide !== null) {
        globalThis.seen.add("a moment");
        const toward = tide.dataset.toward;
        const isEscape = /out of pressure|from defense/.test(plate.textContent);
        if (isEscape && toward !== "none" && toward !== plate.dataset.team)
          globalThis.contradictions.push(`${plate.textContent} over a tide of ${toward}`);
      }
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });

for (const [name, query, least] of [
  ["at_its_own_tempo_four_times_over", "pace=4", ["offense"]],
  ["at_twenty_times_the_tempo_and_late", "pace=20&delay=1.5s", ["offense"]],
  ["in_the_larger_pieces", "pace=8&pieces=score,moment,tide", ["a moment"]],
]) {
  test(`words_and_picture_never_contradict_each_other_${name}`, () =>
    stage.play(
      { path: `/any/folder/graphic/index.html?recorded=../samples/invented-match.jsonl&${query}` },
      async (page) => {
        await page.locator("rt-strap .rt-row, rt-score-plate .rt-row").first().waitFor();
        await watch(page);
        await until(
          () => page.evaluate((wanted) => wanted.every((one) => globalThis.seen.has(one)), least),
          "something said",
          30_000,
        );
        await until(
          () =>
            page.evaluate(() => {
              const view = document.querySelector("rt-strap, rt-score-plate").view;
              return view.seq >= 480 || view.score?.winner != null;
            }),
          "most of the sample played",
          60_000,
        );
        assert.deepEqual(await page.evaluate(() => globalThis.contradictions), []);
      },
    ));
}

test("a_correction_in_the_middle_of_a_rally_turns_words_and_picture_together", () =>
  stage.play({ path: GRAPHIC, greeting: held("a", 1, ["body"]) }, async (page, host) => {
    await seeText(page, "rt-strap .rt-word:last-child", "off balance");
    await watch(page);
    for (const [at, toward] of [..."babab"].entries()) {
      host.send({ ...held(toward, 1, ["body"]), seq: 42 + at, revision: at + 1, reason: "corrected", match: HEADER });
      const place = toward === "a" ? "first" : "last";
      await seeText(page, `rt-strap .rt-word:${place}-child`, "offense");
    }
    assert.deepEqual(await page.evaluate(() => globalThis.contradictions), []);
  }));
