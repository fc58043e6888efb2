//! Technical fouls and the referee's word on the score.

use serde_json::json;

use crate::notation::{
    FREEZE, RALLY, SIDE_OUT, STATIC, best_of_three_to_11, check, check_keys, header, steps,
};

#[test]
fn a_foul_by_the_receivers_moves_them_not_the_server() {
    // USA Pickleball rulebook 2025, 13.G.2 (published): a point off. That positions
    // follow the new score (13.G.3.c, 2024): memory.
    let header = best_of_three_to_11(SIDE_OUT);
    check_keys(
        &header,
        "4-3A1",
        &json!({"receiver_player": 1, "court": "right"}),
    );
    check_keys(
        &header,
        "4-3A1 B!",
        &json!({"call": "4-2-1", "receiver_player": 0, "court": "right", "server_player": 0}),
    );
}

#[test]
fn a_foul_flips_the_court_of_a_server_who_stays() {
    // As above: the point is published, the position from memory.
    check(
        &header(RALLY, 11, 2, 1),
        "AAA A! A",
        &["3-0 A1L", "2-0 A1R", "3-0 A1L"],
    );
}

#[test]
fn a_foul_changes_the_server_where_partners_keep_their_courts() {
    // Derived from 13.G.2 of the USA Pickleball rulebook 2025 and what team leagues
    // play (common practice).
    check(&header(STATIC, 21, 2, 1), "AAA A!", &["3-0 A2L", "2-0 A1R"]);
    check(&header(STATIC, 21, 2, 1), "B!", &["0-0 A1R", "1-0 A2L"]);
}

#[test]
fn a_foul_point_ends_game_and_match_even_for_receivers_under_the_freeze() {
    // No rule found: whether a foul's point can end a game is our choice.
    let header = header(FREEZE, 11, 2, 3);
    check_keys(
        &header,
        "10-0B B!",
        &json!({"game": 2, "games": {"a": 1, "b": 0}, "finished": [{"a": 11, "b": 0}]}),
    );
    check_keys(
        &header,
        "10-0B@1-0 B!",
        &json!({
            "winner": "a", "serving": "b", "game": 2, "games": {"a": 2, "b": 0},
            "points": {"a": 11, "b": 0},
        }),
    );
}

#[test]
fn a_foul_is_no_rally() {
    let header = best_of_three_to_11(SIDE_OUT);
    for (step, score) in steps(&header, "A! B! B! A!") {
        assert!(step.changed && !step.counted);
        assert_eq!(score.rallies, 0);
    }
}

#[test]
fn the_same_team_and_number_keep_the_serving_player() {
    // Positions by 5.B.5 of the USA Pickleball rulebook 2026; what a referee's word
    // leaves open is our choice, here and below.
    // Server 2 at 4-3 is player 1 on the left; 5-3 puts that player right.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "4-3A1 B 5-3A 5-3A2",
        &["4-3-1 A1R", "4-3-2 A2L", "5-3-2 A2R", "5-3-2 A2R"],
    );
}

#[test]
fn another_team_without_a_number_serves_with_its_first_server() {
    check(
        &best_of_three_to_11(SIDE_OUT),
        "4-3A2 4-3B 4-2B",
        &["4-3-2 A1R", "3-4-1 B2R", "2-4-1 B2L"],
    );
}

#[test]
fn another_number_is_the_player_right_or_the_partner() {
    let header = best_of_three_to_11(SIDE_OUT);
    check(&header, "4-3B2", &["3-4-2 B1L"]);
    check(&header, "4-3A1", &["4-3-1 A1R"]);
    check(&header, "5-3A1", &["5-3-1 A2R"]);
    check(
        &header,
        "5-3A1 5-3A2 5-3A1",
        &["5-3-1 A2R", "5-3-2 A1L", "5-3-1 A2R"],
    );
}

#[test]
fn the_only_server_has_no_number() {
    let header = header(RALLY, 11, 2, 1);
    check(&header, "5-3B1", &["3-5 B2R"]);
    check(&header, "A 3-2A1 3-2B", &["1-0 A1L", "3-2 A1L", "2-3 B1R"]);
}

#[test]
fn the_server_follows_the_score_where_partners_keep_their_courts() {
    check(
        &header(STATIC, 21, 2, 1),
        "4-2A 5-2A 5-3B",
        &["4-2 A1R", "5-2 A2L", "3-5 B2L"],
    );
}

#[test]
fn the_referee_leaves_finished_near_rallies_and_time_outs_alone() {
    let kept = json!({
        "finished": [{"a": 3, "b": 0}], "near": "b", "rallies": 5,
        "time_outs_left": {"a": 1, "b": 2},
    });
    let header = header(RALLY, 3, 2, 5);
    check_keys(&header, "AAA AB At", &kept);
    check_keys(&header, "AAA AB At 0-2B@0-2", &kept);
}

#[test]
fn games_set_the_number_of_the_game() {
    check_keys(
        &header(RALLY, 11, 2, 5),
        "3-2A@2-1",
        &json!({"game": 4, "games": {"a": 2, "b": 1}, "call": "3-2"}),
    );
}

#[test]
fn the_next_game_after_a_set_number_follows_it() {
    // Game 4 is b's to begin, game 5 a's.
    check_keys(
        &header(RALLY, 11, 2, 5),
        "3-10B@2-1 B",
        &json!({"game": 5, "games": {"a": 2, "b": 2}, "serving": "a"}),
    );
}

#[test]
fn points_that_win_a_game_end_it() {
    check_keys(
        &best_of_three_to_11(SIDE_OUT),
        "4-11B1",
        &json!({
            "game": 2, "games": {"a": 0, "b": 1}, "points": {"a": 0, "b": 0},
            "finished": [{"a": 4, "b": 11}], "serving": "b", "call": "0-0-2",
            "change_ends": true, "near": "b", "rallies": 0,
        }),
    );
    check_keys(
        &best_of_three_to_11(SIDE_OUT),
        "11-10B1",
        &json!({"game": 1}),
    );
}

#[test]
fn points_that_win_the_match_leave_the_turn_as_the_referee_set_it() {
    check_keys(
        &best_of_three_to_11(SIDE_OUT),
        "A 5-11B2@1-1",
        &json!({
            "winner": "b", "game": 3, "games": {"a": 1, "b": 2}, "points": {"a": 5, "b": 11},
            "serving": "b", "server": 2, "server_player": 0, "court": "left",
            "receiver_player": 0, "near": "a", "call": null, "rallies": 1,
        }),
    );
}

#[test]
fn a_lead_that_a_foul_left_ends_the_game_by_the_referees_word() {
    // No rule found: the choice is ours.
    check_keys(
        &header(RALLY, 11, 2, 1),
        "11-10A B!",
        &json!({"winner": null}),
    );
    check_keys(
        &header(RALLY, 11, 2, 1),
        "11-10A B! 11-9A",
        &json!({"winner": "a"}),
    );
}

#[test]
fn a_fix_that_changes_nothing_says_so() {
    let header = best_of_three_to_11(SIDE_OUT);
    let changed: Vec<bool> = steps(&header, "AB 0-1B 1-0B")
        .iter()
        .map(|(step, _)| step.changed)
        .collect();
    assert_eq!(changed, [true, true, true, true]);
    let confirmed = &steps(&header, "AB 1-0B 1-0B1")[2..];
    assert!(confirmed.iter().all(|(step, _)| !step.changed));
}
