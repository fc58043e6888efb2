//! Each kind of prompt: what brings it about, and what it says.

use rallytide_plugin_kit::{SettingValue, Team, Value, about, key};

use crate::booth::{Booth, read, row, share};

/// Plays lines, each with the readings that come with it, and says what is heard.
#[track_caller]
fn check(booth: &Booth, kind: &str, text: &str) {
    let last = booth.last();
    assert_eq!((last.kind(), last.text()), (kind, text));
}

/// A rally up to a pressed team's third ball under pressure: `r1s3`, `r1s5`.
fn pinned() -> Booth {
    let mut booth = Booth::open();
    booth.play("a serve | b return");
    booth.pressed(Team::A, "r1s2").play("a drive");
    booth.pressed(Team::A, "r1s4").play("b volley | a block");
    booth.pressed(Team::A, "r1s6").play("b volley");
    booth
}

#[test]
fn a_team_still_pressed_after_its_answer_needs_a_ball_that_bounces() {
    let booth = pinned();
    check(
        &booth,
        "need",
        "Harbour under pressure: make the next ball bounce.",
    );
    assert_eq!(booth.last().reading.why, [row("air", Team::A, "r1s6")]);
    assert_eq!(booth.last().entry, "r1s6");
}

#[test]
fn depth_alone_presses_nobody() {
    let mut booth = Booth::open();
    let deep = || vec![row("depth", Team::A, "r1s2")];
    booth.play("a serve | b return");
    for line in ["a drive", "b volley", "a block", "b volley"] {
        let reading = crate::booth::initiative(Some(Team::B), deep());
        booth.reads(reading).play(line);
    }
    assert_eq!(booth.said, []);
}

#[test]
fn the_need_is_not_offered_where_the_streamer_wants_quiet_rallies() {
    let mut booth = Booth::with("during_rally", SettingValue::Truth(false));
    booth.play("a serve | b return");
    booth.pressed(Team::A, "r1s2").play("a drive");
    booth
        .pressed(Team::A, "r1s4")
        .play("b volley | a block | b volley");
    assert_eq!(booth.said, []);
}

#[test]
fn when_the_rally_ends_it_is_said_whether_the_ball_bounced() {
    let mut booth = pinned();
    booth.play("9000ms a reset").level().play("b dink");
    booth.play("a winner");
    check(
        &booth,
        "answer",
        "Harbour made the ball bounce, and won the rally.",
    );
    assert_eq!(booth.last().reading.why, [row("answer", Team::A, "r1s7")]);
    let mut booth = pinned();
    booth.play("9000ms a block | b volley | a out");
    check(
        &booth,
        "answer",
        "Harbour never made the ball bounce, and lost the rally.",
    );
}

#[test]
fn a_ball_whose_answer_was_not_seen_is_not_said_to_have_been_taken_in_the_air() {
    let mut booth = pinned();
    booth.play("9000ms a block | b other | a out");
    check(
        &booth,
        "answer",
        "Harbour never got out of trouble in that rally.",
    );
}

#[test]
fn a_spell_left_without_a_bounce_is_called_no_bounce() {
    let mut booth = pinned();
    booth.play("9000ms a block").level().play("b volley");
    booth.play("b wins");
    check(
        &booth,
        "answer",
        "Harbour got out of trouble, but lost the rally.",
    );
}

#[test]
fn a_streak_of_escapes_is_told_and_the_longest_of_the_match_as_such() {
    let mut booth = Booth::open();
    booth
        .count("escape.streak", Team::B, 2)
        .play("a serve | b wins");
    assert_eq!(booth.said, []);
    booth
        .count("escape.streak", Team::B, 3)
        .play("9000ms a serve | b wins");
    check(
        &booth,
        "escape",
        "Out of trouble again, Dunes: 3 times in a row.",
    );
    for rally in 0..5 {
        booth.play("9000ms a serve | b wins");
        assert_eq!(booth.said.len(), 1, "rally {rally}");
    }
    booth
        .count("escape.streak", Team::B, 5)
        .count("escape.best", Team::B, 5);
    booth.play("9000ms a serve | b wins");
    check(
        &booth,
        "escape",
        "Dunes: out of pressure 5 times in a row, the match's longest.",
    );
}

