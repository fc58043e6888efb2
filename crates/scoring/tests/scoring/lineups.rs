//! Changes of the starting server.
//!
//! USA Pickleball rulebook 2025, 5.A.2 and 5.A.3 (published): the starting
//! server can be changed only between games.

use serde_json::json;

use crate::notation::{
    RALLY, SIDE_OUT, SIDE_OUT_SINGLES, STATIC, best_of_three_to_11, check, check_keys, header,
    steps,
};

#[test]
fn a_lineup_before_the_first_rally_holds_for_this_game() {
    check(
        &best_of_three_to_11(SIDE_OUT),
        "A=1 A",
        &["0-0-2 A1R", "0-0-2 A2R", "1-0-2 A2L"],
    );
    check_keys(
        &best_of_three_to_11(SIDE_OUT),
        "B=1",
        &json!({"receiver_player": 1, "server_player": 0}),
    );
}

#[test]
fn a_lineup_can_be_taken_back_before_the_first_rally() {
    check(&best_of_three_to_11(SIDE_OUT), "A=1 A=0", &["0-0-2 A1R"]);
}

#[test]
fn a_lineup_that_names_the_starting_server_again_changes_nothing() {
    let header = best_of_three_to_11(SIDE_OUT);
    for script in ["A=0", "B=0"] {
        assert!(!steps(&header, script)[0].0.changed, "{script}");
    }
}

#[test]
fn a_lineup_after_a_counted_rally_waits_for_the_next_game() {
    check(
        &header(RALLY, 3, 1, 3),
        "A B=1 A A",
        &["1-0 A1L", "1-0 A1L", "2-0 A1R", "0-0 B2R"],
    );
}

#[test]
fn a_rally_without_a_point_has_counted_all_the_same() {
    check(
        &best_of_three_to_11(SIDE_OUT),
        "B B=1",
        &["0-0-1 B1R", "0-0-1 B1R"],
    );
}

#[test]
fn a_replayed_rally_has_not_counted() {
    check(
        &best_of_three_to_11(SIDE_OUT),
        "replay A=1",
        &["0-0-2 A1R", "0-0-2 A2R"],
    );
}

#[test]
fn a_point_on_the_board_makes_a_lineup_wait() {
    check(
        &header(RALLY, 3, 1, 3),
        "B! A=1 AA BBB",
        &[
            "1-0 A1L", "1-0 A1L", "2-0 A1R", "0-0 B1R", "1-0 B1L", "2-0 B1R", "0-0 A2R",
        ],
    );
}

#[test]
fn a_lineup_between_games_holds_for_the_coming_game_and_all_after_it() {
    check(
        &header(RALLY, 1, 1, 5),
        "A A=1 A B B",
        &["0-0 B1R", "0-0 B1R", "0-0 A2R", "0-0 B1R", "0-0 A2R"],
    );
}

#[test]
fn the_last_lineup_before_a_game_holds() {
    check(
        &header(RALLY, 2, 1, 3),
        "A B=1 B=0 A=1 A B B",
        &["0-0 B1R", "1-0 B1L", "0-0 A2R"],
    );
}

#[test]
fn the_second_server_changes_places_too() {
    // The referee gave b the serve with server 2; b's partners then trade roles.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "0-0B2 B=1",
        &["0-0-2 B2L", "0-0-2 B1L"],
    );
}

#[test]
fn the_starting_server_is_the_right_player_where_partners_keep_their_courts() {
    // Common practice of team leagues; no rulebook edition has it.
    check(
        &header(STATIC, 21, 2, 1),
        "A=1 A A",
        &["0-0 A2R", "1-0 A1L", "2-0 A2R"],
    );
}

#[test]
fn a_lineup_in_singles_changes_nothing() {
    let header = header(SIDE_OUT_SINGLES, 11, 2, 1);
    assert!(!steps(&header, "A=0")[0].0.changed);
}

#[test]
fn a_game_the_referee_moves_to_has_the_starting_servers_named_for_it() {
    let header = header(RALLY, 11, 2, 3);
    check(&header, "A A=1 0-0B@1-0 0-0A", &["0-0 B1R", "0-0 A2R"]);
    check(
        &header,
        "A A=1 0-0B@1-0 2-0B@0-0 2-0A",
        &["0-2 B1R", "2-0 A1R"],
    );
}

#[test]
fn a_game_the_referee_moves_to_counts_its_own_rallies() {
    let header = header(RALLY, 11, 2, 3);
    check(&header, "A 0-0A@1-0 A=1", &["0-0 A1R", "0-0 A2R"]);
    check(&header, "A 0-0A@1-0 0-0A@0-0 A=1", &["0-0 A1R", "0-0 A1R"]);
}

#[test]
fn a_game_played_anew_takes_a_lineup_at_its_start() {
    // Game 2 has had a rally, the referee goes back to game 1, and it is won.
    check(
        &header(RALLY, 3, 1, 3),
        "AAA A 2-0A@0-0 A B=1",
        &["2-0 A2L", "0-0 B1R", "0-0 B2R"],
    );
}
