//! How games and matches end, time-outs, retirement.

use rallytide_chart::{Flag, Header};
use rallytide_scoring::recorded_score;
use serde_json::json;

use crate::notation::{
    FREEZE, RALLY, SIDE_OUT, SIDE_OUT_SINGLES, STATIC, best_of_three_to_11, check, check_keys,
    header, recorded, score, steps,
};

#[test]
fn a_finished_game_is_kept_and_the_next_stands_at_its_start() {
    // USA Pickleball rulebook 2019 and 2025, 5.B.1: ends and first service change
    // after a game; 2026, 5.B.2: it begins with server 2 (published).
    check_keys(
        &best_of_three_to_11(SIDE_OUT),
        "10-7A1 A",
        &json!({
            "game": 2, "games": {"a": 1, "b": 0}, "points": {"a": 0, "b": 0},
            "call": "0-0-2", "serving": "b", "server": 2, "server_player": 0,
            "court": "right", "finished": [{"a": 11, "b": 7}], "near": "b",
            "change_ends": true, "winner": null,
        }),
    );
}

#[test]
fn a_game_goes_on_until_it_is_two_clear_without_a_cap() {
    // USA Pickleball rulebook 2025, 12.B (published).
    let header = header(RALLY, 11, 2, 1);
    check(
        &header,
        "10-10A A B B",
        &["10-10 A1R", "11-10 A1L", "11-11 B2R", "12-11 B2L"],
    );
    check_keys(&header, "10-10A AA", &json!({"winner": "a"}));
    check_keys(
        &header,
        "25-25A BB",
        &json!({"winner": "b", "finished": [{"a": 25, "b": 27}]}),
    );
}

#[test]
fn a_game_won_by_one_ends_at_its_points() {
    // USA Pickleball rulebook 2026, 15.C: win by 1 in team play (published).
    check_keys(
        &header(RALLY, 11, 1, 1),
        "10-10A B",
        &json!({"winner": "b", "finished": [{"a": 10, "b": 11}]}),
    );
}

#[test]
fn a_match_ends_with_the_game_that_decides_it() {
    // USA Pickleball rulebook 2025, 12.B (published): best of three. Games of 3
    // points are ours, to be short.
    let script = "AAA BBB AA";
    let header = header(RALLY, 3, 2, 3);
    check_keys(&header, script, &json!({"winner": null, "game": 3}));
    check_keys(
        &header,
        &format!("{script} A"),
        &json!({
            "winner": "a", "games": {"a": 2, "b": 1}, "game": 3, "rallies": 9,
            "finished": [{"a": 3, "b": 0}, {"a": 0, "b": 3}, {"a": 3, "b": 0}],
        }),
    );
    check_keys(&header, "AAA AAA", &json!({"winner": "a", "game": 2}));
}

#[test]
fn after_the_match_turn_and_ends_stay_as_before_the_last_entry() {
    let header = header(RALLY, 3, 2, 1);
    check_keys(
        &header,
        "A BB B",
        &json!({
            "game": 1, "games": {"a": 0, "b": 1}, "points": {"a": 1, "b": 3}, "call": null,
            "serving": "b", "server": null, "server_player": 1, "receiver_player": 0,
            "court": "left", "near": "b", "game_point": null, "match_point": null,
            "change_ends": false, "winner": "b", "rallies": 4,
        }),
    );
    check(&header, "A BB", &["2-1 B2L"]);
}

#[test]
fn a_last_point_by_receivers_leaves_the_turn_with_those_who_served() {
    // USA Pickleball rulebook 2026, 14.A.2 (published): receivers can score the
    // last point. Who is shown as serving after the match is ours.
    check_keys(
        &header(RALLY, 3, 1, 1),
        "2-2A B",
        &json!({
            "serving": "a", "server_player": 0, "court": "right", "receiver_player": 0,
            "winner": "b",
        }),
    );
    check_keys(
        &header(STATIC, 3, 1, 1),
        "1-2A B",
        &json!({
            "serving": "a", "server_player": 1, "court": "left", "receiver_player": 1,
            "winner": "b",
        }),
    );
}

#[test]
fn a_last_point_from_a_foul_leaves_everybody_where_they_stood() {
    check_keys(
        &header(STATIC, 3, 1, 1),
        "2-0A B!",
        &json!({
            "serving": "a", "server_player": 0, "court": "right", "receiver_player": 0,
            "winner": "a", "points": {"a": 3, "b": 0},
        }),
    );
}

#[test]
fn nothing_has_an_effect_after_the_match() {
    let header = header(RALLY, 3, 2, 1);
    for over in ["AAA", "AA Bx", "3-0B"] {
        let script = format!("{over} A B! 0-0B2 B=1 At At At At Bx replay");
        let steps = steps(&header, &script);
        let ended = steps
            .iter()
            .position(|(step, _)| step.ended_match)
            .expect("it ends");
        for (step, score) in &steps[ended + 1..] {
            assert_eq!(*step, rallytide_scoring::ScoreStep::default(), "{over}");
            assert_eq!(*score, steps[ended].1, "{over}");
        }
    }
}

#[track_caller]
fn check_time_outs(header: &Header, script: &str, a: u32, b: u32) {
    check_keys(header, script, &json!({"time_outs_left": {"a": a, "b": b}}));
}

#[test]
fn there_are_two_time_outs_a_game_below_21_points_and_three_from_there_on() {
    // USA Pickleball rulebook 2020 to 2025, 10.A (published for 11, 15, 21).
    for (points, time_outs) in [(11, 2), (15, 2), (20, 2), (21, 3), (25, 3)] {
        check_time_outs(&header(RALLY, points, 2, 1), "", time_outs, time_outs);
    }
}

