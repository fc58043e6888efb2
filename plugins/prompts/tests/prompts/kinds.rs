//! Each kind of line about what has just happened: what brings it about, and what
//! it says.

use rallytide_plugin_kit::{MatchHeader, Team, TeamSheet, Value, key, testing::header};

use crate::booth::{Booth, read, row};

#[track_caller]
fn check(booth: &Booth, kind: &str, text: &str) {
    let last = booth.last();
    assert_eq!((last.kind(), last.text()), (kind, text));
}

#[test]
fn game_point_is_told_with_the_score_and_who_serves() {
    let mut booth = Booth::open();
    booth.play("a serve");
    booth.stands(10, 7).score().game_point = Some(Team::A);
    booth.play("a wins");
    check(
        &booth,
        "point",
        "Harbour reached game point at 10–7, with Ada Reed to serve.",
    );
    assert_eq!(booth.last().reading.why, [row("point", Team::A, "r1e2")]);
}

#[test]
fn game_point_of_the_receivers_names_the_other_teams_server() {
    let mut booth = Booth::open();
    let score = booth.stands(20, 18).score();
    score.game_point = Some(Team::A);
    score.serving = Team::B;
    score.server_player = 1;
    booth.play("a wins");
    check(
        &booth,
        "point",
        "Harbour reached game point at 20–18, with Di Ford to serve.",
    );
}

#[test]
fn where_no_player_can_be_named_it_is_said_who_is_on_serve() {
    let nameless = |name: &str| TeamSheet {
        name: name.into(),
        players: Vec::new(),
    };
    let on = MatchHeader {
        team_a: nameless("Harbour"),
        team_b: nameless("Dunes"),
        ..header()
    };
    let mut booth = Booth::on(on, Vec::new());
    booth.stands(10, 7).score().match_point = Some(Team::A);
    booth.score().game_point = Some(Team::A);
    booth.play("a wins");
    check(&booth, "point", "Harbour serves for the match at 10–7.");
    booth.score().game_point = None;
    booth.score().match_point = None;
    booth.play("b wins | a wins | b wins | a wins | b wins");
    booth.score().match_point = Some(Team::A);
    booth.score().game_point = Some(Team::A);
    booth.play("a wins");
    check(
        &booth,
        "point",
        "Harbour serves for the match again at 10–7.",
    );
}

#[test]
fn a_team_that_had_game_point_before_gets_back_to_it() {
    let mut booth = Booth::open();
    booth.stands(10, 7).score().game_point = Some(Team::A);
    booth.play("a wins");
    booth.score().game_point = None;
    booth.play("b wins | a wins | b wins | a wins | b wins");
    booth.score().game_point = Some(Team::A);
    booth.play("a wins");
    check(
        &booth,
        "point",
        "Harbour got back to game point at 10–7, with Ada Reed to serve.",
    );
}

#[test]
fn a_point_that_was_not_used_was_saved_by_the_others_however_often() {
    let mut booth = Booth::open();
    booth.stands(10, 7).score().game_point = Some(Team::A);
    booth.play("a wins | b wins");
    check(&booth, "saved", "Dunes saved a game point.");
    // Still game point: the partner serves.
    booth.play("b wins");
    assert_eq!(
        booth.said.len(),
        2,
        "within five rallies it is the same thing"
    );
    booth.score().game_point = None;
    booth.play("a wins | b wins | a wins | b wins");
    booth.score().game_point = Some(Team::A);
    booth.play("a wins");
    booth.play("b wins");
    check(
        &booth,
        "saved",
        "Dunes has now saved 3 game points in this game.",
    );
}

#[test]
fn a_match_point_saved_is_called_one() {
    let mut booth = Booth::open();
    booth.stands(10, 7).score().game_point = Some(Team::A);
    booth.score().match_point = Some(Team::A);
    booth.play("a wins");
    booth.score().game_point = None;
    booth.score().match_point = None;
    booth.play("b wins");
    check(&booth, "saved", "Dunes saved a match point.");
}

#[test]
fn an_ace_names_the_server_and_the_score_it_made() {
    let mut booth = Booth::open();
    booth.stands(4, 2).play("a serve | a ace");
    check(&booth, "ace", "Ada Reed served an ace to make it 4–2.");
    assert_eq!(booth.last().reading.why, [row("ace", Team::A, "r1s1")]);
    booth.play("a wins | b wins | a wins | b wins | a wins");
    booth.stands(6, 2).play("a ace");
    check(
        &booth,
        "ace",
        "That was ace number 2 from Ada Reed in this match.",
    );
}

#[test]
fn an_ace_of_the_receivers_is_no_ace() {
    let mut booth = Booth::open();
    booth.play("b serve | b ace");
    assert_eq!(booth.said, []);
}

#[test]
fn an_erne_or_a_ball_around_the_post_that_won_the_rally_names_the_player_where_known() {
    let mut booth = Booth::open();
    booth.play("a serve | b return | a drop | b1 erne | b winner");
    check(&booth, "erne", "Di Ford won the rally with an erne.");
    assert_eq!(booth.last().reading.why, [row("erne", Team::B, "r1s4")]);
    let mut booth = Booth::open();
    booth.play("a serve | b return | a atp | a wins");
    check(
        &booth,
        "atp",
        "A shot around the post won the rally for Harbour.",
    );
}

#[test]
fn an_erne_that_lost_the_rally_or_came_before_the_last_ball_is_no_news() {
    for end in [
        "b erne | b out",
        "b erne | a block | a wins",
        "b erne | a out",
    ] {
        let mut booth = Booth::open();
        booth.play(&format!("a serve | b return | a drop | {end}"));
        assert_eq!(booth.said, [], "{end}");
    }
}

