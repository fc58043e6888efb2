//! Charts a line and shows the readings in one line, for the tests beside it.
//!
//! `b 0.33 air:a:r1s4 depth:a:r1s4? contested`: b holds with a strength of 0.33;
//! two rows are against a, shown by shot 4 of rally 1; `?` is inferred; flags
//! last. `-` is nobody. Depths are shown as `back? line`: a's, then b's.

#![allow(dead_code, reason = "each test file uses what it needs")]

use rallytide_initiative::Initiative;
use rallytide_plugin_kit::testing::{Script, Trial, header, name};
use rallytide_plugin_kit::{Change, Discipline, MatchHeader, Reading, Team, Value, about, key};

/// A match being charted with the plugin running on it.
pub(crate) struct Charted {
    script: Script,
    trial: Trial<Initiative>,
}

impl Charted {
    pub(crate) fn doubles() -> Self {
        Self::on(header())
    }

    pub(crate) fn singles() -> Self {
        let mut header = header();
        header.discipline = Discipline::Singles;
        header.team_a.players.truncate(1);
        header.team_b.players.truncate(1);
        Self::on(header)
    }

    fn on(header: MatchHeader) -> Self {
        Self {
            script: Script::default(),
            trial: Trial::start_on(header, Vec::new(), Vec::new()).expect("it has no settings"),
        }
    }

    /// Charts the line and returns what was published by its last entry.
    #[track_caller]
    pub(crate) fn chart(&mut self, line: &str) -> Vec<Change> {
        let mut changes = Vec::new();
        for entry in self.script.read(line) {
            changes = self.trial.entry(entry, Vec::new());
        }
        changes
    }

    pub(crate) fn initiative(&self) -> String {
        let reading = self.trial.reading(&key("initiative"));
        shown(reading.expect("it exists from the start"))
    }

    pub(crate) fn depths(&self) -> String {
        let depth = |team| {
            let reading = self.trial.reading(&about("depth", team));
            let reading = reading.expect("it exists from the start");
            let Value::Text(word) = &reading.value else {
                panic!("a depth is a text: {reading:?}");
            };
            match reading.flags.as_slice() {
                [] => word.clone(),
                [flag] if flag == "inferred" => format!("{word}?"),
                flags => panic!("unknown flags of a depth: {flags:?}"),
            }
        };
        format!("{} {}", depth(Team::A), depth(Team::B))
    }
}

/// Charts a line of doubles and compares the initiative after it.
#[track_caller]
pub(crate) fn check(line: &str, expected: &str) {
    let mut charted = Charted::doubles();
    charted.chart(line);
    assert_eq!(charted.initiative(), expected, "after `{line}`");
}

/// The same with both teams said to be at the line, so that no depth speaks.
#[track_caller]
pub(crate) fn check_level(line: &str, expected: &str) {
    check(&format!("a at line | b at line | {line}"), expected);
}

/// Charts a line of doubles and compares the depths after it.
#[track_caller]
pub(crate) fn check_depths(line: &str, expected: &str) {
    let mut charted = Charted::doubles();
    charted.chart(line);
    assert_eq!(charted.depths(), expected, "after `{line}`");
}

fn letter(team: Option<Team>) -> &'static str {
    match team {
        None => "-",
        Some(Team::A) => "a",
        Some(Team::B) => "b",
    }
}

fn shown(reading: &Reading) -> String {
    let Value::Lean(lean) = &reading.value else {
        panic!("the initiative is a lean: {reading:?}");
    };
    let mut words = vec![format!("{} {:.2}", letter(lean.toward), lean.strength)];
    for row in &reading.why {
        let (against, mark) = (letter(row.team), if row.inferred { "?" } else { "" });
        words.push(format!("{}:{against}:{}{mark}", row.code, name(row.entry)));
    }
    words.extend(reading.flags.iter().cloned());
    words.join(" ")
}