#[test]
fn the_end_of_a_long_streak_is_told_from_the_other_side() {
    let mut booth = Booth::open();
    booth
        .count("escape.streak", Team::A, 5)
        .play("a serve | a wins");
    for _ in 0..9 {
        booth.play("9000ms a serve | a wins");
    }
    booth
        .count("escape.streak", Team::A, 0)
        .play("9000ms a serve | b wins");
    check(&booth, "escape", "Dunes finally made the pressure count.");
}

#[test]
fn a_streak_that_is_rare_by_the_matchs_own_numbers_is_called_rare() {
    let mut booth = Booth::open();
    booth
        .count("escape.streak", Team::A, 6)
        .count("escape.best", Team::A, 6)
        .share("escape.share", Team::A, 8, 16)
        .chance("escape.unlikely", Team::A, 0.04)
        .play("a serve | a wins");
    check(
        &booth,
        "unusual",
        "Rare by this match's numbers: Harbour came out 6 times running.",
    );
    assert_eq!(booth.last().codes(), ["escape.best", "escape.unlikely"]);
}

#[test]
fn a_run_of_points_is_told_from_three_on() {
    let mut booth = Booth::open();
    booth
        .count("score.run", Team::B, 2)
        .play("b serve | b wins");
    assert_eq!(booth.said, []);
    booth
        .count("score.run", Team::B, 3)
        .play("9000ms b serve | b wins");
    check(&booth, "run", "3 points in a row for Dunes.");
}

#[test]
fn a_share_is_told_as_so_many_of_so_many_however_few_they_are() {
    let mut booth = Booth::with("least_sample", SettingValue::Whole(2));
    booth.lull();
    booth
        .share("gift.share", Team::A, 2, 3)
        .play("9000ms a serve | b wins");
    check(
        &booth,
        "gift",
        "Unforced errors cost Harbour 2 of 3 lost rallies.",
    );
    let mut booth = Booth::with("least_sample", SettingValue::Whole(2));
    booth.lull();
    booth
        .share("gift.share", Team::A, 2, 2)
        .play("9000ms a serve | b wins");
    assert_eq!(booth.said, []);
}

#[test]
fn what_is_said_of_few_cases_waits_behind_what_is_said_of_many() {
    let mut booth = Booth::open();
    booth.lull();
    booth
        .share("offense.finished", Team::A, 2, 3)
        .share("sitter.punished", Team::B, 9, 12)
        .play("9000ms a serve | b wins");
    check(
        &booth,
        "sitter",
        "Given a ball that sat up, Dunes won 9 of 12 rallies.",
    );
}

#[test]
fn a_third_shot_is_shown_by_the_third_shot() {
    let mut booth = Booth::open();
    booth.lull();
    let drops = read(about("third.won", Team::A).slot("drop"), share(6, 9));
    booth
        .reads(drops)
        .play("9000ms a serve | b return | a drop | b out");
    check(
        &booth,
        "third",
        "Harbour won 6 of 9 rallies with third shot drops.",
    );
    let why = [
        row("third", Team::A, "r6s3"),
        row("third.won/drop", Team::A, "r6s3"),
    ];
    assert_eq!(booth.last().reading.why, why);
}

#[test]
fn drops_and_drives_are_set_side_by_side_once_both_are_enough() {
    let mut booth = Booth::open();
    let third =
        |slot, part, whole| read(about("third.won", Team::B).slot(slot), share(part, whole));
    booth.reads(third("drop", 6, 9)).reads(third("drive", 2, 8));
    booth.play("b serve | a return | b drive | b out");
    check(
        &booth,
        "third",
        "Third shots, Dunes: drops won 6 of 9, drives 2 of 8.",
    );
}

#[test]
fn who_attacks_first_is_the_team_that_does_so_more_often() {
    let mut booth = Booth::open();
    booth.lull();
    booth
        .share("neutral.first", Team::A, 3, 10)
        .share("neutral.first", Team::B, 7, 10)
        .play("9000ms a serve | b wins");
    check(
        &booth,
        "first",
        "From the line, Dunes attacked first in 7 of 10 rallies.",
    );
}

#[test]
fn nobody_is_called_first_to_attack_whose_lead_even_chances_would_bring() {
    let mut booth = Booth::open();
    booth.lull();
    booth
        .share("neutral.first", Team::A, 12, 22)
        .share("neutral.first", Team::B, 10, 22)
        .play("9000ms a serve | b wins");
    assert_eq!(booth.said, []);
}

