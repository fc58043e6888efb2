//! Who serves, who receives, from where: beyond the published examples.

use rallytide_chart::{Flag, Play, Stroke, Team};
use rallytide_scoring::ScoreKeeper;
use serde_json::json;

use crate::notation::{
    RALLY, SIDE_OUT, SIDE_OUT_SINGLES, STATIC, best_of_three_to_11, check, check_keys, header,
    header_of, rally_to, shot,
};

#[test]
fn the_team_named_in_the_header_serves_first() {
    // USA Pickleball rulebook 2026, 6.B.2 (published): the first call of a game is
    // 0-0-2.
    let format = json!({
        "discipline": "doubles", "scoring": "side_out", "points": 11, "win_by": 2, "games": 3,
    });
    check(&header_of(&format, Team::B), "", &["0-0-2 B1R"]);
}

#[test]
fn initial_service_alternates_game_by_game() {
    // USA Pickleball rulebook 2019 and 2025, 5.B.1 (published).
    check(
        &header(RALLY, 11, 2, 5),
        "10-0A A 0-10B B 10-0A A",
        &[
            "10-0 A1R", "0-0 B1R", "10-0 B1R", "0-0 A1R", "10-0 A1R", "0-0 B1R",
        ],
    );
}

#[test]
fn each_game_begins_with_one_server_numbered_two() {
    // USA Pickleball rulebook 2026, 5.B.2 (published).
    check(
        &best_of_three_to_11(SIDE_OUT),
        "10-0A1 A A",
        &["10-0-1 A1R", "0-0-2 B1R", "0-0-1 A1R"],
    );
}

#[test]
fn one_server_a_turn_in_rally_scoring() {
    // USA Pickleball rulebook 2026, 14.A.5 (published).
    check(
        &header(RALLY, 11, 2, 3),
        "BAB",
        &["0-0 A1R", "1-0 B2R", "1-1 A2R", "2-1 B1R"],
    );
}

#[test]
fn a_static_receiver_stands_in_the_court_the_serve_goes_to() {
    // Common practice of team leagues; no rulebook edition has it. That the serve
    // goes to the diagonal court: USA Pickleball rulebook 2026, 7.E (published).
    let header = header(STATIC, 21, 2, 1);
    check_keys(
        &header,
        "A",
        &json!({"court": "left", "server_player": 1, "receiver_player": 1}),
    );
    check_keys(
        &header,
        "AA",
        &json!({"court": "right", "server_player": 0, "receiver_player": 0}),
    );
}

#[test]
fn a_singles_receiver_is_the_only_player_and_there_is_no_server_number() {
    // USA Pickleball rulebook 2019 to 2025, 4.B.5.b (published): an odd own score
    // is served from the left. Two numbers are called (4.I up to 2025): memory.
    check_keys(
        &header(SIDE_OUT_SINGLES, 11, 2, 3),
        "A",
        &json!({"server": null, "server_player": 0, "receiver_player": 0, "court": "left"}),
    );
}

#[track_caller]
fn check_serve_flags(plays: &[Play], flagged: &[usize]) {
    let mut scoring = ScoreKeeper::new(&best_of_three_to_11(SIDE_OUT));
    let found: Vec<usize> = plays
        .iter()
        .enumerate()
        .filter(|(_, play)| scoring.step(play).flags == [Flag::ServeByReceivers])
        .map(|(place, _)| place)
        .collect();
    assert_eq!(found, flagged);
}

#[test]
fn a_first_serve_by_the_receivers_is_flagged_and_changes_nothing() {
    // The flag is ours; that the charter is believed stands in the README.
    let mut scoring = ScoreKeeper::new(&best_of_three_to_11(SIDE_OUT));
    let step = scoring.step(&shot(Team::B, Stroke::Serve));
    assert_eq!(step.flags, [Flag::ServeByReceivers]);
    assert!(!step.changed && !step.counted);
}

#[test]
fn only_the_first_serve_of_a_rally_is_judged() {
    let serve = |team| shot(team, Stroke::Serve);
    check_serve_flags(&[serve(Team::A), serve(Team::B)], &[]);
    check_serve_flags(&[serve(Team::B), serve(Team::B)], &[0]);
    check_serve_flags(&[shot(Team::A, Stroke::Drive), serve(Team::B)], &[1]);
}

#[test]
fn the_end_of_a_rally_and_a_replay_await_a_new_first_serve() {
    let serve = |team| shot(team, Stroke::Serve);
    check_serve_flags(&[serve(Team::A), Play::Replay, serve(Team::B)], &[2]);
    check_serve_flags(
        &[
            serve(Team::A),
            rally_to(Team::B),
            serve(Team::A),
            serve(Team::B),
        ],
        &[2],
    );
}

#[test]
fn a_penalty_in_the_middle_of_a_rally_awaits_no_new_serve() {
    let serve = |team| shot(team, Stroke::Serve);
    check_serve_flags(
        &[
            serve(Team::A),
            Play::Penalty { team: Team::A },
            serve(Team::B),
        ],
        &[],
    );
}
