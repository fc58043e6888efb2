//! Lengths and tempo on charted rallies.
//! Common practice of the trade; there is no published standard.

use rallytide_plugin_kit::testing::{Script, Trial};
use rallytide_plugin_kit::{Change, Plugin, Value, key};
use rallytide_rally::Rally;

struct Charted {
    script: Script,
    trial: Trial<Rally>,
}

impl Charted {
    fn start() -> Self {
        Self {
            script: Script::default(),
            trial: Trial::start(Vec::new(), Vec::new()).expect("it has no settings"),
        }
    }

    #[track_caller]
    fn chart(&mut self, line: &str) -> Vec<Change> {
        let mut changes = Vec::new();
        for entry in self.script.read(line) {
            changes = self.trial.entry(entry, Vec::new());
        }
        changes
    }

    /// Shots, longest, tempo.
    fn figures(&self) -> (u32, u32, u32) {
        let number = |indicator| {
            let value = self.trial.value(&key(indicator));
            match value.expect("it exists from the start") {
                Value::Count(number) | Value::Duration(number) => *number,
                other => panic!("`{indicator}` is {other:?}"),
            }
        };
        let tempo = number("rally.tempo");
        (number("rally.shots"), number("rally.longest"), tempo)
    }
}

/// Charts a line and compares shots, longest and tempo after it.
#[track_caller]
fn check(line: &str, expected: (u32, u32, u32)) {
    let mut charted = Charted::start();
    charted.chart(line);
    assert_eq!(charted.figures(), expected, "after `{line}`");
}

#[track_caller]
fn check_tempo(line: &str, expected: u32) {
    let mut charted = Charted::start();
    charted.chart(line);
    assert_eq!(charted.figures().2, expected, "after `{line}`");
}

#[test]
fn everything_exists_from_the_start() {
    check("", (0, 0, 0));
}

#[test]
fn the_shots_of_the_current_rally_are_counted_as_they_are_struck() {
    check("a serve | b return | a drop", (3, 0, 1000));
}

#[test]
fn an_assumed_shot_is_counted() {
    check("a serve | a drop | b dink | a out", (4, 4, 1000));
}

#[test]
fn between_two_rallies_the_last_one_is_shown() {
    check("a serve | b return | a out", (2, 2, 1000));
    check("a serve | b return | a out | b at line", (2, 2, 1000));
    check("a serve | b return | a out | a serve", (1, 2, 0));
}

#[test]
fn a_rally_without_shots_has_none() {
    check("a serve | b return | a out | a wins", (0, 2, 0));
}

#[test]
fn a_rally_is_the_longest_when_it_has_ended() {
    let mut charted = Charted::start();
    charted.chart("a serve | b return | a out | a serve | b return | a drop");
    assert_eq!(charted.figures(), (3, 2, 1000));
    charted.chart("a out");
    assert_eq!(charted.figures(), (3, 3, 1000));
    charted.chart("a serve | b wins");
    assert_eq!(charted.figures(), (1, 3, 0));
}

#[test]
fn a_replayed_rally_is_forgotten() {
    let mut charted = Charted::start();
    charted.chart("a serve | 700ms b return | a out");
    charted.chart("a serve | b return | a drop | replay");
    assert_eq!(charted.figures(), (2, 2, 700));
    charted.chart("replay");
    assert_eq!(charted.figures(), (2, 2, 700));
}

#[test]
fn a_replayed_first_rally_leaves_nothing() {
    check("a serve | b return | replay", (0, 0, 0));
}

#[test]
fn a_rally_that_is_cut_off_stays_the_current_one_and_is_not_the_longest() {
    check("a serve | b return | a retires", (2, 0, 1000));
}

#[test]
fn the_tempo_is_the_middle_gap() {
    check_tempo("a serve", 0);
    check_tempo("a serve | 900ms b return", 900);
    check_tempo(
        "a serve | 900ms b return | 100ms a drop | 500ms b dink",
        500,
    );
}

#[test]
fn of_an_even_number_of_gaps_it_is_the_mean_of_the_middle_two_rounded_down() {
    check_tempo("a serve | 900ms b return | 401ms a drop", 650);
    check_tempo(
        "a serve | 900ms b return | 401ms a drop | 10ms b dink | 500ms a dink",
        450,
    );
}

#[test]
fn only_the_last_six_shots_count() {
    let five = "100ms b dink | 200ms a dink | 300ms b dink | 400ms a dink | 500ms b dink";
    check_tempo(
        &format!("a serve | 9000ms b return | 9000ms a drop | {five}"),
        300,
    );
    check_tempo(
        &format!("a serve | {five} | 600ms a dink | 700ms b dink"),
        500,
    );
}

#[test]
fn other_entries_between_two_shots_do_not_split_their_gap() {
    check_tempo("a serve | 300ms +net_cord | 400ms b return", 700);
}

#[test]
fn an_assumed_shot_does_not_split_a_gap() {
    check_tempo("a serve | 1600ms a drop", 1600);
}

#[test]
fn gaps_beside_an_inserted_shot_are_left_out() {
    check_tempo("a serve | inserted 30000ms b return", 0);
    check_tempo(
        "a serve | 600ms b return | inserted 30000ms a drop | -29000ms b dink | 800ms a dink",
        700,
    );
}

#[test]
fn a_clock_that_is_set_back_makes_no_negative_gap() {
    check_tempo("a serve | -500ms b return", 0);
    check_tempo("a serve | -500ms b return | 300ms a drop", 150);
}

#[test]
fn an_entry_that_changes_nothing_publishes_nothing() {
    let mut charted = Charted::start();
    charted.chart("a serve | b return");
    assert!(charted.chart("0ms +awkward").is_empty());
    let changes = charted.chart("a drop");
    assert_eq!(changes.len(), 1, "only the shots: {changes:?}");
}

#[test]
fn everything_published_is_declared() {
    let provides = Rally::manifest().provides;
    let mut charted = Charted::start();
    charted.chart("a serve");
    for change in charted.chart("b return") {
        let Change::Set(reading) = change else {
            panic!("nothing is taken back: {change:?}");
        };
        assert!(
            provides.iter().any(|name| *name == reading.key.indicator),
            "{reading:?}"
        );
    }
}
