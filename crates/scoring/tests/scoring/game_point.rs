//! Game point and match point: who would really win by winning the next rally.

use rallytide_chart::Header;
use serde_json::{Value, json};

use crate::notation::{
    FREEZE, RALLY, SIDE_OUT, SIDE_OUT_SINGLES, best_of_three_to_11, check_keys, header,
};

#[track_caller]
fn check_points(header: &Header, script: &str, game_point: &str, match_point: &str) {
    let team = |word: &str| match word {
        "-" => Value::Null,
        team => team.into(),
    };
    check_keys(
        header,
        script,
        &json!({"game_point": team(game_point), "match_point": team(match_point)}),
    );
}

#[test]
fn only_the_servers_are_at_game_point_in_side_out_scoring() {
    // USA Pickleball rulebook 2026, 4.A (published): only the serving side scores.
    for rules in [SIDE_OUT, SIDE_OUT_SINGLES] {
        let header = best_of_three_to_11(rules);
        check_points(&header, "10-5A", "a", "-");
        check_points(&header, "10-5B", "-", "-");
        check_points(&header, "10-10A", "-", "-");
        check_points(&header, "10-11B", "b", "-");
    }
}

#[test]
fn receivers_are_at_game_point_in_rally_scoring() {
    // USA Pickleball rulebook 2026, 14.A.2 (published): every rally gives a point.
    let header = header(RALLY, 15, 2, 3);
    check_points(&header, "14-10B", "a", "-");
    check_points(&header, "14-10A", "a", "-");
    check_points(&header, "14-14A", "-", "-");
}

#[test]
fn receivers_are_at_no_game_point_under_the_freeze() {
    // USA Pickleball rulebook 2025, provisional rally scoring, 12.B.1 and 4.F.1
    // (published).
    let header = header(FREEZE, 15, 2, 3);
    check_points(&header, "14-10B", "-", "-");
    check_points(&header, "14-10A", "a", "-");
}

#[test]
fn the_servers_come_first_where_both_are_at_game_point() {
    // Win by 1: USA Pickleball rulebook 2026, 15.C (published). Which one is named
    // is ours.
    let header = header(RALLY, 11, 1, 3);
    check_points(&header, "10-10A", "a", "-");
    check_points(&header, "10-10B", "b", "-");
}

#[test]
fn game_and_match_point_are_judged_separately() {
    // Derived from 14.A.2 and 15.C of the USA Pickleball rulebook 2026.
    let header = header(RALLY, 11, 1, 3);
    check_points(&header, "10-10A@0-1", "a", "b");
    check_points(&header, "10-10A@1-1", "a", "a");
    check_points(&header, "10-10B@1-0", "b", "a");
}

#[test]
fn a_single_games_game_point_is_match_point() {
    // Derived; one game to 11: USA Pickleball rulebook 2025, 12.B (published).
    check_points(&header(SIDE_OUT, 11, 2, 1), "10-9A", "a", "a");
}

#[test]
fn a_game_to_one_starts_at_game_point() {
    check_points(&header(SIDE_OUT, 1, 1, 3), "", "a", "-");
    check_points(&header(SIDE_OUT, 1, 2, 3), "", "-", "-");
}

#[test]
fn a_lead_left_by_a_taken_point_is_game_point_until_it_is_played_out() {
    // USA Pickleball rulebook 2025, 13.G.2 (published): a foul takes a point. What
    // that means for a lead no edition says; the choice is ours.
    // A point off ends nothing: 11-10 becomes 11-9, and the game goes on.
    let header = header(SIDE_OUT, 11, 2, 1);
    check_points(&header, "11-10A B!", "a", "a");
    check_points(&header, "11-10B B!", "-", "-");
    check_keys(
        &header,
        "11-10A B!",
        &json!({"winner": null, "call": "11-9-2"}),
    );
    check_keys(
        &header,
        "11-10B B! B",
        &json!({"winner": null, "points": {"a": 11, "b": 10}}),
    );
    check_keys(&header, "11-10A B! B", &json!({"winner": null}));
    check_keys(&header, "11-10A B! A", &json!({"winner": "a"}));
}

#[test]
fn a_point_of_one_team_never_wins_the_game_for_the_other() {
    // Derived; the editions do not say it.
    let header = header(SIDE_OUT, 11, 2, 1);
    check_keys(
        &header,
        "12-11B B! B! B",
        &json!({"winner": null, "points": {"a": 12, "b": 10}}),
    );
}
