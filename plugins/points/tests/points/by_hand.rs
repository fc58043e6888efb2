//! Points in a row, by scores written by hand. Counting them is common practice
//! of the trade.

use rallytide_plugin_kit::testing::{Script, Trial};
use rallytide_plugin_kit::{Change, Pair, Play, Plugin, ScoreFix, Team, Value, about};
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

    /// The referee's word.
    fn fix(&mut self, a: u32, b: u32) -> &mut Self {
        let points = Pair { a, b };
        self.trial.score().points = points;
        self.trial.play(Play::ScoreFix(ScoreFix {
            points,
            serving: Team::A,
            server: None,
            games: None,
        }));
        self
    }

    #[track_caller]
    fn check(&self, a: u32, b: u32) -> &Self {
        for (team, run) in [(Team::A, a), (Team::B, b)] {
            let value = self.trial.value(&about("score.run", team)).unwrap();
            assert_eq!(*value, Value::Count(run), "{team:?}");
        }
        self
    }
}

#[test]
fn the_example_of_the_readme() {
    let mut charted = Match::new();
    charted.entry("a wins", 1, 0).check(1, 0);
    charted.entry("b wins", 1, 0).check(1, 0);
    charted.entry("b penalty", 2, 0).check(2, 0);
    charted.entry("b wins", 2, 1).check(0, 1);
    charted.entry("b penalty", 2, 0).check(0, 1);
    charted.fix(2, 1).check(0, 1);
    charted.entry("b wins", 2, 2).check(0, 2);
}

#[test]
fn a_run_grows_with_each_point_and_ends_with_the_others_first() {
    let mut charted = Match::new();
    charted.check(0, 0);
    charted.entry("a wins", 1, 0).entry("a wins", 2, 0);
    charted.check(2, 0);
    charted.entry("b wins", 2, 1).check(0, 1);
}

#[test]
fn a_rally_without_a_point_ends_no_run() {
    let mut charted = Match::new();
    charted.entry("a wins", 1, 0).entry("b wins", 1, 0);
    charted.check(1, 0);
    charted.entry("b wins", 1, 1).check(0, 1);
}

#[test]
fn a_run_goes_on_across_games_and_ends_with_the_match() {
    let mut charted = Match::new();
    charted.entry("a wins", 10, 0).check(10, 0);
    charted.trial.score().finished = vec![Pair { a: 11, b: 0 }];
    charted.entry("a wins", 0, 0).check(11, 0);
    charted.entry("a wins", 1, 0).check(12, 0);
    charted.fix(10, 9).check(12, 0);
    // The points stay after the match, and stand with the games that are over.
    charted.trial.score().finished.push(Pair { a: 11, b: 9 });
    charted.trial.score().winner = Some(Team::A);
    charted.entry("a wins", 11, 9).check(13, 0);
}

#[test]
fn a_game_that_the_team_behind_wins_ends_the_others_run() {
    let mut charted = Match::new();
    charted.entry("b wins", 0, 1).check(0, 1);
    charted.fix(10, 9).check(0, 1);
    charted.trial.score().finished = vec![Pair { a: 11, b: 9 }];
    charted.entry("a wins", 0, 0).check(1, 0);
}

#[test]
fn a_penalty_point_counts_also_where_it_ends_a_game() {
    let mut charted = Match::new();
    charted.entry("a penalty", 0, 1).check(0, 1);
    charted.entry("a wins", 1, 1).check(1, 0);
    charted.fix(0, 10).check(1, 0);
    charted.trial.score().finished = vec![Pair { a: 0, b: 11 }];
    charted.entry("a penalty", 0, 0).check(0, 1);
}

#[test]
fn a_point_taken_off_changes_no_run() {
    let mut charted = Match::new();
    charted.entry("b wins", 0, 1).entry("b wins", 0, 2);
    charted.entry("b penalty", 0, 1).check(0, 2);
    charted.entry("b wins", 0, 2).check(0, 3);
}

#[test]
fn the_referees_word_changes_no_run_and_is_where_the_next_point_starts_from() {
    let mut charted = Match::new();
    charted.entry("a wins", 1, 0);
    charted.fix(5, 9).check(1, 0);
    charted.entry("a wins", 6, 9).check(2, 0);
    charted.fix(0, 0).check(2, 0);
    charted.entry("b wins", 0, 1).check(0, 1);
}

#[test]
fn a_replay_and_what_happens_beside_points_change_nothing() {
    let mut charted = Match::new();
    charted.entry("a wins", 1, 0);
    let beside = "a time_out | note word | a serve | b return | +awkward | a at line | replay";
    charted.entry(beside, 1, 0).check(1, 0);
    charted.entry("b retires", 1, 0).check(1, 0);
}

#[test]
fn only_a_run_that_has_changed_is_published() {
    assert_eq!(Points::manifest().provides, ["score.run"]);
    let mut charted = Match::new();
    let mut changed = |text: &str, a: u32, b: u32| -> Vec<Team> {
        charted.trial.score().points = Pair { a, b };
        let entry = charted.script.read(text).remove(0);
        let changes = charted.trial.entry(entry, Vec::new());
        let changes = changes.into_iter().map(|change| match change {
            Change::Set(reading) => reading.key.team.unwrap(),
            Change::Gone(key) => panic!("{key:?} is gone"),
        });
        changes.collect()
    };
    assert_eq!(changed("a wins", 1, 0), [Team::A]);
    assert_eq!(changed("b wins", 1, 0), []);
    assert_eq!(changed("b wins", 1, 1), [Team::A, Team::B]);
}