#[test]
fn points_in_a_row_are_told_from_four_on_with_what_they_made_of_the_score() {
    for (a, b, words) in [
        (6, 3, "to lead 6–3"),
        (9, 3, "to extend the lead to 9–3"),
        (6, 6, "to draw level at 6–6"),
        (4, 9, "to get back to 4–9"),
    ] {
        let mut booth = Booth::open();
        booth.stands(a - 1, b).count("score.run", Team::A, 3);
        booth.play("a wins");
        assert_eq!(booth.said, []);
        booth.stands(a, b).count("score.run", Team::A, 4);
        booth.play("a wins");
        check(
            &booth,
            "run",
            &format!("Harbour scored 4 points in a row {words}."),
        );
    }
}

#[test]
fn a_run_from_the_start_is_told_as_the_first_points_of_the_game() {
    let mut booth = Booth::open();
    booth.stands(4, 0).count("score.run", Team::A, 4);
    booth.play("a wins");
    check(
        &booth,
        "run",
        "Harbour scored the first 4 points of the game.",
    );
}

#[test]
fn the_first_points_of_a_game_are_told_again_after_three_more() {
    let mut booth = Booth::open();
    for (points, lines) in [(4, 1), (5, 1), (6, 1), (7, 2), (8, 2)] {
        booth
            .stands(points, 0)
            .count("score.run", Team::A, points)
            .play("a wins");
        assert_eq!(booth.said.len(), lines, "{points}");
        booth.play("b wins | a wins | b wins | a wins | b wins");
    }
}

#[test]
fn a_run_in_which_a_point_was_taken_off_again_is_not_told() {
    let mut booth = Booth::open();
    booth.stands(3, 8).count("score.run", Team::A, 3);
    booth.play("a wins");
    booth.stands(2, 8).play("a penalty");
    booth.stands(3, 8).count("score.run", Team::A, 4);
    booth.play("a wins");
    assert_eq!(booth.said, [], "the score shows one of the four");
    booth.stands(7, 8).count("score.run", Team::A, 5);
    booth.play("a wins");
    check(
        &booth,
        "run",
        "Harbour scored 5 points in a row to get back to 7–8.",
    );
}

#[test]
fn a_run_that_began_in_the_game_before_is_not_told_as_this_games() {
    let mut booth = Booth::open();
    booth.stands(2, 0).count("score.run", Team::A, 5);
    booth.play("a wins");
    assert_eq!(booth.said, []);
}

/// The longest rally so far has this many shots, after this many rallies.
fn longest(shots: u32, rallies: u32) -> Booth {
    let mut booth = Booth::open();
    booth
        .charted(rallies)
        .reads(read(key("rally.longest"), Value::Count(shots)))
        .play("a serve | b return | b wins");
    booth
}

#[test]
fn the_longest_rally_is_told_at_the_rally_that_set_it() {
    check(
        &longest(23, 12),
        "long",
        "The longest rally of the match so far took 23 shots, and Dunes won it.",
    );
    assert_eq!(longest(23, 5).said, [], "early on every second one is");
    assert_eq!(longest(12, 12).said, [], "it is not long");
    let mut booth = longest(23, 12);
    booth.play("a serve | b return | b wins | a serve | b return | a wins");
    assert_eq!(booth.said.len(), 1, "a record set long ago is not news");
}

#[test]
fn the_longest_rally_is_not_told_where_shots_were_missed() {
    let mut booth = Booth::open();
    booth
        .charted(12)
        .reads(read(key("rally.longest"), Value::Count(23)))
        .play("a serve | b return | b volley | b wins");
    assert_eq!(booth.said, []);
}

/// A streak of Harbour's, beside what it would take to be news.
fn streak(streak: u32, others: u32, unlikely: f64, covered: u32) -> Booth {
    let mut booth = Booth::open();
    booth
        .reads(read(
            key("charting.coverage"),
            crate::booth::share(covered, 20),
        ))
        .count("escape.streak", Team::A, streak)
        .count("escape.best", Team::A, streak)
        .count("escape.best", Team::B, others)
        .share("escape.share", Team::A, 12, 22)
        .chance("escape.unlikely", Team::A, unlikely)
        .play("a serve | a wins");
    booth
}

#[test]
fn a_streak_out_of_pressure_is_news_only_as_the_matchs_best_and_rare_by_chance() {
    check(
        &streak(7, 4, 0.04, 20),
        "escape",
        "Harbour came out of pressure 7 times in a row, the longest streak of the match.",
    );
    assert_eq!(
        streak(7, 7, 0.04, 20).said,
        [],
        "the others have one as long"
    );
    assert_eq!(streak(7, 4, 0.3, 20).said, [], "ordinary at this rate");
    assert_eq!(streak(7, 4, 0.04, 9).said, [], "the chart has gaps");
}

#[test]
fn a_time_out_against_a_run_is_told_as_such() {
    let mut booth = Booth::open();
    booth.stands(5, 1).count("score.run", Team::A, 3);
    booth.play("a wins").play("b time_out");
    check(
        &booth,
        "time_out",
        "Dunes took a time-out after Harbour scored 3 points in a row.",
    );
    let mut booth = Booth::open();
    booth.stands(5, 1).count("score.run", Team::A, 3);
    booth.play("a wins").play("b wins | b time_out");
    assert_eq!(booth.said, [], "they have won a rally since");
    let mut booth = Booth::open();
    booth.stands(5, 1).count("score.run", Team::A, 3);
    booth.play("a wins | a time_out");
    assert_eq!(booth.said, [], "it is their own run");
}
