//! The end of a game and of the match, and the word before a deciding game.

use rallytide_plugin_kit::{MatchHeader, Team, Value, key, testing::header};

use crate::booth::{Booth, Said, read};

#[track_caller]
fn check(booth: &Booth, texts: &[&str]) {
    let said: Vec<&str> = booth.said.iter().map(Said::text).collect();
    assert_eq!(said[said.len() - texts.len()..], *texts);
    assert_eq!(booth.texts(), texts, "nothing else can be said any more");
}

#[test]
fn a_game_is_told_with_its_result_and_what_stood_out() {
    let mut booth = Booth::open();
    for (a, b) in [(0, 4), (2, 7), (6, 7), (10, 8)] {
        booth.stands(a, b).play("a wins");
    }
    booth
        .play("a serve")
        .game_over(11, 8)
        .count("score.run", Team::A, 4)
        .play("a wins");
    check(
        &booth,
        &[
            "Harbour won game 1 11–8 to lead 1–0 in games.",
            "Harbour came back from 2–7 down to win the game.",
            "Harbour scored the last 4 points of the game.",
        ],
    );
    let kinds: Vec<&str> = booth.said.iter().map(Said::kind).collect();
    assert_eq!(kinds, ["game", "course", "run"]);
    assert_eq!(
        booth.said[0].reading.why,
        [crate::booth::row("game", Team::A, "r5s1")]
    );
}

#[test]
fn before_a_deciding_game_it_is_told_who_serves_first() {
    let mut booth = Booth::open();
    booth
        .stands(10, 5)
        .play("a wins")
        .game_over(11, 5)
        .play("a wins");
    booth.stands(4, 10).play("b wins").game_over(4, 11);
    booth.score().serving = Team::A;
    booth.score().server_player = 1;
    booth.play("b wins");
    check(
        &booth,
        &[
            "Dunes won game 2 11–4 to draw level at 1–1 in games.",
            "Dunes led from start to finish in the game.",
            "Game 3 decides the match, and Bo Lund serves first.",
        ],
    );
    booth.score().server_player = 0;
    booth.play("note the line-up was changed");
    assert_eq!(booth.texts().len(), 2, "somebody else serves first now");
}

#[test]
fn who_was_level_again_by_a_point_taken_away_has_not_led_from_start_to_finish() {
    let mut booth = Booth::open();
    booth
        .stands(1, 0)
        .play("a wins")
        .stands(0, 0)
        .play("a penalty")
        .stands(10, 2)
        .play("a wins")
        .game_over(11, 2)
        .play("a wins");
    let texts = booth.texts();
    assert!(
        texts.iter().all(|text| !text.contains("from start")),
        "{texts:?}"
    );
}

#[test]
fn a_team_that_wins_a_game_may_still_be_behind() {
    let mut booth = Booth::on(
        MatchHeader {
            games: 5,
            ..header()
        },
        Vec::new(),
    );
    booth
        .game_over(11, 9)
        .play("a wins")
        .game_over(11, 9)
        .play("a wins");
    booth
        .stands(3, 7)
        .play("b wins")
        .stands(7, 7)
        .play("a wins")
        .stands(8, 10)
        .play("b wins")
        .game_over(8, 11)
        .play("b wins");
    check(
        &booth,
        &[
            "Dunes won game 3 11–8 to get back to 1–2 in games.",
            "Dunes let a 7–3 lead slip before winning the game.",
        ],
    );
}

#[test]
fn a_match_is_told_with_all_its_games_and_its_numbers() {
    let mut booth = Booth::open();
    booth
        .game_over(11, 5)
        .play("a wins")
        .game_over(4, 11)
        .play("b wins");
    booth
        .stands(10, 9)
        .charted(80)
        .share("pressed.won", Team::A, 30, 50)
        .share("pressed.won", Team::B, 12, 48)
        .play("a wins");
    booth.match_over(11, 9).play("a wins");
    check(
        &booth,
        &[
            "Harbour won the match by 2 games to 1, with scores of 11–5, 4–11 and 11–9.",
            "Under pressure, Harbour won 30 of 50 rallies, against 12 of 48 for Dunes.",
            "Harbour scored 26 points in all, against 25 for Dunes.",
        ],
    );
}

#[test]
fn a_match_of_one_game_is_told_by_its_points() {
    let one = MatchHeader {
        games: 1,
        ..header()
    };
    let mut booth = Booth::on(one, Vec::new());
    booth
        .stands(10, 2)
        .play("a wins")
        .match_over(11, 2)
        .play("a wins");
    check(
        &booth,
        &[
            "Harbour won the match 11–2.",
            "Harbour led from start to finish in the match.",
        ],
    );
}

#[test]
fn match_points_that_the_winner_had_saved_are_told() {
    let mut booth = Booth::open();
    booth
        .game_over(11, 5)
        .play("a wins")
        .game_over(4, 11)
        .play("b wins");
    booth.stands(9, 10).score().game_point = Some(Team::B);
    booth.score().match_point = Some(Team::B);
    booth.play("b wins");
    booth.score().game_point = None;
    booth.score().match_point = None;
    // So long that saving it may be told again.
    booth.play("a wins | a wins | b wins | a wins | b wins | a wins | b wins");
    booth.match_over(12, 10).play("a wins");
    assert_eq!(
        booth.texts()[1],
        "Harbour saved a match point before winning the match."
    );
}

