// The words: four at most for why, counted honestly, complete for the glossary.

import assert from "node:assert/strict";
import { test } from "node:test";
import * as words from "../../shared/words.js";
import { HEADER, SCORE, reason, shot } from "../support/states.js";

const CODES = ["depth", "body", "half_volley", "attackable", "air"];
const STROKES = [
  "serve",
  "return",
  "drive",
  "drop",
  "dink",
  "lob",
  "reset",
  "volley",
  "block",
  "speedup",
  "overhead",
  "erne",
  "atp",
  "other",
];

const lean = (toward, codes) => ({ phase: "play", toward, strength: 1, why: codes, flags: [] });

test("why_is_never_more_than_four_words_whatever_is_read", () => {
  for (let set = 0; set < 2 ** CODES.length; set += 1) {
    const codes = CODES.filter((_, at) => set & (1 << at)).map((code) => reason(code, "b"));
    const said = words.whyWords(lean("a", codes));
    assert.ok(said.split(" ").filter(Boolean).length <= words.MOST_WHY_WORDS, said);
    assert.equal(said === "", codes.length === 0);
  }
});

for (const [codes, said] of [
  [["attackable"], "high ball"],
  [["air"], "taken in the air"],
  [["body"], "off balance"],
  [["half_volley"], "half volley"],
  [["depth"], "pinned back"],
  [["body", "half_volley"], "off balance, half volley"],
  [["air", "attackable"], "high ball"],
  [["air", "depth"], "taken in the air"],
]) {
  test(`${codes.join("_and_")}_reads_${said.replaceAll(" ", "_")}`, () => {
    assert.equal(
      words.whyWords(
        lean(
          "b",
          codes.map((code) => reason(code, "a")),
        ),
      ),
      said,
    );
  });
}

test("reasons_against_the_team_on_offense_are_not_said", () => {
  assert.equal(words.whyWords(lean("a", [reason("body", "a"), reason("air", "b")])), "taken in the air");
});

test("nobody_ahead_needs_no_reason", () => {
  assert.equal(words.whyWords(lean(null, [reason("body", "a"), reason("air", "b")])), "");
});

for (const [code, said] of [
  ["air", "taken in the air"],
  ["escape.share", "Came out of pressure"],
  ["escape.streak", "Current streak out of pressure"],
  ["third.won/drop", "Won with a third-shot drop"],
  ["third.won/reset", "Won with a third-shot reset"],
  ["win.swing", "Swing of the next rally"],
  ["somebody.elses_count", "somebody elses count"],
  ["erne", "the erne"],
  ["game", "last ball of the game"],
  ["net_cord", "net cord"],
]) {
  test(`the_reason_${code}_reads_${said.replaceAll(" ", "_")}`, () => {
    assert.equal(words.reasonWords(reason(code, "a")), said);
  });
}

test("a_figure_says_its_sample_and_from_eight_cases_on_its_range", () => {
  assert.equal(words.figureWords({ type: "share", part: 2, whole: 3 }), "2 of 3");
  assert.equal(words.figureWords({ type: "share", part: 9, whole: 14 }), "9 of 14 (64%), range 39 to 84%");
  assert.equal(words.figureWords({ type: "count", n: 4 }), "4");
  assert.equal(words.figureWords({ type: "share", part: 2, whole: 3 }, null, 3), "2 of 3 (67%), range 21 to 94%");
  assert.equal(words.figureWords({ type: "share", part: 9, whole: 14 }, null, 15), "9 of 14");
  assert.equal(words.figureWords({ type: "chance", p: 0.753 }), "75%");
});

test("each_state_is_said_for_each_team", () => {
  assert.equal(words.stateWord(lean("a", []), "a"), "offense");
  assert.equal(words.stateWord(lean("a", []), "b"), "defense");
  assert.equal(words.stateWord(lean(null, []), "a"), "");
  assert.equal(words.stateWord({ ...lean("a", []), phase: "rest" }, "a"), "");
});

test("every_stroke_of_the_glossary_has_its_word", () => {
  for (const stroke of STROKES) {
    const word = words.strokeWord(shot(1, "a", stroke));
    assert.ok(word.length > 0 && !word.includes("_"), stroke);
  }
});

test("a_stroke_of_a_later_host_is_said_as_it_came", () => {
  assert.equal(words.strokeWord(shot(1, "a", "side_spin")), "side spin");
});

test("a_shot_nobody_saw_is_said_to_be_that", () => {
  assert.equal(words.strokeWord(shot(3, "a", null, { assumed: true })), "not seen");
});

test("a_contact_is_said_only_where_the_stroke_does_not_say_it", () => {
  assert.equal(words.shotWords(shot(1, "a", "volley", { contact: "air" })), "volley");
  assert.equal(
    words.shotWords(shot(1, "a", "dink", { contact: "air", cues: ["attackable"] })),
    "dink, taken in the air, high ball",
  );
  assert.equal(words.shotWords(shot(1, "a", "reset", { contact: "half_volley" })), "reset, half volley");
});

