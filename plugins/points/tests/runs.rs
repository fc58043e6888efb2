//! Points in a row, by the score the host hands over.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use rallytide_plugin_kit::testing::{Script, Trial};
use rallytide_plugin_kit::{Pair, Team, Value, about};
use rallytide_points::Points;

struct Match {
    trial: Trial<Points>,
    script: Script,
}

impl Match {
    fn new() -> Self {
        Self {
            trial: Trial::start(Vec::new(), Vec::new()).unwrap(),
            script: Script::default(),
        }
    }

    /// An entry after which the points are `a` and `b`.
    fn entry(&mut self, text: &str, a: u32, b: u32) -> &mut Self {
        self.trial.score().points = Pair { a, b };
        for entry in self.script.read(text) {
            self.trial.entry(entry, Vec::new());
        }
        self
    }

    #[track_caller]
    fn check(&self, a: u32, b: u32) {
        for (team, run) in [(Team::A, a), (Team::B, b)] {
            let value = self.trial.value(&about("score.run", team)).unwrap();
            assert_eq!(*value, Value::Count(run), "{team:?}");
        }
    }
}

#[test]
fn a_run_grows_with_each_point_and_ends_with_the_others_first() {
    let mut charted = Match::new();
    charted.check(0, 0);
    charted
        .entry("a wins", 1, 0)
        .entry("a wins", 2, 0)
        .check(2, 0);
    charted.entry("b wins", 2, 0).check(2, 0);
    charted.entry("b wins", 2, 1).check(0, 1);
}

#[test]
fn a_run_goes_on_across_games() {
    let mut charted = Match::new();
    charted.entry("a wins", 10, 0);
    charted.check(10, 0);
    charted.trial.score().finished = vec![Pair { a: 11, b: 0 }];
    charted.entry("a wins", 0, 0).check(11, 0);
    charted.entry("a wins", 1, 0).check(12, 0);
}

#[test]
fn a_penalty_point_counts_and_a_point_taken_off_does_not() {
    let mut charted = Match::new();
    charted
        .entry("b wins", 0, 1)
        .entry("b wins", 0, 2)
        .check(0, 2);
    charted.entry("a penalty", 0, 3).check(0, 3);
    charted.entry("b penalty", 0, 2).check(0, 3);
}

#[test]
fn what_happens_beside_points_changes_nothing() {
    let mut charted = Match::new();
    charted.entry("a wins", 1, 0);
    charted.entry("a time_out | note word", 5, 9).check(1, 0);
    charted.entry("a wins", 6, 9).check(2, 0);
}
