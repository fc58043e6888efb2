//! Comparisons: both samples said, large enough, and further apart than chance
//! usually brings.

use rallytide_plugin_kit::{SettingValue, Team, Value, about};

use crate::booth::{Booth, read, share};

/// Rallies of which there is nothing to say, until there is time for numbers.
fn quiet() -> Booth {
    let mut booth = Booth::open();
    booth.charted(30).play("a wins | b wins | a wins");
    booth
}

#[track_caller]
fn said(booth: &mut Booth, text: &str) {
    booth.play("a serve | b wins");
    assert_eq!(
        (booth.last().kind(), booth.last().text()),
        ("compare", text)
    );
}

#[test]
fn rallies_under_pressure_are_compared_the_better_team_first() {
    let mut booth = quiet();
    booth
        .share("pressed.won", Team::A, 3, 12)
        .share("pressed.won", Team::B, 9, 14);
    said(
        &mut booth,
        "Under pressure, Dunes has won 9 of 14 rallies, against 3 of 12 for Harbour.",
    );
    assert_eq!(booth.last().codes(), ["pressed.won", "pressed.won"]);
}

#[test]
fn other_shares_are_compared_in_words_of_their_own() {
    let of = |indicator: &'static str, text: &str| {
        let mut booth = quiet();
        booth
            .share(indicator, Team::A, 3, 12)
            .share(indicator, Team::B, 9, 14);
        said(&mut booth, text);
    };
    of(
        "serve.won",
        "On serve, Dunes has won 9 of 14 rallies, against 3 of 12 for Harbour.",
    );
    of(
        "sitter.punished",
        "Off high balls, Dunes has won 9 of 14 rallies, against 3 of 12 for Harbour.",
    );
}

#[test]
fn third_shots_are_compared_between_teams_and_with_each_other() {
    let third =
        |team, slot, part, whole| read(about("third.won", team).slot(slot), share(part, whole));
    let mut booth = quiet();
    booth
        .reads(third(Team::A, "drop", 12, 15))
        .reads(third(Team::B, "drop", 3, 12));
    said(
        &mut booth,
        "Harbour has won 12 of 15 rallies with a third-shot drop, Dunes 3 of 12.",
    );
    let mut booth = quiet();
    booth
        .reads(third(Team::A, "drop", 12, 15))
        .reads(third(Team::A, "drive", 3, 12));
    said(
        &mut booth,
        "Harbour has won 12 of 15 rallies with a third-shot drop and 3 of 12 with a drive.",
    );
}

#[test]
fn who_attacks_first_is_told_against_even_chances() {
    let mut booth = quiet();
    booth
        .share("neutral.first", Team::A, 5, 20)
        .share("neutral.first", Team::B, 15, 20);
    said(
        &mut booth,
        "With everyone at the kitchen line, Dunes attacked first in 15 of 20 rallies.",
    );
}

#[test]
fn unforced_errors_are_told_only_where_every_lost_rally_says_how_it_ended() {
    let errors = |served: u32| {
        let mut booth = quiet();
        booth
            .share("gift.share", Team::A, 10, 14)
            .share("gift.share", Team::B, 2, 12)
            .share("serve.won", Team::A, 6, 13)
            .share("serve.won", Team::B, 7, served);
        booth.play("a serve | b wins");
        booth
    };
    // Lost by a: 13 − 6 + 7 = 14; by b: 13 − 7 + 6 = 12.
    assert_eq!(
        errors(13).last().text(),
        "Harbour gave away 10 of 14 lost rallies by unforced errors, Dunes 2 of 12."
    );
    assert_eq!(errors(15).said, []);
}

#[test]
fn what_is_much_alike_or_rests_on_few_cases_is_not_compared() {
    let mut booth = quiet();
    booth
        .share("pressed.won", Team::A, 6, 14)
        .share("pressed.won", Team::B, 8, 14)
        .play("a serve | b wins");
    assert_eq!(booth.said, []);
    booth
        .share("pressed.won", Team::A, 0, 9)
        .share("pressed.won", Team::B, 14, 14)
        .play("a serve | b wins");
    assert_eq!(booth.said, []);
}

#[test]
fn a_chart_that_is_not_shot_by_shot_compares_nothing_but_serves() {
    let mut booth = Booth::open();
    booth.reads(read(
        rallytide_plugin_kit::key("charting.coverage"),
        share(7, 10),
    ));
    booth.play("a wins | b wins | a wins | b wins");
    booth
        .share("pressed.won", Team::A, 0, 20)
        .share("pressed.won", Team::B, 20, 20)
        .play("b wins");
    assert_eq!(booth.said, []);
    booth
        .share("serve.won", Team::A, 1, 20)
        .share("serve.won", Team::B, 18, 20)
        .play("b wins");
    assert_eq!(
        booth.last().text(),
        "On serve, Dunes has won 18 of 20 rallies, against 1 of 20 for Harbour."
    );
}

#[test]
fn how_many_cases_and_how_much_quiet_it_takes_is_the_streamers() {
    let mut booth = Booth::with("least_sample", SettingValue::Whole(5));
    booth.charted(30).play("a wins | b wins | a wins");
    booth
        .share("pressed.won", Team::A, 0, 6)
        .share("pressed.won", Team::B, 6, 6)
        .play("b wins");
    assert_eq!(booth.said.len(), 1);
    let mut booth = Booth::with("quiet_rallies", SettingValue::Whole(0));
    booth
        .charted(30)
        .share("pressed.won", Team::A, 0, 16)
        .share("pressed.won", Team::B, 16, 16)
        .play("b wins");
    assert_eq!(booth.said.len(), 1);
}

#[test]
fn the_same_comparison_rests_longer_than_anything_else() {
    let mut booth = quiet();
    for part in 0..25 {
        booth
            .share("pressed.won", Team::A, 0, 16 + part)
            .share("pressed.won", Team::B, 16 + part, 16 + part)
            .play("b wins");
    }
    let at: Vec<&str> = booth.said.iter().map(|said| said.entry.as_str()).collect();
    assert_eq!(at, ["r4e1", "r25e1"]);
}

#[test]
fn a_time_out_is_time_for_a_comparison_however_little_quiet_there_was() {
    let mut booth = Booth::open();
    booth
        .charted(30)
        .share("pressed.won", Team::A, 0, 16)
        .share("pressed.won", Team::B, 16, 16)
        .play("b wins");
    assert_eq!(booth.said, []);
    booth.play("a time_out");
    assert_eq!(booth.said.len(), 1);
    booth.play("b time_out");
    assert_eq!(booth.said.len(), 1);
}

#[test]
fn a_chance_is_never_said() {
    let mut booth = quiet();
    booth
        .reads(read(about("win.match", Team::A), Value::Chance(0.9)))
        .play("a wins");
    assert_eq!(booth.said, []);
}
