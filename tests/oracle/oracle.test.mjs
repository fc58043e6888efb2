/**
 * The sport's published rules and worked examples, checked on the second implementation.
 *
 * Beside each check stands its source and how we know it: [seen] read in the source, [memory]
 * recalled, [derived] worked out from rules that were read. USAP = USA Pickleball rulebook,
 * by edition and rule number.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { flagLines } from "./flags.mjs";
import { Match, recordedScore } from "./scoring.mjs";
import { effectiveOf, fix, headerFor, matchAfter, play, rallies, scoresOf, shortForm } from "./chart-words.mjs";

const rally = (points, more = {}) => ({ scoring: "rally", points, ...more });
const netBy = (team) => ({ kind: "rally_end", how: "net", by: team, fault: "serve" });

/** Compares call, server and court after each rally with the table. */
function follows(header, winners, expected) {
  assert.deepEqual(scoresOf(header, rallies(winners)).map(shortForm), expected);
}

// Published example, playpickleball.com on keeping score [seen].
test("a_lost_rally_passes_the_serve_to_the_partner_without_a_swap_and_then_to_the_other_team", () => {
  const scores = scoresOf(headerFor(), [fix(4, 3, "a", { server: 1 }), ...rallies("BAB")]);
  assert.deepEqual(scores.slice(1).map(shortForm), ["4-3-1 A1R", "4-3-2 A2L", "5-3-2 A2R", "3-5-1 B2R"]);
});

// Published: pickleballglobal.shop, playpickleball.com, playpickleball.at [seen]; USAP 2026 5.B.2.
test("the_team_that_starts_a_game_has_one_server_numbered_two", () => {
  follows(headerFor(), "B", ["0-0-2 A1R", "0-0-1 B1R"]);
});

// Published example, goldcoastnorthpickleball [seen].
test("after_the_second_server_the_call_turns_round", () => {
  const match = matchAfter(headerFor(), [fix(4, 3, "a", { server: 2 }), ...rallies("B")]);
  assert.equal(match.score().call, "3-4-1");
});

// Published: prescottpickleball.org, riverviewpickleball.com (league write-ups) [seen].
test("with_static_positions_receivers_who_win_the_first_rally_serve_from_the_left", () => {
  const scores = scoresOf(headerFor(rally(15, { positions: "static" })), rallies("B"));
  assert.equal(shortForm(scores[1]), "1-0 B2L");
});

// Published example, insideden.com on the 2026 book [seen]; USAP 2026 14.A.2.
test("receivers_can_win_the_game_when_the_server_nets_the_serve", () => {
  const score = matchAfter(headerFor(rally(15)), [fix(13, 14, "a"), netBy("a")]).score();
  assert.deepEqual(score.finished, [{ a: 13, b: 15 }]);
});

// Published example, thekitchenpickle.com on the 2026 book [seen].
test("the_leader_wins_when_the_opponents_serve_goes_into_the_net", () => {
  const score = matchAfter(headerFor(rally(15)), [fix(14, 10, "b"), netBy("b")]).score();
  assert.deepEqual(score.finished, [{ a: 15, b: 10 }]);
});

// Rule published: usapickleball.org on singles rally scoring (2024), playpickleball.com (2025 book)
// [seen]; the line itself [derived].
test("where_only_the_server_wins_receivers_at_game_point_get_the_serve_but_no_point", () => {
  const format = rally(15, { winning_point: "server" });
  const score = matchAfter(headerFor(format), [fix(14, 10, "b"), netBy("b")]).score();
  assert.equal(shortForm(score), "14-10 A1R");
  assert.equal(score.game_point, "a");
});

// [derived] from the 2025 book's rally scoring, playpickleball.com.
test("where_only_the_server_wins_a_netted_serve_at_13_14_is_a_side_out", () => {
  const format = rally(15, { winning_point: "server" });
  const score = matchAfter(headerFor(format), [fix(13, 14, "a"), netBy("a")]).score();
  assert.equal(score.call, "14-13");
});

