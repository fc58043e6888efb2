// The booth on the things it is held in: a 10-inch tablet both ways and a phone,
// in every format of a match, under a finger.

import assert from "node:assert/strict";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { LONG } from "../support/graphic-states.js";
import { seeText, useStage } from "../support/stage.js";
import { HEADER, SCORE, held, reading, reason, update } from "../support/states.js";

const BOOTH = "/courts/1/booth";
const stage = useStage();

const DEVICES = {
  tablet_lying: { viewport: { width: 1280, height: 800 }, hasTouch: true },
  tablet_standing: { viewport: { width: 800, height: 1280 }, hasTouch: true },
  phone: { viewport: { width: 390, height: 844 }, hasTouch: true },
};

const format = (extra) => ({ ...HEADER, format: { ...HEADER.format, ...extra } });
const singles = {
  ...HEADER,
  teams: { a: { name: "Ines Quill", players: ["Ines Quill"] }, b: { name: "Lise Tarrow", players: ["Lise Tarrow"] } },
};
const noServer = { server: null, server_player: 0, receiver_player: 0 };

/** What the plate says in each format: call, serve, game. */
const FORMATS = [
  ["side_out_doubles_call_three_numbers", HEADER, SCORE, ["5–3–1", "server 1", "Game 2, best of 3"]],
  [
    "the_second_server",
    HEADER,
    { ...SCORE, call: "5-3-2", server: 2, server_player: 0 },
    ["5–3–2", "server 2", "Maro Fenn"],
  ],
  [
    "side_out_singles_call_two",
    { ...singles, format: { ...HEADER.format, discipline: "singles" } },
    { ...SCORE, ...noServer, call: "5-3" },
    ["5–3", "serving", "Lise Tarrow"],
  ],
  [
    "rally_scoring_doubles_call_two",
    format({ scoring: "rally", points: 21, games: 1 }),
    { ...SCORE, ...noServer, game: 1, games: { a: 0, b: 0 }, finished: [], points: { a: 13, b: 15 }, call: "15-13" },
    ["15–13", "serving", "Game to 21"],
  ],
  [
    "rally_scoring_singles_call_two",
    { ...singles, format: { ...HEADER.format, discipline: "singles", scoring: "rally" } },
    { ...SCORE, ...noServer, call: "5-3" },
    ["5–3", "serving"],
  ],
  [
    "a_fourth_game_of_best_of_five",
    format({ games: 5 }),
    {
      ...SCORE,
      game: 4,
      games: { a: 2, b: 1 },
      finished: [
        { a: 11, b: 7 },
        { a: 9, b: 11 },
        { a: 11, b: 4 },
      ],
    },
    ["5–3–1", "Game 4, best of 5"],
  ],
  [
    "one_game_to_fifteen",
    format({ points: 15, games: 1 }),
    { ...SCORE, game: 1, games: { a: 0, b: 0 }, finished: [] },
    ["5–3–1", "Game to 15"],
  ],
  [
    "best_of_five_won",
    format({ games: 5 }),
    {
      ...SCORE,
      game: 5,
      games: { a: 3, b: 2 },
      points: { a: 22, b: 20 },
      call: null,
      winner: "a",
      finished: [
        { a: 11, b: 7 },
        { a: 9, b: 11 },
        { a: 11, b: 4 },
        { a: 3, b: 11 },
        { a: 22, b: 20 },
      ],
    },
    ["11", "22", "Quill / Abara won the match"],
  ],
];

for (const [what, match, score, expected] of FORMATS) {
  test(`the_booths_plate_says_${what}`, () =>
    stage.play(
      { path: BOOTH, greeting: { ...held("b"), match, score }, context: DEVICES.tablet_lying },
      async (page) => {
        for (const words of expected) await seeText(page, "rt-score-plate", words);
        const pips = match.format.games === 1 || score.winner !== null ? 0 : match.format.games + 1;
        assert.equal(await page.locator("rt-score-plate .rt-pip:visible").count(), pips);
      },
    ));
}

const prompt = (slot, seq, text) =>
  reading("prompt", null, { type: "text", text }, { slot, seq, why: [reason("air", "a", "r12s3")] });
const end = { entry: "r11e", won_by: "a", how: "winner", by: "a" };
const earlier = [{ number: 11, shots: [], end }];
const crowded = {
  ...held("b"),
  match: LONG,
  readings: [
    ...held("b").readings,
    prompt(
      "p1",
      50,
      "Featherstonehaugh-Whitcombe and Papadimitropoulos have come out of pressure four times in a row.",
    ),
  ],
};
crowded.rally = { ...crowded.rally, earlier };

