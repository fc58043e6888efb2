//! The plugin on counted spells, and behind the plugins that count them. What
//! counts as a streak is common practice of the trade; there is no published
//! standard.

use rallytide_escape::Escape;
use rallytide_initiative::Initiative;
use rallytide_plugin_kit::testing::{Script, Trial};
use rallytide_plugin_kit::{Change, Key, Play, Reading, Share, Team, Value, about};
use rallytide_streaks::Streaks;

/// What is counted upstream for a team: its best streak, escapes of all.
fn counted(team: Team, best: u32, part: u32, whole: u32) -> Vec<Reading> {
    vec![
        Reading::plain(about("escape.best", team), Value::Count(best)),
        Reading::plain(
            about("escape.share", team),
            Value::Share(Share { part, whole }),
        ),
    ]
}

fn note() -> Play {
    Play::Note("nothing".into())
}

#[track_caller]
fn check(trial: &Trial<Streaks>, team: Team, expected: f64) {
    match trial.value(&about("escape.unlikely", team)) {
        Some(Value::Chance(found)) => assert!(
            (found - expected).abs() < 1e-10,
            "{found} is not {expected}"
        ),
        other => panic!("{team:?}: {other:?}"),
    }
}

fn start() -> Trial<Streaks> {
    let upstream = Team::BOTH.map(|team| counted(team, 0, 0, 0)).concat();
    Trial::start(Vec::new(), upstream).expect("it has no settings")
}

#[test]
fn without_spells_nothing_is_unlikely() {
    let trial = start();
    for team in Team::BOTH {
        check(&trial, team, 1.0);
    }
    let mut trial = start();
    trial.play_with(note(), counted(Team::A, 0, 0, 7));
    check(&trial, Team::A, 1.0);
}

#[test]
fn what_was_counted_before_the_start_is_read() {
    let upstream = [counted(Team::A, 0, 0, 0), counted(Team::B, 3, 6, 12)].concat();
    let trial = Trial::<Streaks>::start(Vec::new(), upstream).expect("it has no settings");
    check(&trial, Team::A, 1.0);
    // Derived: 3 of 12 at 1/2; the sequences without are counted by the numbers
    // 1, 2, 4, 7, 13, …, each the sum of the three before: 1705 of 4096.
    check(&trial, Team::B, 1.0 - 1705.0 / 4096.0);
}

#[test]
fn the_best_of_a_match_is_judged_at_the_teams_own_rate() {
    let mut trial = start();
    // Five in a row in forty at 0.4 and at 0.45: computed.
    trial.play_with(note(), counted(Team::A, 5, 16, 40));
    check(&trial, Team::A, 0.207_611_696_867);
    trial.play_with(note(), counted(Team::B, 5, 18, 40));
    check(&trial, Team::B, 0.326_146_515_381);
    // A team that escapes every time has the streak for certain.
    trial.play_with(note(), counted(Team::B, 9, 9, 9));
    check(&trial, Team::B, 1.0);
}

#[test]
fn only_a_team_whose_spells_changed_is_published_again() {
    let mut trial = start();
    assert_eq!(trial.play_with(note(), counted(Team::A, 1, 1, 2)).len(), 1);
    assert_eq!(trial.play_with(note(), counted(Team::A, 1, 1, 2)), []);
    assert_eq!(trial.play(note()), []);
}

#[test]
fn a_very_long_sequence_is_judged_by_its_bound_and_says_so() {
    let mut trial = start();
    trial.play_with(note(), counted(Team::A, 9, u32::MAX / 2, u32::MAX));
    let shown = trial.reading(&about("escape.unlikely", Team::A));
    let flags = shown.map(|reading| reading.flags.clone());
    assert_eq!(flags, Some(vec!["capped".to_owned()]));
}

#[test]
fn without_its_sources_the_reading_is_taken_back_and_comes_again_with_them() {
    let upstream = counted(Team::A, 2, 2, 3);
    let mut streaks = Trial::<Streaks>::start(Vec::new(), upstream).expect("no settings");
    let mut step = |changed: Vec<Reading>, gone: Vec<Key>| {
        let entry = Script::default().read("note nothing").remove(0);
        streaks.entry_without(entry, changed, gone)
    };
    let of_a = about("escape.unlikely", Team::A);
    let gone = step(Vec::new(), vec![about("escape.best", Team::A)]);
    assert_eq!(gone, [Change::Gone(of_a.clone())]);
    let more = step(Vec::new(), vec![about("escape.share", Team::A)]);
    assert_eq!(more, [], "it is gone already");
    let again = step(counted(Team::A, 2, 2, 3), Vec::new());
    assert!(
        matches!(&again[..], [Change::Set(set)] if set.key == of_a),
        "{again:?}"
    );
    let wrong = Reading::plain(about("escape.best", Team::A), Value::Flag(true));
    assert_eq!(step(vec![wrong], Vec::new()), [Change::Gone(of_a)]);
}

/// Hands an entry's published readings on, as the host does.
fn set(changes: Vec<Change>) -> Vec<Reading> {
    let readings = changes.into_iter().filter_map(|change| match change {
        Change::Set(reading) => Some(reading),
        Change::Gone(_) => None,
    });
    readings.collect()
}

#[test]
fn the_example_worked_by_hand() {
    let mut initiative = Trial::<Initiative>::start(Vec::new(), Vec::new()).expect("no settings");
    let mut escape =
        Trial::<Escape>::start(Vec::new(), initiative.readings()).expect("no settings");
    let mut streaks = Trial::<Streaks>::start(Vec::new(), escape.readings()).expect("no settings");
    let mut script = Script::default();
    // a is pressed by b's volley in each rally, and gets out of it or not.
    let mut shown = Vec::new();
    for end in ["a wins", "a wins", "b wins"] {
        let line = format!("a serve | b return | a drive | b volley | {end}");
        for entry in script.read(&line) {
            let changed = set(initiative.entry(entry.clone(), Vec::new()));
            let changed = set(escape.entry(entry.clone(), changed));
            streaks.entry(entry, changed);
        }
        match streaks.value(&about("escape.unlikely", Team::A)) {
            Some(Value::Chance(chance)) => shown.push(*chance),
            other => panic!("{other:?}"),
        }
    }
    // 1 of 1 and 2 of 2 are certain at a rate of 1. Then two in a row in three at
    // 2/3: 4/9 for the first two, and 1/3 · 4/9 for only the last two.
    let expected = [1.0, 1.0, 4.0 / 9.0 + 1.0 / 3.0 * 4.0 / 9.0];
    for (found, expected) in shown.iter().zip(expected) {
        assert!((found - expected).abs() < 1e-12, "{shown:?}");
    }
}
