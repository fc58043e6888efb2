//! The sequences that follow from the sport's published rules.

use rallytide_chart::{Cue, CueMark, CueSet, Flag, Play, Shot, Stroke, Team};
use rallytide_scoring::{ScoreKeeper, recorded_score};
use serde_json::json;

use crate::notation::{
    FREEZE, FREEZE_SINGLES, RALLY, RALLY_SINGLES, SIDE_OUT, SIDE_OUT_SINGLES, STATIC,
    best_of_three_to_11, check, check_keys, header, label, recorded, score, steps,
};

#[test]
fn server_two_follows_server_one_and_a_point_keeps_the_server() {
    // USA Pickleball rulebook 2026, 5.B.5 and 5.B.6 (published): the partner serves
    // after a lost rally, the same server after a point. Line derived.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "4-3A1 BAB",
        &["4-3-1 A1R", "4-3-2 A2L", "5-3-2 A2R", "3-5-1 B2R"],
    );
}

#[test]
fn the_team_that_starts_a_game_has_one_server_only() {
    // USA Pickleball rulebook 2026, 5.B.2, and 4.B.6 up to 2025 (published).
    check(
        &best_of_three_to_11(SIDE_OUT),
        "B",
        &["0-0-2 A1R", "0-0-1 B1R"],
    );
}

#[test]
fn a_side_out_turns_the_call_round() {
    // USA Pickleball rulebook 2026, 5.B.6 and 6.B.2 (published): server 2 loses the
    // turn; the serving team's score is called first. Line derived.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "4-3A1 BB",
        &["4-3-2 A2L", "3-4-1 B2R"],
    );
}

#[test]
fn with_static_sides_the_left_player_serves_at_one() {
    // Common practice of team leagues, no rulebook edition has it: the left player
    // serves on an odd score.
    check(&header(STATIC, 21, 2, 1), "B", &["0-0 A1R", "1-0 B2L"]);
}

#[test]
fn receivers_can_score_the_winning_point_since_2026() {
    // USA Pickleball rulebook 2026, 14.A.2 (published): a point every rally, the last
    // one included. Line derived.
    check_keys(
        &header(RALLY, 15, 2, 1),
        "13-14A B",
        &json!({"winner": "b", "points": {"a": 13, "b": 15}, "finished": [{"a": 13, "b": 15}]}),
    );
}

#[test]
fn a_leader_wins_on_the_opponents_serve_since_2026() {
    // As above: 14.A.2 of 2026.
    check_keys(
        &header(RALLY, 15, 2, 1),
        "14-10B A",
        &json!({"winner": "a", "finished": [{"a": 15, "b": 10}]}),
    );
}

#[test]
fn a_leader_on_the_opponents_serve_won_only_the_serve_in_2025() {
    // USA Pickleball rulebook 2025, provisional rally scoring, 12.B.1 and 4.F.1
    // (published; for singles the notice of May 2024): only the serving side can
    // score the point that wins the game. Line derived.
    check(
        &header(FREEZE, 15, 2, 1),
        "14-10B A",
        &["10-14 B1R", "14-10 A1R"],
    );
}

#[test]
fn receivers_on_fourteen_won_only_the_serve_in_2025() {
    // Derived from the same rule: 13-14, the servers lose, no point.
    check(
        &header(FREEZE, 15, 2, 1),
        "13-14A B",
        &["13-14 A1L", "14-13 B1R"],
    );
}

#[test]
fn a_singles_leader_won_only_the_serve_at_game_point_in_2024() {
    // Published: USA Pickleball notice on rally scoring in singles, May 2024.
    // Line derived.
    check(
        &header(FREEZE_SINGLES, 15, 2, 1),
        "14-10B A",
        &["10-14 B1R", "14-10 A1R"],
    );
}

#[test]
fn a_retiring_leader_loses_twelve_ten_eleven_nil() {
    // USA Pickleball rulebook 2024, 12.F.6.a; the line as tournament guides have it
    // (common practice).
    let header = best_of_three_to_11(SIDE_OUT);
    let retired = score(&header, "10-5A1 Ax");
    assert_eq!(
        recorded_score(&retired, &header.format),
        Some(recorded(&[(10, 12), (0, 11)]))
    );
}

#[test]
fn a_foul_by_the_receivers_before_play_opens_the_game_at_one_nil_two() {
    // USA Pickleball rulebook 2025, 13.G.4 (published): a foul can be carried into a
    // match. First call and court derived: the score dictates the side (4.B.2), so
    // the starting server stands left.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "B!",
        &["0-0-2 A1R", "1-0-2 A1L"],
    );
}

#[test]
fn a_header_that_cannot_open_with_a_point_is_set_right_by_the_referee() {
    // The same opening as the referee's word instead of a foul.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "1-0A",
        &["0-0-2 A1R", "1-0-2 A1L"],
    );
}

#[test]
fn a_net_cord_serve_that_lands_in_changes_nothing_by_itself() {
    // USA Pickleball change document 2021 (published): the service let was abolished;
    // before (2019, 4.O) it was replayed. Either way the charter records what was
    // played: the mark alone has no effect on the score.
    let header = best_of_three_to_11(SIDE_OUT);
    let mut scoring = ScoreKeeper::new(&header);
    let before = scoring.score().clone();
    let serve = Play::Shot(Shot {
        team: Team::A,
        stroke: Stroke::Serve,
        contact: None,
        player: None,
        cues: CueSet::default().with(Cue::NetCord),
    });
    let mark = Play::Cue(CueMark {
        cue: Cue::NetCord,
        shot: None,
    });
    for play in [serve, mark] {
        assert!(!scoring.step(&play).changed);
    }
    assert_eq!(*scoring.score(), before);
}