// Published example, picklepow.com (2024 book, 12.F.6.a) [seen].
test("a_retirement_is_recorded_with_the_least_winning_scores", () => {
  const header = headerFor();
  const match = matchAfter(header, [fix(10, 5, "a"), { kind: "retire", team: "a" }]);
  const score = match.score();
  assert.equal(score.winner, "b");
  assert.deepEqual(score.points, { a: 10, b: 5 });
  assert.deepEqual(recordedScore(score, header.format, "a"), [
    { a: 10, b: 12 },
    { a: 0, b: 11 },
  ]);
});

// Published example, playpickleball.com (2025) [seen]; the left court [derived].
test("a_foul_by_the_receivers_before_play_opens_the_game_at_1_0_2_from_the_left", () => {
  const match = matchAfter(headerFor(), [{ kind: "penalty", team: "b" }]);
  assert.equal(shortForm(match.score()), "1-0-2 A1L");
});

// Published: USAP 2021 change document, tppickleballclub.org, tucson.com [seen].
test("a_serve_that_touches_the_net_is_live_and_nothing_is_replayed", () => {
  const contents = [...play("a:serve!net_cord b:return"), ...rallies("A")];
  const match = matchAfter(headerFor(), contents);
  assert.equal(match.score().call, "1-0-2");
  assert.equal(match.score().rallies, 1);
});

// Published: USAP 2025 5.B.3, playpickleball.com; Pickleball Magazine rules column [seen].
test("in_the_deciding_game_ends_change_at_six_and_serve_and_call_go_on", () => {
  const games = { a: 1, b: 1 };
  const [, , at5, at6, at7] = scoresOf(headerFor(), [fix(4, 2, "a", { server: 1, games }), ...rallies("AAA")]);
  assert.deepEqual([at5.change_ends, at5.near], [false, "a"]);
  assert.deepEqual([at6.change_ends, at6.near, at6.call, at6.server_player], [true, "b", "6-2-1", at5.server_player]);
  assert.deepEqual([at7.change_ends, at7.near], [false, "b"]);
});

// Published: half marks 6, 8, 11 of 11, 15, 21; USAP 2025 5.B.3, playpickleball.com [seen];
// 4 of 7 in bad weather, USAP 2025 12.B.1.a [seen].
test("the_first_team_to_reach_half_of_the_points_rounded_up_causes_the_change_of_ends", () => {
  for (const [points, half] of [
    [11, 6],
    [15, 8],
    [21, 11],
    [7, 4],
  ]) {
    const scores = scoresOf(headerFor({ points, games: 1 }), rallies("A".repeat(half)));
    assert.deepEqual(
      scores.findIndex((score) => score.change_ends),
      half,
      `to ${points}`,
    );
  }
});

// [derived] from USAP 2026 4.A, 5.B.
test("the_serve_moves_as_in_the_long_side_out_table", () => {
  follows(headerFor(), "BBBAABBA", [
    "0-0-2 A1R",
    "0-0-1 B1R",
    "1-0-1 B1L",
    "2-0-1 B1R",
    "2-0-2 B2L",
    "0-2-1 A1R",
    "0-2-2 A2L",
    "2-0-1 B1R",
    "2-0-2 B2L",
  ]);
});

// [derived] from the parity rule: 1999 book 5.B.7 (htpickleball.org), glossary 2022.
test("after_an_odd_score_the_partner_opens_the_turn_and_receivers_stand_diagonal", () => {
  const header = headerFor();
  const winners = "AAABBBABAABB";
  follows(header, winners, [
    "0-0-2 A1R",
    "1-0-2 A1L",
    "2-0-2 A1R",
    "3-0-2 A1L",
    "0-3-1 B1R",
    "1-3-1 B1L",
    "2-3-1 B1R",
    "2-3-2 B2L",
    "3-3-2 B2R",
    "3-3-1 A2R",
    "4-3-1 A2L",
    "4-3-2 A1R",
    "3-4-1 B2R",
  ]);
  const receivers = scoresOf(header, rallies(winners)).map(
    (score) => `${score.serving === "a" ? "B" : "A"}${score.receiver_player + 1}`,
  );
  assert.equal(receivers.join(" "), "B1 B2 B1 B2 A2 A1 A2 A1 A2 B2 B1 B2 A1");
});