#[test]
fn a_winner_is_not_praised_for_numbers_that_speak_for_the_other_team() {
    let mut booth = Booth::open();
    booth
        .charted(40)
        .share("pressed.won", Team::A, 3, 20)
        .share("pressed.won", Team::B, 17, 20)
        .share("serve.won", Team::A, 3, 20)
        .share("serve.won", Team::B, 10, 20)
        .stands(5, 5)
        .play("a wins")
        .stands(10, 9)
        .play("a wins");
    booth.game_over(11, 9).play("a wins");
    check(
        &booth,
        &[
            "Harbour won game 1 11–9 to lead 1–0 in games.",
            "Harbour pulled away from 5–5 to win the game.",
        ],
    );
}

#[test]
fn a_winner_without_anything_else_is_told_by_rallies_under_pressure() {
    let mut booth = Booth::open();
    booth
        .charted(40)
        .share("pressed.won", Team::A, 9, 20)
        .share("pressed.won", Team::B, 5, 20)
        .stands(5, 5)
        .play("a wins")
        .stands(10, 9)
        .play("a wins");
    booth.game_over(11, 9).play("a wins");
    assert_eq!(
        booth.texts()[1],
        "Under pressure, Harbour has won 9 of 20 rallies, against 5 of 20 for Dunes."
    );
}

#[test]
fn of_a_game_whose_score_the_referee_set_only_the_result_is_told() {
    use rallytide_plugin_kit::{Entry, Pair, Play, ScoreFix};
    let mut booth = Booth::open();
    booth.stands(0, 9).play("b wins");
    let fix = Play::ScoreFix(ScoreFix {
        points: Pair { a: 9, b: 0 },
        serving: Team::A,
        server: None,
        games: None,
    });
    booth.stands(9, 0);
    let entry = Entry {
        place: 500,
        at_ms: 5000.0,
        inserted: false,
        play: fix,
    };
    booth.hand_over(entry, Vec::new());
    booth
        .game_over(11, 0)
        .count("score.run", Team::A, 8)
        .play("a wins");
    check(&booth, &["Harbour won game 1 11–0 to lead 1–0 in games."]);
}

#[test]
fn points_in_a_row_that_won_the_game_from_behind_come_first() {
    let mut booth = Booth::open();
    for (a, b) in [(3, 0), (3, 6), (4, 6), (10, 6)] {
        booth.stands(a, b).play("a wins");
    }
    booth.game_over(11, 6).play("a wins");
    assert_eq!(
        booth.texts()[1],
        "Harbour scored the last 8 points to win the game from 3–6 down."
    );
}

#[test]
fn a_game_without_a_point_of_the_others_is_told_as_such() {
    let mut booth = Booth::open();
    booth.stands(10, 0).play("a wins");
    booth
        .game_over(11, 0)
        .count("score.run", Team::A, 11)
        .play("a wins");
    check(
        &booth,
        &[
            "Harbour won game 1 11–0 to lead 1–0 in games.",
            "Harbour scored every point of the game.",
        ],
    );
}

#[test]
fn rallies_on_serve_are_not_told_once_a_point_was_given_or_taken_off() {
    for taken in [false, true] {
        let mut booth = Booth::open();
        booth
            .share("serve.won", Team::A, 11, 12)
            .share("serve.won", Team::B, 2, 14)
            .stands(10, 2)
            .play("a wins");
        if taken {
            booth.stands(10, 1).play("b penalty");
        }
        booth.game_over(11, 2).play("a wins");
        let tells = booth
            .texts()
            .iter()
            .any(|text| text.starts_with("On serve"));
        assert_eq!(tells, !taken);
    }
}

#[test]
fn where_a_team_retires_the_match_is_told_as_such() {
    let mut booth = Booth::open();
    booth.stands(5, 9).play("b wins | b retires");
    assert_eq!(
        booth.last().text(),
        "Harbour won the match after Dunes retired."
    );
    assert_eq!(booth.said.len(), 1, "no game was won");
}

#[test]
fn the_end_of_a_game_in_the_middle_of_a_rally_is_not_told() {
    let mut booth = Booth::open();
    booth.stands(10, 4).play("a wins | a serve | b return");
    booth.game_over(11, 4).play("b penalty");
    assert_eq!(booth.said, []);
}

#[test]
fn after_the_match_nothing_is_said_and_nothing_taken_back() {
    let mut booth = Booth::open();
    booth
        .game_over(11, 5)
        .play("a wins")
        .match_over(11, 5)
        .play("a wins");
    let texts = booth.texts();
    booth
        .reads(read(key("rally.longest"), Value::Count(3)))
        .play("note well played | a time_out | a wins | a wins | a wins | a wins");
    assert_eq!(booth.texts(), texts);
}