/// What is said of attacks that a finished `a` times of twelve, b `b` times.
fn attacks(a: u32, b: u32) -> Booth {
    let mut booth = Booth::open();
    booth.lull();
    booth
        .share("offense.finished", Team::A, a, 12)
        .share("offense.finished", Team::B, b, 12)
        .play("9000ms a serve | b wins");
    let both = ["offense.finished", "offense.finished"];
    assert!(both.starts_with(&booth.last().codes()));
    booth
}

#[test]
fn only_is_said_of_the_team_that_finishes_clearly_less_often() {
    check(
        &attacks(4, 5),
        "spells",
        "Harbour finished 4 of 12 attacks.",
    );
    let few = attacks(2, 5);
    check(&few, "spells", "Harbour finished only 2 of 12 attacks.");
    assert_eq!(few.last().codes().len(), 2);
    check(
        &attacks(7, 4),
        "spells",
        "The better finishers so far, Harbour: 7 of 12 attacks.",
    );
    check(
        &attacks(0, 2),
        "spells",
        "Harbour finished none of 12 attacks.",
    );
    check(
        &attacks(2, 9),
        "spells",
        "Attacks finished: Harbour 2 of 12, Dunes 9 of 12.",
    );
}

#[test]
fn match_point_comes_with_its_chance_and_what_that_assumes() {
    let mut booth = Booth::open();
    booth.score().match_point = Some(Team::A);
    booth.score().game_point = Some(Team::A);
    booth
        .share("serve.won", Team::A, 5, 9)
        .share("serve.won", Team::B, 4, 9)
        .chance("win.match", Team::A, 0.914)
        .play("a serve | a wins");
    check(
        &booth,
        "point",
        "Match point, Harbour: 91 percent as this match has gone so far.",
    );
}

#[test]
fn a_chance_is_not_said_before_the_match_has_gone_some_way() {
    let mut booth = Booth::open();
    booth.score().game_point = Some(Team::A);
    booth
        .share("serve.won", Team::A, 5, 7)
        .chance("win.game", Team::A, 0.9);
    booth.play("a serve | a wins");
    check(&booth, "point", "Game point for Harbour.");
}

#[test]
fn a_point_that_was_saved_is_told() {
    let mut booth = Booth::open();
    booth.score().game_point = Some(Team::A);
    booth.play("a serve | a wins | 9000ms a serve");
    booth.score().game_point = None;
    booth.play("b wins");
    assert_eq!(booth.said.len(), 1, "of its kind something was just said");
    let mut booth = Booth::open();
    booth.score().match_point = Some(Team::A);
    booth.play("a serve | a wins | 9000ms a serve");
    booth.score().match_point = None;
    booth.play("b wins");
    check(&booth, "point", "Dunes saved a match point.");
}

#[test]
fn a_rally_that_decides_much_is_announced_with_its_swing() {
    let mut booth = Booth::open();
    booth
        .share("serve.won", Team::A, 5, 9)
        .share("serve.won", Team::B, 4, 9)
        .reads(read(key("win.swing"), Value::Chance(0.31)))
        .play("a serve | a wins");
    check(
        &booth,
        "chance",
        "The next rally swings it 31 percent, as this match has gone so far.",
    );
    assert_eq!(booth.last().reading.why[0].team, None);
}

#[test]
fn two_teams_with_much_the_same_chance_are_called_level() {
    let mut booth = Booth::open();
    booth
        .share("serve.won", Team::A, 5, 9)
        .share("serve.won", Team::B, 5, 9)
        .chance("win.match", Team::A, 0.46)
        .chance("win.match", Team::B, 0.54);
    booth.play("a serve | a wins | 9000ms b time_out");
    check(
        &booth,
        "chance",
        "Next to nothing between them, as this match has gone so far.",
    );
    assert_eq!(booth.last().codes(), ["win.match", "win.match"]);
}

#[test]
fn a_match_point_that_is_as_good_as_won_is_told_without_its_chance() {
    let mut booth = Booth::open();
    booth.score().match_point = Some(Team::A);
    booth
        .share("serve.won", Team::A, 5, 9)
        .share("serve.won", Team::B, 4, 9)
        .chance("win.match", Team::A, 0.972)
        .play("a serve | a wins");
    check(&booth, "point", "Match point for Harbour.");
}

