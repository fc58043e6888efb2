//! What the teams are called.

use rallytide_plugin_kit::testing::header;
use rallytide_plugin_kit::{Discipline, MatchHeader, TeamSheet};
use rallytide_prompts::names::spoken;
use rallytide_prompts::phrases::ENGLISH;

#[track_caller]
fn check(a: (&str, &[&str]), b: (&str, &[&str]), expected: [&str; 2]) {
    let sheet = |(name, players): (&str, &[&str])| TeamSheet {
        name: name.into(),
        players: players.iter().map(|player| (*player).to_owned()).collect(),
    };
    let header = MatchHeader {
        team_a: sheet(a),
        team_b: sheet(b),
        discipline: Discipline::Doubles,
        ..header()
    };
    let names = spoken(&header, &ENGLISH);
    assert_eq!([names.a.as_str(), names.b.as_str()], expected);
}

#[test]
fn a_stroke_between_two_names_is_spoken_as_and() {
    check(
        ("Reed / Lund", &["Ada Reed", "Bo Lund"]),
        ("Marsh/Ford", &["Cy Marsh", "Di Ford"]),
        ["Reed and Lund", "Marsh and Ford"],
    );
}

#[test]
fn a_name_too_long_for_a_breath_gives_way_to_the_surnames() {
    check(
        ("The Harbour Street Monday Club", &["Ada Reed", "Bo Lund"]),
        ("Dunes", &["Cy Marsh", "Di Ford"]),
        ["Reed and Lund", "Dunes"],
    );
}

#[test]
fn a_team_that_cannot_be_called_by_any_name_is_called_by_its_side() {
    let endless = "x".repeat(80);
    check(
        ("The Harbour Street Monday Club", &[]),
        (&endless, &[&endless, &endless]),
        ["Team A", "Team B"],
    );
}

#[test]
fn two_teams_of_one_name_are_told_apart() {
    check(
        ("Harbour", &["Ada Reed"]),
        ("Harbour", &["Bo Lund"]),
        ["Team A", "Team B"],
    );
}

#[test]
fn blanks_are_made_single_and_missing_names_left_out() {
    check(
        ("  Ada\t Reed / ", &["Ada Reed"]),
        ("", &["Bo  Lund"]),
        ["Ada Reed", "Lund"],
    );
}