#[test]
fn a_time_out_is_counted_for_its_team_a_medical_one_for_none() {
    // USA Pickleball rulebook 2025, 10.A and 10.B: a medical time-out is a kind of
    // its own; that a justified one is not charged is from memory.
    let header = best_of_three_to_11(SIDE_OUT);
    check_time_outs(&header, "Bt", 2, 1);
    check_time_outs(&header, "Bt Bt Bt", 2, 0);
    check_time_outs(&header, "Bm Am", 2, 2);
}

#[test]
fn a_medical_time_out_is_never_flagged() {
    // USA Pickleball rulebook 2025, 10.B (published): not a standard one.
    let header = best_of_three_to_11(SIDE_OUT);
    let flags: Vec<Flag> = steps(&header, "At At Am At")
        .into_iter()
        .flat_map(|(step, _)| step.flags)
        .collect();
    assert_eq!(flags, [Flag::NoTimeOutLeft]);
}

#[test]
fn a_time_out_between_games_counts_for_the_coming_game() {
    let header = best_of_three_to_11(SIDE_OUT);
    check_time_outs(&header, "At At 10-0A A", 2, 2);
    check_time_outs(&header, "At At 10-0A A At", 1, 2);
}

#[test]
fn a_time_out_changes_neither_score_nor_turn() {
    // Common practice; no rule says that a time-out touches the score.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "4-3A1 B At",
        &["4-3-1 A1R", "4-3-2 A2L", "4-3-2 A2L"],
    );
}

#[test]
fn the_retiring_teams_opponents_win_and_the_score_stays() {
    // That the opponents win: USA Pickleball rulebook 2024, 12.F (published). What
    // the score shows is ours.
    check_keys(
        &best_of_three_to_11(SIDE_OUT),
        "AAA Ax",
        &json!({
            "winner": "b", "games": {"a": 0, "b": 0}, "points": {"a": 3, "b": 0},
            "finished": [], "call": null, "game_point": null, "match_point": null,
            "change_ends": false, "serving": "a", "server": 2, "server_player": 0,
            "court": "left", "rallies": 3,
        }),
    );
}

#[test]
fn a_retirement_right_after_a_game_takes_the_change_of_ends_away() {
    check_keys(
        &best_of_three_to_11(SIDE_OUT),
        "10-0A A Bx",
        &json!({"change_ends": false, "near": "b", "game": 2, "winner": "a"}),
    );
}

#[track_caller]
fn check_recorded(header: &Header, script: &str, expected: Option<&[(u32, u32)]>) {
    let score = score(header, script);
    assert_eq!(
        recorded_score(&score, &header.format),
        expected.map(recorded),
        "`{script}`"
    );
}

#[test]
fn a_match_that_goes_on_has_no_recorded_score() {
    check_recorded(&best_of_three_to_11(SIDE_OUT), "AAA", None);
}

#[test]
fn a_match_played_out_is_recorded_as_it_was_played() {
    // Common practice.
    check_recorded(&header(RALLY, 3, 2, 3), "AAA BAAA", Some(&[(3, 0), (3, 1)]));
}

#[test]
fn a_retirement_gives_the_others_the_least_winning_score() {
    // USA Pickleball rulebook 2024, 12.F.6.a; these lines derived.
    let header = best_of_three_to_11(SIDE_OUT);
    check_recorded(&header, "3-9A Ax", Some(&[(3, 11), (0, 11)]));
    check_recorded(&header, "12-11A Ax", Some(&[(12, 14), (0, 11)]));
    check_recorded(&header, "10-4B B! Ax", Some(&[(10, 12), (0, 11)]));
}

#[test]
fn a_retirement_records_unplayed_games_as_shut_outs_up_to_the_win() {
    // USA Pickleball rulebook 2024, 12.F.6.a; these lines derived.
    let best_of_five = header(RALLY, 3, 2, 5);
    check_recorded(
        &best_of_five,
        "AAA BBB A Bx",
        Some(&[(3, 0), (0, 3), (3, 0), (3, 0)]),
    );
    check_recorded(
        &best_of_five,
        "AAA AAA Ax",
        Some(&[(3, 0), (3, 0), (0, 3), (0, 3), (0, 3)]),
    );
    check_recorded(&header(RALLY, 11, 1, 1), "AA Ax", Some(&[(2, 11)]));
}

#[test]
fn a_retirement_never_takes_points_from_the_others() {
    // No rule found: the choice is ours.
    // Two fouls by b turn 12-11 into 12-9, and a has not won yet; 11-9 would do.
    let header = header(SIDE_OUT_SINGLES, 11, 2, 1);
    check_recorded(&header, "12-11A B! B! Bx", Some(&[(12, 9)]));
}

#[test]
fn the_server_alone_can_end_a_game_under_the_freeze() {
    // USA Pickleball rulebook 2025, provisional rally scoring, 12.B.1 and 4.F.1
    // (published): only the serving side scores the point that wins the game.
    let header = header(FREEZE, 11, 2, 1);
    check_keys(&header, "10-5A A", &json!({"winner": "a"}));
    check_keys(
        &header,
        "10-5B A",
        &json!({"winner": null, "points": {"a": 10, "b": 5}}),
    );
}

#[test]
fn a_receivers_point_that_does_not_win_counts_under_the_freeze() {
    // Derived from the same rules.
    check(
        &header(FREEZE, 11, 2, 1),
        "10-10A B A",
        &["10-10 A1R", "11-10 B2R", "11-11 A2R"],
    );
}