// USAP 2024 13.G.3.c, picklepow.com [seen]; the courts [memory].
test("a_foul_by_the_servers_takes_a_point_and_leaves_the_server", () => {
  const [, before, after] = scoresOf(headerFor(), [fix(5, 3, "a", { server: 2 }), { kind: "penalty", team: "a" }]);
  assert.equal(before.call, "5-3-2");
  assert.equal(after.call, "4-3-2");
  assert.equal(after.server_player, before.server_player);
  assert.notEqual(after.court, before.court);
});

// Score: USAP 2024 13.G.3.c, picklepow.com [seen]; change of ends [derived].
test("a_foul_by_receivers_on_nothing_gives_the_servers_a_point_and_can_change_ends", () => {
  const scores = scoresOf(headerFor({ games: 1 }), [fix(5, 0, "a", { server: 1 }), { kind: "penalty", team: "b" }]);
  const { call, change_ends, near } = scores[2];
  assert.deepEqual([call, change_ends, near], ["6-0-1", true, "b"]);
});

// USAP 2022 5.B.7, 2022 change document [seen]; that the change is not repeated [memory].
test("a_point_taken_off_never_undoes_or_repeats_a_change_of_ends", () => {
  const scores = scoresOf(headerFor({ games: 1 }), [
    fix(5, 0, "a"),
    ...rallies("A"),
    { kind: "penalty", team: "a" },
    ...rallies("A"),
  ]);
  assert.deepEqual(
    scores.slice(2).map((score) => `${score.points.a}${score.near}`),
    ["6b", "5b", "6b"],
  );
});

// USAP 2022 5.B.7, 2022 change document [seen]; that the change is not repeated [memory].
// A referee who goes to an earlier game and back sends nobody to the other side [derived].
test("half_reached_again_after_the_referee_went_to_another_game_and_back_changes_no_ends", () => {
  const decider = fix(5, 3, "a", { games: { a: 1, b: 1 } });
  const scores = scoresOf(headerFor(rally(11)), [
    decider,
    ...rallies("A"),
    fix(9, 9, "a", { games: { a: 1, b: 0 } }),
    decider,
    ...rallies("A"),
  ]);
  assert.deepEqual(
    scores.slice(1).map(({ near, change_ends: now }) => `${near}${now ? "!" : ""}`),
    ["a", "b!", "b", "b", "b"],
  );
});

test("a_deciding_game_that_play_comes_to_again_changes_ends_again", () => {
  const scores = scoresOf(headerFor(rally(11)), [
    fix(5, 3, "a", { games: { a: 1, b: 1 } }),
    ...rallies("A"),
    fix(9, 10, "a", { games: { a: 1, b: 0 } }),
    ...rallies("B"),
    fix(5, 3, "a"),
    ...rallies("A"),
  ]);
  assert.deepEqual(
    scores.slice(1).map(({ near, change_ends: now }) => `${near}${now ? "!" : ""}`),
    ["a", "b!", "b", "a!", "a", "b!"],
  );
});

// Published: USAP 2025 10.A.4, playpickleball.com [seen].
test("a_time_out_with_none_left_costs_nothing_but_is_flagged", () => {
  const timeOut = { kind: "time_out", team: "a" };
  const scores = scoresOf(headerFor(), [timeOut, timeOut, timeOut]);
  assert.deepEqual(
    scores.map((score) => score.time_outs_left.a),
    [2, 1, 0, 0],
  );
  assert.deepEqual(scores[3], scores[2]);
  const flags = flagLines(headerFor(), effectiveOf([timeOut, timeOut, timeOut]));
  assert.deepEqual(
    flags.map((line) => line.flags),
    [[], [], ["no_time_out_left"]],
  );
});

