// Players in the booth: named where known, with how many named shots their numbers
// rest on; nothing about them where nobody is named or the score alone is charted.

import assert from "node:assert/strict";
import { test } from "node:test";
import { seeText, useStage } from "../support/stage.js";
import { held, rally, reading, snapshot } from "../support/states.js";

const BOOTH = "/courts/1/booth";
const TABLET = { viewport: { width: 1024, height: 768 }, hasTouch: true };
const stage = useStage();

const share = (indicator, team, player, part, whole) =>
  reading(indicator, team, { type: "share", part, whole }, { player });
const players = (named) =>
  ["a", "b"].flatMap((team) =>
    [0, 1].flatMap((player) => [
      share("player.shots", team, player, named && 10 + player, named && 21),
      share("player.pressed", team, player, named && 3, named && 10 + player),
      share("player.errors", team, player, named && 1, named && 2),
    ]),
  );
const withReadings = (...more) => ({ ...held("b"), readings: [...held("b").readings, ...more] });

test("each_players_numbers_stand_with_how_many_named_shots_they_rest_on", () =>
  stage.play({ path: BOOTH, greeting: withReadings(...players(1)), context: TABLET }, async (page) => {
    await seeText(page, "rt-player-numbers", "Tobi Abara");
    const rows = await page.locator("rt-player-numbers tbody tr").allInnerTexts();
    assert.deepEqual(
      rows.map((row) => row.split(/[\t\n]+/)[0].trim()),
      ["Ines Quill", "Tobi Abara", "Maro Fenn", "Lise Tarrow"],
    );
    assert.match(rows[1], /11 of 21 \(52%\).*3 of 11 \(27%\).*1 of 2/s);
    await seeText(
      page,
      "rt-player-numbers",
      "Rests on the 42 shots from the third of a rally on whose player was named.",
    );
  }));

test("where_nobody_is_named_or_the_score_alone_is_charted_nothing_stands_there", async () => {
  const end = { entry: "r12e", won_by: "a", how: null, by: null, player: null };
  const alone = { number: 12, shots: [], end, earlier: [] };
  for (const greeting of [
    held("b"),
    withReadings(...players(0)),
    snapshot({ readings: [...players(1), reading("rally.longest", null, { type: "count", n: 0 })], rally: alone }),
  ])
    await stage.play({ path: BOOTH, greeting, context: TABLET }, async (page) => {
      await seeText(page, ".title", "Harbour Day");
      await page.locator("rt-player-numbers").waitFor({ state: "hidden" });
    });
});

test("a_shot_and_an_end_name_their_player_where_known", () => {
  const shots = rally("b").shots.map((shot) => ({ ...shot, player: shot.n < 3 ? 1 : null }));
  const end = { entry: "r12e", won_by: "b", how: "net", by: "a", player: 0 };
  const greeting = { ...held(null), rally: rally(null, { shots, end }) };
  return stage.play({ path: BOOTH, greeting, context: TABLET }, async (page) => {
    await seeText(page, "rt-earlier-rallies", "ball in the net by Ines Quill");
    await page.locator("rt-earlier-rallies summary").click();
    await seeText(page, "rt-earlier-rallies", "Lise Tarrow: serve");
    await seeText(page, "rt-earlier-rallies", "Tobi Abara: return");
    await seeText(page, "rt-earlier-rallies", "Fenn / Tarrow: drop");
    const titles = await page.locator("rt-rally-ribbon title").allTextContents();
    assert.deepEqual(titles.slice(0, 2), ["1. Lise Tarrow: serve", "2. Tobi Abara: return"]);
  });
});