#[test]
fn a_long_rally_is_told_and_the_longest_only_once_there_are_others() {
    let shots = |booth: &mut Booth, rallies| {
        booth
            .reads(read(key("charting.coverage"), share(rallies, rallies)))
            .reads(read(key("rally.shots"), Value::Count(24)))
            .reads(read(key("rally.longest"), Value::Count(24)))
            .play("a serve | b wins");
    };
    let mut booth = Booth::open();
    shots(&mut booth, 2);
    check(&booth, "long", "24 shots in that rally, won by Dunes.");
    let mut booth = Booth::open();
    shots(&mut booth, 20);
    check(
        &booth,
        "long",
        "24 shots: the longest rally of the match so far.",
    );
}

#[test]
fn a_fast_exchange_is_told_of_the_team_that_won_it() {
    let air = "a volley | b volley | a volley | b volley | a volley";
    let mut booth = Booth::open();
    booth.play(&format!(
        "a serve | b return | a drop | b volley | {air} | a winner"
    ));
    check(
        &booth,
        "fast",
        "A fast exchange in the air, and Harbour won it.",
    );
    let mut booth = Booth::open();
    booth.play(&format!(
        "a serve | b return | a drop | b dink | {air} | a winner"
    ));
    assert_eq!(booth.said, [], "five in the air are none");
}

#[test]
fn a_chart_with_gaps_is_cautioned_about_but_not_again_and_again() {
    let mut booth = Booth::open();
    booth.reads(read(key("rally.longest"), Value::Count(12)));
    let coverage = |rallies| read(key("charting.coverage"), share(5, rallies));
    booth.reads(coverage(10)).play("a serve | a wins");
    check(
        &booth,
        "caution",
        "Careful with shot numbers: 5 of 10 rallies are charted in full.",
    );
    for rallies in 11..51 {
        booth
            .reads(coverage(rallies))
            .play("9000ms a serve | a wins");
    }
    assert_eq!(booth.said.len(), 1);
    booth.reads(coverage(51)).play("9000ms a serve | a wins");
    assert_eq!(booth.said.len(), 2);
}

#[test]
fn a_chart_of_ends_alone_needs_no_caution_for_nothing_said_rests_on_shots() {
    let mut booth = Booth::open();
    booth.reads(read(key("charting.coverage"), share(0, 30)));
    booth.play("a wins");
    assert_eq!(booth.said, []);
}

#[test]
fn what_counts_shots_and_spells_is_not_told_of_a_chart_with_gaps() {
    for (full, told) in [(10, 1), (5, 0)] {
        let mut booth = Booth::open();
        booth.reads(read(key("charting.coverage"), share(full, 10)));
        booth
            .count("escape.streak", Team::A, 6)
            .share("gift.share", Team::B, 9, 12)
            .share("gift.share", Team::A, 2, 12)
            .play("a serve | a wins");
        assert_eq!(booth.said.len(), told, "{full} of 10: {:?}", booth.said);
    }
}

#[test]
fn a_chart_without_gaps_is_not() {
    let mut booth = Booth::open();
    booth.reads(read(key("charting.coverage"), share(9, 10)));
    booth.play("a serve | a wins");
    assert_eq!(booth.said, []);
}

#[test]
fn gifts_are_not_told_where_there_are_few_or_none() {
    let mut booth = Booth::open();
    booth.lull();
    booth.share("gift.share", Team::A, 0, 20);
    booth.share("gift.share", Team::B, 6, 20);
    booth.play("9000ms a wins");
    assert_eq!(booth.said, []);
}

#[test]
fn a_time_out_is_time_to_look_back() {
    let mut booth = Booth::open();
    booth
        .share("serve.won", Team::A, 5, 9)
        .share("serve.won", Team::B, 4, 9);
    booth
        .chance("win.match", Team::A, 0.58)
        .chance("win.match", Team::B, 0.42);
    booth.play("a serve | a wins");
    let before = booth.said.len();
    booth.play("9000ms b time_out");
    assert_eq!(booth.said.len(), before + 1);
    check(
        &booth,
        "chance",
        "Harbour, 58 percent to win, as this match has gone so far.",
    );
}

#[test]
fn there_is_nothing_to_say_about_a_match_without_numbers() {
    let mut booth = Booth::open();
    for _ in 0..20 {
        booth.play("9000ms a serve | b return | a drop | b dink | a out");
    }
    assert_eq!(booth.said, []);
}