for (const [device, context] of Object.entries(DEVICES)) {
  test(`on_a_${device}_nothing_spills_and_score_and_state_are_seen_without_scrolling`, () =>
    stage.play({ path: BOOTH, greeting: crowded, context }, async (page) => {
      await seeText(page, "rt-evidence", "Wiśniewska on offense");
      const wrong = await page.evaluate(() => {
        const found = [];
        if (document.documentElement.scrollWidth > innerWidth) found.push("the page scrolls sideways");
        for (const section of document.querySelectorAll(
          "rt-score-plate, .state, rt-tide-line, .say, .numbers, .rallies",
        )) {
          const edge = section.getBoundingClientRect();
          for (const part of section.querySelectorAll("*")) {
            const box = part.getBoundingClientRect();
            const isHidden = part.closest(".rt-hidden, caption, svg, details:not([open]) > :not(summary)") !== null;
            if (!isHidden && box.width > 0 && (box.right > edge.right + 1 || box.left < edge.left - 1))
              found.push(`${part.localName}.${part.className}`);
          }
        }
        for (const selector of ["rt-score-plate", "rt-evidence"]) {
          if (document.querySelector(selector).getBoundingClientRect().bottom > innerHeight)
            found.push(`${selector} is below the fold`);
        }
        return found;
      });
      assert.deepEqual(wrong, []);
    }));
}

/** One of every length that is set in its own way, and what is widest of it. */
const NAMES = [
  ["Mumm / Wommawumm", "Quill / Abara"],
  ["Pellegrand / Kowalczek", "Wexcombe / Kahananui"],
  ["Montgomery-Oyelaran / Wiśniewska", "Yamashiro-Bell / Wexcombe"],
];
for (const [device, context] of Object.entries(DEVICES)) {
  test(`on_a_${device}_both_names_are_read_whole`, () =>
    stage.play({ path: BOOTH, greeting: held("b"), context }, async (page, host) => {
      await seeText(page, "rt-score-plate", "Quill / Abara");
      for (const [a, b] of NAMES) {
        host.send({
          ...held("b"),
          match: {
            ...HEADER,
            teams: { a: { name: a, players: HEADER.teams.a.players }, b: { name: b, players: HEADER.teams.b.players } },
          },
        });
        await seeText(page, "rt-score-plate", b);
        await page.evaluate(() => document.fonts.ready);
        const cut = await page
          .locator("rt-score-plate .rt-name")
          .evaluateAll((all) =>
            all
              .filter((one) => one.scrollWidth > one.clientWidth || one.scrollHeight > one.clientHeight + 1)
              .map((one) => one.textContent),
          );
        assert.deepEqual(cut, []);
      }
    }));
}

for (const [list, selector] of [
  ["lines_to_say", "rt-prompt-list summary"],
  ["last_rallies", "rt-earlier-rallies summary"],
]) {
  test(`while_a_finger_is_on_the_${list}_nothing_moves_below_it`, () =>
    stage.play({ path: BOOTH, greeting: crowded, context: DEVICES.tablet_standing }, async (page, host) => {
      const row = page.locator(selector).first();
      await row.waitFor();
      await seeText(page, "rt-evidence", "Wiśniewska on offense");
      await page.evaluate(() => document.fonts.ready);
      await row.scrollIntoViewIfNeeded();
      const before = await row.boundingBox();
      const session = await page.context().newCDPSession(page);
      await session.send("Input.dispatchTouchEvent", {
        type: "touchStart",
        touchPoints: [{ x: before.x + 80, y: before.y + 20 }],
      });
      host.send(
        update(42, {
          readings: [prompt("p2", 60, "A newer line."), prompt("p3", 61, "The newest line.")],
          rally: { number: 12, shots: [], end: { ...end, entry: "r12e" } },
        }),
      );
      await seeText(page, "rt-prompt-list button", "Show 2 newer");
      await seeText(page, "rt-earlier-rallies button", "Show 1 newer");
      const now = await row.boundingBox();
      // Rounding of where the page is scrolled to, far less than a line.
      assert.ok(Math.abs(now.y - before.y) < 4 && now.x === before.x, `moved by ${now.y - before.y} pixels`);
      await session.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
      await page.evaluate(() => document.activeElement.blur());
      await until(
        async () => (await page.locator("rt-prompt-list summary").count()) === 3,
        "the newer lines, once the finger has left",
      );
      await seeText(page, "rt-earlier-rallies summary", "Rally 12");
    }));
}
