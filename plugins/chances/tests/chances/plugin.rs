//! The plugin as the host runs it, on matches scored by the scoring crate.

use rallytide_chances::WinChances;
use rallytide_chances::format::{Lead, Service};
use rallytide_chart as chart;
use rallytide_plugin_kit::testing::Trial;
use rallytide_plugin_kit::{
    Change, Key, Play, Plugin, RallyEnd, Setting, SettingType, SettingValue, Team, Value, about,
    key,
};
use rallytide_scoring::ScoreKeeper;

use crate::real::{Solved, Spec, chart_team, handed_over, rally_won_by};

/// A match charted through the real scoring into the plugin.
struct Charted {
    scoring: ScoreKeeper,
    trial: Trial<WinChances>,
}

impl Charted {
    fn start(spec: &Spec, settings: &[(&str, f64)]) -> Self {
        let settings = settings.iter().map(|(name, number)| Setting {
            name: (*name).to_owned(),
            value: SettingValue::Number(*number),
        });
        let trial = Trial::start_on(spec.header(), settings.collect(), Vec::new());
        Self {
            scoring: spec.scoring(),
            trial: trial.expect("it refuses no settings"),
        }
    }

    fn rally(&mut self, winner: Team) -> Vec<Change> {
        let end = Play::RallyEnd(RallyEnd {
            winner,
            how: None,
            by: None,
            player: None,
            fault: None,
        });
        self.entry(&rally_won_by(winner), end)
    }

    fn entry(&mut self, real: &chart::Play, handed: Play) -> Vec<Change> {
        self.scoring.step(real);
        *self.trial.score() = handed_over(self.scoring.score());
        self.trial.play(handed)
    }

    fn chance(&self, key: &Key) -> f64 {
        match self.trial.value(key) {
            Some(Value::Chance(chance)) => *chance,
            other => panic!("{key:?} is {other:?}"),
        }
    }

    /// `win.game` a, `win.match` a, `win.swing`; b's are checked to be the rest.
    #[track_caller]
    fn shown(&self) -> [f64; 3] {
        for indicator in ["win.game", "win.match"] {
            let both = Team::BOTH.map(|team| self.chance(&about(indicator, team)));
            assert_eq!((both[0] + both[1]).to_bits(), 1.0_f64.to_bits(), "{both:?}");
            assert!(
                both.iter().all(|chance| (0.0..=1.0).contains(chance)),
                "{both:?}"
            );
        }
        [
            self.chance(&about("win.game", Team::A)),
            self.chance(&about("win.match", Team::A)),
            self.chance(&key("win.swing")),
        ]
    }

    /// The same, solved for these probabilities of a serve to win.
    #[track_caller]
    fn check(&self, spec: &Spec, serve: (f64, f64)) {
        let expected = Solved::new(spec, serve).at(self.scoring.score());
        let expected = [expected.of_game, expected.of_match, expected.swing];
        for (found, expected) in self.shown().into_iter().zip(expected) {
            assert!(
                (found - expected).abs() < 1e-12,
                "{found} is not {expected}"
            );
        }
    }
}

fn doubles() -> Spec {
    Spec {
        games: 3,
        ..Spec::game(Service::TwoServers, 11, Lead::Two)
    }
}

#[test]
fn all_readings_exist_from_the_start_with_the_prior() {
    let charted = Charted::start(&doubles(), &[]);
    assert_eq!(charted.trial.readings().len(), 5);
    charted.check(&doubles(), (0.45, 0.45));
}

#[test]
fn every_rally_counts_for_the_team_that_served_it() {
    // The prior counts as 9 of 20. a serves 3 and wins 2; b serves 2 and wins 1.
    let spec = doubles();
    let mut charted = Charted::start(&spec, &[]);
    for (winner, serve) in [
        (Team::A, (10.0 / 21.0, 9.0 / 20.0)),
        (Team::A, (11.0 / 22.0, 9.0 / 20.0)),
        // b serves from here on: its first server, then its second.
        (Team::B, (11.0 / 23.0, 9.0 / 20.0)),
        (Team::B, (11.0 / 23.0, 10.0 / 21.0)),
        (Team::A, (11.0 / 23.0, 10.0 / 22.0)),
    ] {
        charted.rally(winner);
        charted.check(&spec, serve);
    }
    assert_eq!(charted.scoring.score().server, Some(2));
}