#[test]
fn a_replay_keeps_score_server_and_number() {
    // USA Pickleball rulebook 2019, 4.O, published for a serve that touches the net; that a replay
    // changes nothing is derived.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "4-3A1 replay B replay",
        &["4-3-1 A1R", "4-3-1 A1R", "4-3-2 A2L", "4-3-2 A2L"],
    );
}

#[test]
fn ends_change_at_six_in_a_deciding_game_to_eleven_and_the_serve_goes_on() {
    // Published: USA Pickleball rulebook 2025, 5.B.3.
    let header = best_of_three_to_11(SIDE_OUT);
    let script = "5-3A1@1-1 A";
    check(&header, script, &["5-3-1 A2R", "6-3-1 A2L"]);
    check_keys(&header, script, &json!({"change_ends": true, "game": 3}));
}

#[test]
fn a_long_side_out_run_is_called_right_throughout() {
    // Derived from 4.B and 5.B of the USA Pickleball rulebooks up to 2026.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "BBBAABBA",
        &[
            "0-0-2 A1R",
            "0-0-1 B1R",
            "1-0-1 B1L",
            "2-0-1 B1R",
            "2-0-2 B2L",
            "0-2-1 A1R",
            "0-2-2 A2L",
            "2-0-1 B1R",
            "2-0-2 B2L",
        ],
    );
}

#[test]
fn a_turn_opens_with_the_player_that_an_odd_score_puts_right() {
    // Derived, as above.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "AAABBBABAABB",
        &[
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
        ],
    );
}

#[test]
fn receivers_follow_the_court_of_the_server() {
    // Derived: the same sequence, serve diagonal (USA Pickleball rulebook 2026, 7.E).
    let header = best_of_three_to_11(SIDE_OUT);
    let mut receivers = vec![ScoreKeeper::new(&header).score().clone()];
    receivers.extend(
        steps(&header, "AAABBBABAABB")
            .into_iter()
            .map(|(_, score)| score),
    );
    let receivers: Vec<String> = receivers
        .iter()
        .map(|score| label(score.receiving(), score.receiver_player))
        .collect();
    assert_eq!(
        receivers.join(" "),
        "B1 B2 B1 B2 A2 A1 A2 A1 A2 B2 B1 B2 A1"
    );
}

#[test]
fn a_technical_foul_takes_a_point_and_leaves_server_and_number() {
    // Score and server published: USA Pickleball rulebook 2025, 13.G.2; 2024,
    // 13.G.3.c. That positions follow the new score: memory.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "5-3A2 A!",
        &["5-3-2 A1L", "4-3-2 A1R"],
    );
}

#[test]
fn a_technical_foul_on_nil_gives_the_opponents_a_point() {
    // Published: the same rules.
    check(
        &best_of_three_to_11(SIDE_OUT),
        "5-0A1 B!",
        &["5-0-1 A2R", "6-0-1 A2L"],
    );
}

#[test]
fn a_point_from_a_foul_brings_the_change_of_ends() {
    // Derived, not found in a source: 6 of 11 is reached by the foul's point.
    check_keys(
        &best_of_three_to_11(SIDE_OUT),
        "5-0A1@1-1 B!",
        &json!({"points": {"a": 6, "b": 0}, "change_ends": true, "server": 1}),
    );
}

#[test]
fn a_time_out_with_none_left_is_not_granted_and_costs_nothing() {
    // Published: USA Pickleball rulebook 2025, 10.A.4.
    let header = best_of_three_to_11(SIDE_OUT);
    let steps = steps(&header, "At At At");
    let (last, score) = &steps[2];
    assert_eq!(last.flags, [Flag::NoTimeOutLeft]);
    assert!(!last.changed);
    assert_eq!(score, &steps[1].1);
}

#[test]
fn parity_positions_tell_themselves_apart_by_the_player_who_opens_right() {
    // Derived from 12.B.1 of the USA Pickleball rulebook 2025 and 14.A, 14.A.5 of
    // 2026 (positions of 2026 assumed unchanged).
    for rules in [RALLY, FREEZE] {
        check(
            &header(rules, 15, 2, 1),
            "AABBBA",
            &[
                "0-0 A1R", "1-0 A1L", "2-0 A1R", "1-2 B2R", "2-2 B2L", "3-2 B2R", "3-3 A2R",
            ],
        );
    }
}

#[test]
fn static_positions_tell_themselves_apart_by_the_court_that_the_score_gives() {
    // Common practice of team leagues, as above; line derived.
    check(
        &header(STATIC, 15, 2, 1),
        "AABBBA",
        &[
            "0-0 A1R", "1-0 A2L", "2-0 A1R", "1-2 B2L", "2-2 B1R", "3-2 B2L", "3-3 A2L",
        ],
    );
}

#[test]
fn singles_serve_from_the_court_of_the_servers_own_score() {
    // Derived from 4.B.5 of the USA Pickleball rulebooks 2019 to 2025.
    check(
        &header(SIDE_OUT_SINGLES, 11, 2, 3),
        "AAB",
        &["0-0 A1R", "1-0 A1L", "2-0 A1R", "0-2 B1R"],
    );
}

#[test]
fn singles_rally_scoring_gives_a_point_and_the_serve_to_the_receiver() {
    // Derived: USA Pickleball notice on rally scoring in singles, May 2024.
    check(
        &header(RALLY_SINGLES, 11, 2, 3),
        "ABB",
        &["0-0 A1R", "1-0 A1L", "1-1 B1L", "2-1 B1R"],
    );
}
