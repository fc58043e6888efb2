//! Changes of ends: when, once, and which team is near.

use serde_json::{Value, json};

use crate::notation::{RALLY, SIDE_OUT, check_keys, header, object, steps};

/// Checks `change_ends` and `near` over the last scores of a script: `b!` is
/// "change ends, b is near now", `b` "b is near".
#[track_caller]
fn check_ends(header: &rallytide_chart::Header, script: &str, expected: &str) {
    let shown: Vec<String> = steps(header, script)
        .iter()
        .map(|(_, score)| {
            let mark = if score.change_ends { "!" } else { "" };
            format!("{}{mark}", score.near)
        })
        .collect();
    let count = expected.split(' ').count();
    assert_eq!(
        shown[shown.len() - count..].join(" "),
        expected,
        "`{script}`"
    );
}

#[test]
fn team_a_is_near_at_the_start() {
    check_keys(
        &header(RALLY, 11, 2, 3),
        "",
        &json!({"near": "a", "change_ends": false}),
    );
}

#[test]
fn a_single_game_changes_ends_when_the_first_team_reaches_half() {
    // USA Pickleball rulebook 2025, 5.B.3 (published): 6 of 11, 8 of 15, 11 of
    // 21; 12.B.1.a: 4 of 7.
    for (points, half) in [(7, 4), (11, 6), (15, 8), (21, 11)] {
        let single = header(RALLY, points, 2, 1);
        let nearly = "A".repeat(half - 1);
        check_ends(&single, &nearly, "a");
        check_ends(&single, &format!("{nearly} A"), "b!");
        check_ends(&single, &format!("{nearly} B A"), "a b!");
        check_ends(&single, &format!("{nearly} A B"), "b! b");
    }
}

#[test]
fn the_second_team_to_reach_half_changes_nothing() {
    // USA Pickleball rulebook 2025, 5.B.3 (published): the first side that reaches
    // 6.
    check_ends(&header(RALLY, 11, 2, 1), "AAAAAA BBBBBB", "b! b b b b b b");
}

#[test]
fn games_before_the_deciding_one_are_played_through_without_a_change() {
    // USA Pickleball rulebook 2025, 5.B.1 and 5.B.4 (published).
    check_ends(
        &header(RALLY, 11, 2, 3),
        "AAAAAAAAAA",
        "a a a a a a a a a a",
    );
    check_ends(&header(RALLY, 11, 2, 5), "5-5A@2-1 A", "a a");
}

#[test]
fn the_deciding_game_changes_at_half_on_top_of_the_changes_between_games() {
    // Derived from 5.B.1, 5.B.3 and 5.B.4 of the USA Pickleball rulebook 2025.
    let header = header(RALLY, 3, 1, 3);
    check_ends(&header, "AAA BBB A B A", "a a b! b b a! a a b!");
}

#[test]
fn the_side_out_that_follows_takes_the_announcement_away() {
    check_ends(&header(SIDE_OUT, 11, 2, 1), "AAAAAA B", "b! b");
}

#[test]
fn an_entry_that_changes_nothing_leaves_the_announcement_standing() {
    let header = header(RALLY, 11, 2, 1);
    check_ends(&header, "AAAAAA replay Am 6-0A A=1 B", "b! b! b! b! b! b");
    check_ends(&header, "At At AAAAAA At", "b! b!");
}

#[test]
fn a_time_out_or_a_foul_takes_the_announcement_away() {
    let header = header(RALLY, 11, 2, 1);
    check_ends(&header, "AAAAAA At", "b! b");
    check_ends(&header, "AAAAAA B!", "b! b");
    check_ends(&header, "AAAAAA 6-1A", "b! b");
}

#[test]
fn a_lineup_that_shows_at_once_takes_the_announcement_away() {
    let header = header(RALLY, 3, 1, 3);
    check_ends(&header, "AAA B=1", "b! b");
}

#[test]
fn half_reached_again_after_a_point_was_taken_changes_nothing() {
    // USA Pickleball rulebook 2022, 5.B.7 (rule published, its end from memory).
    let header = header(RALLY, 11, 2, 1);
    check_ends(&header, "AAAAAA A! A", "b! b b");
}

#[test]
fn half_set_by_the_referee_counts_as_changed() {
    // No rule found: this and what follows about the referee is ours.
    let header = header(RALLY, 11, 2, 1);
    check_ends(&header, "6-2A A", "a a");
    check_ends(&header, "7-2A 5-2A A A", "a a a a");
    check_ends(&header, "5-2A A", "a b!");
}

#[test]
fn half_reached_again_after_the_referee_went_back_changes_nothing() {
    let header = header(RALLY, 11, 2, 3);
    check_ends(&header, "5-3A@1-1 A 5-3A A", "a b! b b");
    check_ends(&header, "5-3A@1-1 A 9-9A@1-0 5-3A@1-1 A", "a b! b b b");
}

#[test]
fn a_deciding_game_played_anew_changes_ends_anew() {
    // Derived from 5.B.3 and 5.B.4 of the USA Pickleball rulebook 2025.
    let header = header(RALLY, 11, 2, 3);
    check_ends(&header, "5-3A@1-1 A 9-10A@1-0 B 5-3A A", "a b! b a! a b!");
}

#[test]
fn half_set_by_the_referee_in_an_earlier_game_says_nothing_of_the_deciding_one() {
    let header = header(RALLY, 11, 2, 3);
    check_ends(&header, "7-2A 5-0A@1-1 A", "a a b!");
}

#[test]
fn a_referee_who_moves_to_another_game_leaves_the_ends_alone() {
    check_ends(&header(RALLY, 11, 2, 3), "AAA 0-0B@1-0", "a a a a");
}

#[test]
fn a_game_that_the_referee_ends_is_followed_by_a_change_of_ends() {
    // USA Pickleball rulebook 2025, 5.B.1 (published): ends change between games.
    check_ends(&header(RALLY, 11, 2, 3), "11-4A", "b!");
}

#[test]
fn nobody_changes_ends_after_the_match() {
    // Common practice.
    let header = header(RALLY, 1, 1, 1);
    check_keys(
        &header,
        "A",
        &json!({"winner": "a", "near": "a", "change_ends": false}),
    );
}

#[test]
fn games_of_one_point_change_ends_after_each() {
    // Derived from 5.B.1 of the USA Pickleball rulebook 2025.
    let header = header(RALLY, 1, 1, 5);
    check_ends(&header, "A B A B", "b! a! b! a!");
    let last = steps(&header, "A B A B A").pop().expect("five rallies").1;
    assert_eq!(object(&last)["near"], Value::from("a"));
}
