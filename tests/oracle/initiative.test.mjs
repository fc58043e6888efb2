/**
 * Who holds the initiative, spells, tempo and counts, on rallies worked out by hand.
 *
 * The rules are common practice of the trade; there is no published standard to check against.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { flagLines } from "./flags.mjs";
import {
  boardAfter,
  effectiveOf,
  fix,
  headerFor,
  initiativeOf,
  play,
  rallies,
  reading,
  shown,
} from "./chart-words.mjs";

/** Both teams at the line, nobody holding, the last shot a dink by b. */
const SETTLED = "a:serve b:return a:drop b:dink";

const holds = (text, expected, header = headerFor()) => assert.equal(initiativeOf(play(text), header), expected);

test("after_a_serve_nobody_holds", () => holds("a:serve", "nobody 0 []"));

test("the_return_brings_its_team_to_the_line_and_the_servers_onto_defense", () =>
  holds("a:serve b:return", "b 1 [depth:a]"));

test("a_drop_that_has_to_bounce_brings_its_team_forward", () => holds(SETTLED, "nobody 0 []"));

test("a_drop_taken_in_the_air_does_not", () => holds("a:serve b:return a:drop b:volley", "b 1 [air:a]"));

test("a_drop_by_a_team_already_at_the_line_brings_nobody_forward", () =>
  holds("a@line a:serve b:return a:drop a@back b:dink", "b 1 [depth:a]"));

test("a_speedup_in_the_air_puts_the_other_team_on_defense", () => holds(`${SETTLED} a:speedup/air`, "a 1 [air:b]"));

test("a_volley_against_a_volley_is_contested", () =>
  holds(`${SETTLED} a:speedup/air b:volley`, "nobody 0 [air:a air:b] contested"));

test("a_block_of_a_firm_ball_leaves_the_attackers_holding", () =>
  holds(`${SETTLED} a:speedup/air b:block`, "a 1 [air:b]"));

test("a_soft_ball_under_attack_is_carried_until_it_is_answered", () => {
  holds(`${SETTLED} a:speedup/air b:block a:block`, "a 0 [] carried");
  holds(`${SETTLED} a:speedup/air b:block a:dink`, "nobody 0 []");
});

test("a_shot_with_unknown_contact_is_carried_even_if_nobody_held", () =>
  holds(`${SETTLED} a:other`, "nobody 0 [] carried"));

test("an_attackable_ball_counts_at_once_and_against_its_team_on_the_next_shot", () => {
  holds(`${SETTLED} a:dink!attackable`, "b 1 [attackable:a]");
  holds(`${SETTLED} a:dink!attackable b:volley`, "b 1 [air:a attackable:a]");
  holds(`${SETTLED} a:dink!attackable b:volley!attackable`, "a 1 [attackable:b]");
});

test("a_half_volley_counts_against_its_team_and_an_older_body_cue_no_more", () =>
  holds("a:serve b:return!awkward a:drive/half_volley", "b 1 [half_volley:a]"));

test("an_inferred_depth_does_not_tip_the_scales_and_one_seen_on_both_sides_does", () => {
  holds("a:serve b:return a:drop b:volley!off_balance", "nobody 0 [air:a body:b] contested");
  holds("a@back b@line a:serve b:return a:drop b:volley!off_balance", `b ${1 / 3} [air:a body:b depth:a] contested`);
});

test("a_speedup_and_a_ball_around_the_post_attack_however_they_are_met", () => {
  for (const stroke of ["speedup", "atp"]) {
    holds(`${SETTLED} a:${stroke}/bounce`, "a 1 [attack:b]");
    holds(`${SETTLED} a:${stroke}/air`, "a 1 [air:b]");
    holds(`${SETTLED} a:${stroke}/half_volley`, "nobody 0 [attack:b half_volley:a] contested");
    holds(`${SETTLED} a:${stroke}!attackable`, "b 1 [attackable:a]");
    holds(`${SETTLED} a:${stroke} b:block`, "a 1 [attack:b]");
    holds(`${SETTLED} a:${stroke} b:volley`, "nobody 0 [air:a attack:b] contested");
    holds(`${SETTLED} a:${stroke} b:speedup`, "nobody 0 [attack:a attack:b] contested");
    holds(`${SETTLED} a:${stroke} b:dink`, "nobody 0 []");
  }
});