// Published: USAP 2025 10.A, playpickleball.com [seen].
test("a_game_to_21_has_three_time_outs_and_shorter_ones_two", () => {
  const left = (points) => new Match(headerFor({ points })).score().time_outs_left.a;
  assert.deepEqual([left(11), left(15), left(20), left(21)], [2, 2, 2, 3]);
});

// [derived] from the rally-scoring rules of 2025 and 2026; not published as a sequence.
test("rally_scoring_with_swaps_opens_every_turn_from_the_right", () => {
  const expected = ["0-0 A1R", "1-0 A1L", "2-0 A1R", "1-2 B2R", "2-2 B2L", "3-2 B2R", "3-3 A2R"];
  for (const winning_point of ["any", "server"]) {
    follows(headerFor(rally(15, { winning_point })), "AABBBA", expected);
  }
});

// [derived] from prescottpickleball.org and riverviewpickleball.com; not published as a sequence.
test("rally_scoring_with_static_positions_serves_from_the_court_of_the_score", () => {
  const header = headerFor(rally(15, { positions: "static" }));
  follows(header, "AABBBA", ["0-0 A1R", "1-0 A2L", "2-0 A1R", "1-2 B2L", "2-2 B1R", "3-2 B2L", "3-3 A2L"]);
});

// [derived] from usapickleball.org/pickleball-basics/scoring-position (2025).
test("in_singles_the_servers_own_score_gives_the_court_of_both", () => {
  const header = headerFor({ discipline: "singles" });
  follows(header, "AAB", ["0-0 A1R", "1-0 A1L", "2-0 A1R", "0-2 B1R"]);
});

// Published: USAP 2019, 2025 5.B.1 (flipbuilder reprint, playpickleball.com) [seen].
test("after_a_game_ends_change_and_the_other_team_serves_first", () => {
  const score = matchAfter(headerFor(), rallies("A".repeat(11))).score();
  const { game, games, call, serving, change_ends, near, finished } = score;
  assert.deepEqual(
    { game, games, call, serving, change_ends, near, finished },
    {
      game: 2,
      games: { a: 1, b: 0 },
      call: "0-0-2",
      serving: "b",
      change_ends: true,
      near: "b",
      finished: [{ a: 11, b: 0 }],
    },
  );
});

// The following are of this program's own making, where the published rules are silent.
test("after_the_match_who_stood_where_is_kept_as_before_the_last_rally", () => {
  const header = headerFor(rally(3, { win_by: 1, games: 1 }));
  const [before, after] = scoresOf(header, rallies("BBAAB")).slice(-2);
  assert.equal(before.call, "2-2");
  const kept = ["game", "serving", "server_player", "receiver_player", "court", "near"];
  for (const key of kept) assert.deepEqual(after[key], before[key], key);
  assert.deepEqual(after.points, { a: 2, b: 3 });
  assert.deepEqual([after.winner, after.call, after.game_point, after.games.b], ["b", null, null, 1]);
});

test("a_taken_point_that_leaves_a_team_two_clear_ends_nothing_until_that_team_scores", () => {
  const scores = scoresOf(headerFor(), [
    fix(11, 10, "b", { server: 1 }),
    { kind: "penalty", team: "b" },
    ...rallies("AAA"),
  ]);
  assert.deepEqual(
    scores.slice(2).map((score) => score.call),
    ["9-11-1", "9-11-2", "11-9-1", "0-0-2"],
  );
});

test("the_keys_of_the_score_stand_in_their_fixed_order", () => {
  assert.deepEqual(Object.keys(new Match(headerFor()).score()), [
    "game",
    "games",
    "points",
    "call",
    "serving",
    "server",
    "server_player",
    "receiver_player",
    "court",
    "finished",
    "change_ends",
    "near",
    "time_outs_left",
    "game_point",
    "match_point",
    "winner",
    "rallies",
  ]);
});