for (const [value, said] of [
  [{ type: "share", part: 0, whole: 0 }, "none yet"],
  [{ type: "share", part: 2, whole: 3 }, "2 of 3"],
  [{ type: "share", part: 7, whole: 7 }, "7 of 7"],
  [{ type: "share", part: 4, whole: 8 }, "4 of 8 (50%)"],
  [{ type: "share", part: 9, whole: 14 }, "9 of 14 (64%)"],
  [{ type: "share", part: 999, whole: 1000 }, "999 of 1000 (over 99%)"],
  [{ type: "chance", p: 0.001 }, "under 1%"],
  [{ type: "chance", p: 0.62 }, "62%"],
  [{ type: "count", n: 4 }, "4"],
]) {
  test(`a_${value.type}_reads_${said}`, () => assert.equal(words.valueWords(value), said));
}

test("the_call_keeps_its_order", () => {
  assert.equal(words.callWords(SCORE), "5–3–1");
  assert.equal(words.callWords({ ...SCORE, call: null }), "");
});

test("a_format_without_server_numbers_names_none", () => {
  assert.deepEqual(words.serveWords(SCORE), ["server 1", "right side"]);
  assert.deepEqual(words.serveWords({ ...SCORE, server: null, court: "left" }), ["serving", "left side"]);
});

test("match_point_outranks_game_point", () => {
  const score = { ...SCORE, game_point: "a", match_point: "a" };
  assert.equal(words.pointAtStake(score, "a"), "match point");
  assert.equal(words.pointAtStake({ ...score, match_point: null }, "a"), "game point");
  assert.equal(words.pointAtStake(score, "b"), "");
});

test("the_game_is_named_by_the_format", () => {
  assert.equal(words.gameWords(SCORE, HEADER), "Game 2, best of 3");
  const single = { ...HEADER, format: { ...HEADER.format, games: 1, points: 21 } };
  assert.equal(words.gameWords(SCORE, single), "Game to 21");
});

test("a_win_without_the_games_it_takes_is_a_retirement", () => {
  const won = { ...SCORE, winner: "a", games: { a: 2, b: 0 } };
  assert.equal(words.resultWords(won, HEADER), "Quill / Abara won the match");
  assert.equal(
    words.resultWords({ ...won, games: { a: 1, b: 0 } }, HEADER),
    "Quill / Abara won the match, opponents retired",
  );
});

for (const [end, said, tag] of [
  [{ won_by: "a", how: "winner", by: "a" }, "won by Quill / Abara, winner", "winner"],
  [{ won_by: "a", how: "out", by: "b" }, "won by Quill / Abara, ball out by Fenn / Tarrow", "won, ball out"],
  [{ won_by: "a", how: "out", by: "b", player: 1 }, "won by Quill / Abara, ball out by Lise Tarrow", "won, ball out"],
  [{ won_by: "a", how: "winner", by: "a", player: 0 }, "won by Quill / Abara, winner by Ines Quill", "winner"],
  [{ won_by: "b", how: "unknown", by: null }, "won by Fenn / Tarrow", "won"],
  [{ won_by: "b", how: null, by: null }, "won by Fenn / Tarrow", "won"],
  [{ won_by: null, how: "replay", by: null }, "replay", "replay"],
]) {
  test(`an_end_reads_${said}`, () => {
    assert.equal(words.endWords({ entry: "e", ...end }, HEADER), said);
    assert.equal(words.endTag({ entry: "e", ...end }), tag);
  });
}

test("a_team_without_a_name_is_still_called_something", () => {
  assert.equal(words.teamName(null, "b"), "Team B");
  assert.equal(
    words.teamName({ ...HEADER, teams: { a: { name: "", players: [] }, b: HEADER.teams.b } }, "a"),
    "Team A",
  );
});

test("longer_names_are_set_tighter", () => {
  assert.deepEqual(
    ["Quill / Abara", "Quillington / Abara", "Quillington-Moss / Abarakanu", "x".repeat(60)].map(words.nameFit),
    [0, 1, 2, 3],
  );
});

test("a_shot_is_the_players_where_known_else_the_teams", () => {
  assert.equal(words.strikerName(HEADER, { team: "b", player: 0 }), "Maro Fenn");
  // Recordings from before players were told hold none.
  for (const player of [null, undefined])
    assert.equal(words.strikerName(HEADER, { team: "b", player }), "Fenn / Tarrow");
  const unnamed = { ...HEADER, teams: { ...HEADER.teams, a: { name: "Quill", players: [] } } };
  assert.equal(words.strikerName(unnamed, { team: "a", player: 1 }), "Quill");
});
for (const [name, short] of [
  ["Okafor / Lind", "Okafor / Lind"],
  ["Featherstone-Whitcombe / Papadimitriou", "Featherstone / Papadimitriou"],
  ["Featherstonehaugh-Whitcombe / Papadimitropoulos", "Featherstoneh… / Papadimitropou…"],
  ["Montgomery-Oyelaran-Featherstonehaugh / Sato", "Montgomery / Sato"],
  ["The Harbor Lights Evening Pickleball Club", "The Harbor Lights Evening Pickl…"],
  ["Jo / Papadimitropoulos-Konstantinidou", "Jo / Papadimitropoulos"],
])
  test(`a_name_is_shortened_to_what_the_row_holds_${name}`, () => {
    const said = words.shortName(name, 32);
    assert.equal(said, short);
    assert.ok([...said].length <= 32);
  });