test("a_ball_that_sat_up_is_let_go_by_a_dink_a_drop_or_a_lob", () => {
  holds(`${SETTLED} a:dink!attackable b:dink`, "nobody 0 []");
  holds(`${SETTLED} a:dink!attackable b:drop`, "nobody 0 []");
  holds(`${SETTLED} a:dink!attackable b:lob`, "b 0 [] carried");
  holds(`${SETTLED} a:dink!attackable b:reset`, "b 1 [attackable:a]");
});

test("both_body_cues_make_one_row_named_after_the_first", () => {
  const contents = [...play(`${SETTLED} a:dink`), { kind: "cue", cue: "awkward" }, { kind: "cue", cue: "off_balance" }];
  const { why } = reading(boardAfter(contents), "initiative");
  assert.deepEqual(why, [{ code: "body", team: "a", entry: "e6", inferred: false }]);
});

test("a_lob_that_bounces_turns_the_depths_round", () => {
  holds(`${SETTLED} a:lob b:drive`, "a 1 [depth:b]");
  holds(`${SETTLED} a:lob b:overhead`, "b 1 [air:a]");
});

test("a_net_cord_counts_for_nobody", () => holds(`${SETTLED} !net_cord`, "nobody 0 []"));

test("a_missed_shot_counts_in_the_numbering_and_hides_what_came_before", () => {
  const board = boardAfter(play(`${SETTLED} b:volley`));
  assert.equal(shown(board, "rally.shots"), "6");
  assert.equal(initiativeOf(play(`${SETTLED} b:dink!attackable b:volley`)), "b 1 [air:a]");
  holds("a:serve a:drop", "nobody 0 []");
});

test("a_missed_second_shot_brings_nobody_to_the_line", () => {
  assert.equal(shown(boardAfter(play("a:serve a:drop")), "depth", "b"), "back");
});

test("an_explicit_depth_stops_inference_until_a_dink", () => {
  holds("b@back a:serve b:return", "nobody 0 []");
  holds("a@back a:serve b:return a:drop b:volley", "b 1 [air:a]");
  holds("a@back a:serve b:return a:drop b:dink", "b 1 [depth:a]");
  holds("a@back a:serve b:return a:dink", "nobody 0 []");
});

test("a_depth_of_one_player_survives_a_dink", () => {
  holds("a1@back a:serve b:return a:dink", "b 1 [depth:a]");
  const singles = headerFor({ discipline: "singles" });
  holds("a0@back a:serve b:return a:dink", "b 1 [depth:a]", singles);
  holds("a@back a:serve b:return a:dink", "nobody 0 []", singles);
});

test("a_row_of_depth_is_inferred_unless_both_teams_are_explicit", () => {
  const inferred = (text) => reading(boardAfter(play(text)), "initiative").why[0].inferred;
  assert.equal(inferred("a:serve b:return"), true);
  assert.equal(inferred("a@back a:serve b:return"), true);
  assert.equal(inferred("a@back b@line a:serve b:return"), false);
});

test("a_depth_between_two_rallies_belongs_to_the_coming_one", () => {
  holds("a:serve won=a a@line a:serve b:return", "nobody 0 []");
  holds("a@line a:serve won=a a:serve b:return", "b 1 [depth:a]");
});

test("a_cue_about_a_shot_of_another_rally_has_no_effect", () => {
  const contents = [...play("a:serve won=a a:serve"), { kind: "cue", cue: "attackable", shot: "e1" }];
  assert.equal(initiativeOf(contents), "nobody 0 []");
  assert.deepEqual(flagLines(headerFor(), effectiveOf(contents)).at(-1).flags, ["no_shot"]);
});