#[test]
fn a_very_large_weight_holds_the_prior() {
    let spec = doubles();
    let settings = [("prior_mean", 0.5), ("prior_weight", 1_000_000.0)];
    let mut charted = Charted::start(&spec, &settings);
    for _ in 0..5 {
        charted.rally(Team::A);
    }
    let held = Solved::new(&spec, (0.5, 0.5)).at(charted.scoring.score());
    assert!((charted.shown()[1] - held.of_match).abs() < 1e-4);
}

#[test]
fn penalties_and_the_referees_word_move_the_chances_and_not_the_estimates() {
    let spec = doubles();
    let mut charted = Charted::start(&spec, &[]);
    let penalty = chart::Play::Penalty {
        team: chart::Team::A,
    };
    charted.entry(&penalty, Play::Penalty(Team::A));
    assert_eq!(charted.scoring.score().points.b, 1);
    charted.check(&spec, (0.45, 0.45));
    let fix = chart::ScoreFix {
        points: chart::PairOf { a: 12, b: 11 },
        serving: chart_team(Team::B),
        server: Some(1),
        games: Some(chart::PairOf { a: 0, b: 1 }),
    };
    let handed = Play::Note("the host hands the same over; only the score counts".into());
    charted.entry(&chart::Play::ScoreFix(fix), handed);
    charted.check(&spec, (0.45, 0.45));
    // A penalty takes a point off b: a leads by two and has not won.
    let penalty = chart::Play::Penalty {
        team: chart::Team::B,
    };
    charted.entry(&penalty, Play::Penalty(Team::B));
    assert_eq!(charted.scoring.score().points.b, 10);
    charted.check(&spec, (0.45, 0.45));
}

#[test]
fn what_changes_nothing_publishes_nothing() {
    let mut charted = Charted::start(&doubles(), &[]);
    assert_eq!(charted.rally(Team::A).len(), 5);
    let note = chart::Play::Note {
        text: "loud".into(),
    };
    assert_eq!(charted.entry(&note, Play::Note("loud".into())), []);
    assert_eq!(charted.entry(&chart::Play::Replay, Play::Replay), []);
}

#[test]
fn when_the_match_is_over_the_winner_has_everything() {
    let mut charted = Charted::start(&doubles(), &[]);
    while !charted.scoring.score().is_over() {
        charted.rally(Team::B);
        charted.shown();
    }
    assert_eq!(
        charted.shown().map(f64::to_bits),
        [0.0_f64; 3].map(f64::to_bits)
    );
    let mut charted = Charted::start(&doubles(), &[]);
    charted.rally(Team::B);
    let retire = chart::Play::Retire {
        team: chart::Team::B,
    };
    charted.entry(&retire, Play::Retire(Team::B));
    assert_eq!(
        charted.shown().map(f64::to_bits),
        [1.0, 1.0, 0.0].map(f64::to_bits)
    );
}

#[test]
fn the_settings_offered_hold_the_defaults_and_forbid_the_corner_without_an_answer() {
    let manifest = WinChances::manifest();
    let range = |name: &str| {
        let offers = manifest.settings.iter();
        let mut named = offers.filter(|offer| offer.name == name);
        match named.next().map(|offer| &offer.form) {
            Some(SettingType::Number(range)) => *range,
            other => panic!("`{name}` is {other:?}"),
        }
    };
    assert_eq!(range("prior_mean"), (0.05, 0.95, 0.45));
    assert_eq!(range("prior_weight"), (1.0, 1_000_000.0, 20.0));
    // With the smallest prior and 10,000 serves lost by both, there still is one.
    let spec = Spec::game(Service::TwoServers, 11, Lead::Two);
    let settings = [("prior_mean", 0.05), ("prior_weight", 1.0)];
    let mut charted = Charted::start(&spec, &settings);
    for _ in 0..10_000 {
        let serving = charted.scoring.score().serving;
        charted.rally(crate::real::team_of(serving.other()));
    }
    let [game, of_match, swing] = charted.shown();
    assert!((game - 0.5).abs() < 1e-4, "{game}");
    assert!((of_match - game).abs() < 1e-12, "{of_match}");
    // Derived: the next points are as good as even, so the first is worth
    // ½ · C(20, 10) / 2²⁰; losing the rally costs next to nothing.
    assert!((swing - 184_756.0 / 2_097_152.0).abs() < 1e-5, "{swing}");
}
