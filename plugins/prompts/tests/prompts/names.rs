//! What teams and players are called.

use rallytide_plugin_kit::testing::header;
use rallytide_plugin_kit::{Discipline, MatchHeader, Team, TeamSheet};
use rallytide_prompts::english::ENGLISH;
use rallytide_prompts::names::Names;

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
    let names = Names::of(&header, &ENGLISH).teams;
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

/// The names in a match of these players.
fn named(discipline: Discipline, a: &[&str], b: &[&str]) -> Names {
    let sheet = |name: &str, players: &[&str]| TeamSheet {
        name: name.into(),
        players: players.iter().map(|player| (*player).to_owned()).collect(),
    };
    let header = MatchHeader {
        team_a: sheet("Harbour", a),
        team_b: sheet("Dunes", b),
        discipline,
        ..header()
    };
    Names::of(&header, &ENGLISH)
}

#[test]
fn a_player_is_called_by_the_full_name_unless_it_is_too_long_or_somebody_elses_too() {
    let endless = "x".repeat(80);
    let names = named(
        Discipline::Doubles,
        &["Ada  Reed", "Bo Lund"],
        &[&endless, "Bo Lund"],
    );
    assert_eq!(names.player(Team::A, 0), Some("Ada Reed"));
    assert_eq!(names.player(Team::A, 1), None);
    assert_eq!(names.player(Team::B, 0), None);
    assert_eq!(names.player(Team::B, 7), None);
}

#[test]
fn in_singles_a_player_is_called_as_the_team_is() {
    let names = named(Discipline::Singles, &["Ada Reed"], &["Bo Lund"]);
    assert_eq!(names.player(Team::B, 0), Some("Dunes"));
    assert_eq!(names.server(Team::A, Team::B, 0), Some("Dunes"));
    assert_eq!(names.server(Team::A, Team::A, 0), None);
}

#[test]
fn who_serves_is_a_player_or_else_the_other_team() {
    let names = named(Discipline::Doubles, &[], &["Cy Marsh", "Di Ford"]);
    assert_eq!(names.server(Team::A, Team::B, 1), Some("Di Ford"));
    assert_eq!(names.server(Team::B, Team::A, 1), Some("Harbour"));
    assert_eq!(names.server(Team::A, Team::A, 1), None);
}