test("odd_shots_are_flagged", () => {
  const flags = (text) => flagLines(headerFor(), effectiveOf(play(text))).map((line) => line.flags.join());
  assert.deepEqual(flags("b:serve a:return a:drop"), ["serve_by_receivers", "", "missed_shot"]);
  assert.deepEqual(flags("b:return a:drop a:serve"), ["no_serve", "no_serve", "missed_shot"]);
});

// a is pressed by the volley, resets, and b has to let the ball bounce: recovered.
const RECOVERED = "a:serve b:return a:drop b:volley a:reset b:dink";

test("a_pressed_spell_that_ends_with_nobody_holding_is_recovered", () => {
  const board = boardAfter(play(RECOVERED));
  const { value, seq } = reading(board, "escape.streak", "a");
  assert.deepEqual([value.n, seq], [1, 6]);
  assert.equal(shown(board, "escape.share", "a"), "1/1");
  assert.equal(shown(board, "approach.reached", "a"), "1/1");
});

test("a_lost_pressed_spell_ends_the_streak_but_not_the_best", () => {
  const board = boardAfter(play(`${RECOVERED} won=a a:serve b:return a:drop b:volley won=b`));
  assert.equal(shown(board, "escape.streak", "a"), "0");
  assert.equal(shown(board, "escape.best", "a"), "1");
  assert.equal(shown(board, "escape.share", "a"), "1/2");
});

test("what_a_replayed_rally_contributed_is_taken_back", () => {
  const board = boardAfter(play(`${RECOVERED} replay`));
  const { value, seq } = reading(board, "escape.best", "a");
  assert.deepEqual([value.n, seq], [0, 7]);
  assert.equal(shown(board, "rally.shots"), "0");
});

test("an_unpressed_spell_counts_for_the_approach_only", () => {
  const board = boardAfter(play(`${SETTLED} won=a`));
  assert.equal(shown(board, "escape.share", "a"), "0/0");
  assert.equal(shown(board, "approach.reached", "a"), "1/1");
});

test("a_rally_cut_off_by_the_end_of_the_match_leaves_open_spells_uncounted", () => {
  const contents = [...play("a:serve b:return a:drop b:volley"), { kind: "retire", team: "b" }, ...play("won=a")];
  const board = boardAfter(contents);
  assert.equal(initiativeOf(contents), "nobody 0 []");
  assert.equal(shown(board, "escape.share", "a"), "0/0");
  assert.equal(shown(board, "serve.won", "a"), "0/0");
});

test("a_clock_set_back_makes_no_gap_of_the_tempo_negative", () => {
  const at = (seconds) => new Date(Date.UTC(2025, 4, 3, 10, 1, seconds)).toISOString();
  const shots = [0, 1, 2, -40, -10].map((seconds, index) => ({
    id: `s${index}`,
    at: at(seconds),
    kind: "shot",
    team: index % 2 === 0 ? "a" : "b",
    stroke: index === 0 ? "serve" : "dink",
  }));
  assert.equal(shown(boardAfter(shots.slice(0, 2)), "rally.tempo"), "1000");
  assert.equal(shown(boardAfter([shots[2], shots[3]]), "rally.tempo"), "0");
  // 1 s, 1 s, none, 30 s.
  assert.equal(shown(boardAfter(shots), "rally.tempo"), "1000");
  assert.equal(shown(boardAfter(shots.slice(2)), "rally.tempo"), "15000");
});

test("tempo_is_the_median_of_the_gaps_and_leaves_out_those_beside_an_inserted_shot", () => {
  const at = (seconds) => `2025-01-01T00:00:${String(seconds).padStart(6, "0")}Z`;
  const [serve, back, drop] = play("a:serve b:return a:drop");
  const recorded = [
    { ...serve, at: at("01.000") },
    { ...back, at: at("02.001") },
    { ...drop, at: at("04.003") },
  ];
  assert.equal(shown(boardAfter(recorded), "rally.tempo"), "1501");
  const inserted = {
    kind: "insert",
    after: "e2",
    entry: { kind: "shot", team: "a", stroke: "drive" },
    at: at("09.000"),
  };
  assert.equal(shown(boardAfter([...recorded, inserted]), "rally.tempo"), "1001");
});

test("counts_follow_the_rally_they_belong_to", () => {
  const board = boardAfter(play(`${SETTLED} a:dink!attackable b:speedup/air a:block net=a`));
  const expected = {
    "offense.finished b": "1/1",
    "neutral.first a": "0/1",
    "neutral.first b": "1/1",
    "serve.won a": "0/1",
    "sitter.punished b": "1/1",
    "sitter.punished a": "0/0",
    "gift.share a": "0/1",
    "pressed.won a": "0/1",
    "unpressed.won a": "0/0",
    "unpressed.won b": "1/1",
    "score.run b": "0",
    "defense.bounced a": "1/1",
  };
  for (const [name, value] of Object.entries(expected)) {
    assert.equal(shown(board, ...name.split(" ")), value, name);
  }
  assert.equal(shown(board, "third.won", "a", "drop"), "0/1");
  assert.equal(shown(board, "speedup.won", "b", "sitter"), "1/1");
  assert.equal(reading(board, "speedup.won", "b", "other"), undefined);
});

test("a_run_counts_penalty_points_but_neither_points_taken_nor_the_referees_word", () => {
  const penalty = (team) => ({ kind: "penalty", team });
  const board = boardAfter([...rallies("AA"), penalty("b"), penalty("a"), fix(0, 5, "b")]);
  assert.equal(shown(board, "score.run", "a"), "3");
  assert.equal(shown(boardAfter([...rallies("AA"), ...rallies("BB")]), "score.run", "a"), "0");
});

test("a_gift_is_one_of_the_lost_rallies_whose_end_was_said", () => {
  assert.equal(shown(boardAfter(play("won=a won=a net=b")), "gift.share", "b"), "1/1");
  const unknown = [{ kind: "rally_end", won_by: "a", how: "unknown" }];
  assert.equal(shown(boardAfter(unknown), "gift.share", "b"), "0/0");
});

const ofPlayer = (board, indicator, team, player) => {
  const { value } = board.readings([indicator]).find((one) => one.team === team && one.player === player);
  return `${value.part}/${value.whole}`;
};

test("a_serve_and_a_return_are_the_servers_and_the_receivers_by_the_score", () => {
  // Side-out doubles, 0-0-2: player 0 serves and, both teams on 0, player 0 receives.
  const fault = (by) => ({ kind: "rally_end", how: "fault", by });
  const served = boardAfter([...play("a:serve"), fault("a")]);
  assert.equal(ofPlayer(served, "player.errors", "a", 0), "1/1");
  const returned = boardAfter([...play("a:serve b:other"), fault("b")]);
  assert.equal(ofPlayer(returned, "player.errors", "b", 0), "1/1");
  // After one point player 0 serves from the left, to player 1.
  const second = boardAfter([...play("won=a a:serve b:return"), fault("b")]);
  assert.equal(ofPlayer(second, "player.errors", "b", 1), "1/1");
  // No serve, or out of turn: nobody knows.
  for (const text of ["a:drive", "b:serve", "a:serve b:return a:drive"]) {
    const team = text.at(0) === "b" ? "b" : "a";
    assert.equal(ofPlayer(boardAfter([...play(text), fault(team)]), "player.errors", team, 0), "0/0", text);
  }
});

test("players_share_the_shots_from_the_third_on_that_name_them", () => {
  const [serve, back, third, fourth, fifth] = play("a:serve b:return a:drop b:dink a:dink");
  const board = boardAfter([serve, back, { ...third, player: 1 }, fourth, { ...fifth, player: 0 }, ...play("won=a")]);
  assert.equal(ofPlayer(board, "player.shots", "a", 0), "1/2");
  assert.equal(ofPlayer(board, "player.shots", "a", 1), "1/2");
  assert.equal(ofPlayer(board, "player.pressed", "a", 1), "1/1");
  assert.equal(ofPlayer(board, "player.pressed", "a", 0), "0/1");
  assert.equal(ofPlayer(board, "player.shots", "b", 0), "0/0");
});
