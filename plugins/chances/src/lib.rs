//! How likely each team is to win the game and the match from here, and how much
//! the next rally matters.
//!
//! The chain of rallies is solved exactly, under the match's own scoring
//! ([`mod@format`], [`game`], [`course`]); the two probabilities it needs come from
//! the match so far, shrunk to a prior ([`estimate`]). This file only hands over
//! and publishes.

pub mod course;
pub mod estimate;
pub mod format;
pub mod game;
mod serve;

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, PerTeam, Play, PlayKind, Plugin, Readings, SettingType, Team, Value,
    about, key,
};

use crate::course::{MatchFormat, MatchStanding};
use crate::estimate::ServeEstimate;
use crate::game::GameChances;

/// The mean of the prior: a setting, not a published figure.
const PRIOR_MEAN: f64 = 0.45;
/// The weight of the prior in rallies: a setting, not a published figure.
const PRIOR_WEIGHT: f64 = 20.0;

/// The plugin: what has been seen of the serves, and the chances it leads to.
#[derive(Debug)]
pub struct WinChances {
    format: MatchFormat,
    estimates: PerTeam<ServeEstimate>,
    /// Who serves the coming rally, by the score.
    serving: Team,
    /// The game as solved for these probabilities.
    solved_for: PerTeam<f64>,
    solved: GameChances,
    standing: MatchStanding,
}

impl Plugin for WinChances {
    fn manifest() -> Manifest {
        Manifest::new(
            "chances",
            env!("CARGO_PKG_VERSION"),
            "Says how likely each team is to win from here, as the match has gone so far.",
        )
        .provides(&["win.game", "win.match", "win.swing"])
        .called_for(&[PlayKind::RallyEnd])
        .setting(
            "prior_mean",
            "How often a serving team is expected to win a rally before any is played.",
            SettingType::Number((0.05, 0.95, PRIOR_MEAN)),
        )
        .setting(
            "prior_weight",
            "For how many rallies that expectation counts; very large keeps it fixed.",
            SettingType::Number((1.0, 1_000_000.0, PRIOR_WEIGHT)),
        )
    }

    fn start(opening: &Opening) -> Result<Self, String> {
        let prior =
            ServeEstimate::prior(opening.number("prior_mean"), opening.number("prior_weight"));
        let estimates = PerTeam { a: prior, b: prior };
        let format = MatchFormat::of(&opening.header);
        let solved_for = probabilities(&estimates);
        Ok(Self {
            format,
            estimates,
            serving: opening.score.serving,
            solved_for,
            solved: GameChances::solve(format.game(), solved_for),
            standing: format.standing(&opening.score),
        })
    }

    fn step(&mut self, moment: &Moment) {
        if let Play::RallyEnd(end) = &moment.entry.play {
            self.estimates[self.serving].count(end.winner == self.serving);
        }
        self.serving = moment.score.serving;
        self.standing = self.format.standing(&moment.score);
        let serve = probabilities(&self.estimates);
        if serve != self.solved_for && matches!(self.standing, MatchStanding::Running { .. }) {
            self.solved = GameChances::solve(self.format.game(), serve);
            self.solved_for = serve;
        }
    }

    /// Team b has the rest of team a's chance: together they are 1.
    fn readings(&self, readings: &mut Readings) {
        let chances = self.format.chances(self.standing, &self.solved);
        for (indicator, of_a) in [
            ("win.game", chances.of_game),
            ("win.match", chances.of_match),
        ] {
            readings.set(about(indicator, Team::A), Value::Chance(of_a));
            readings.set(about(indicator, Team::B), Value::Chance(1.0 - of_a));
        }
        readings.set(key("win.swing"), Value::Chance(chances.swing));
    }
}

/// How often each team is expected to win a rally it serves.
fn probabilities(estimates: &PerTeam<ServeEstimate>) -> PerTeam<f64> {
    PerTeam {
        a: estimates.a.mean(),
        b: estimates.b.mean(),
    }
}

rallytide_plugin_kit::export_plugin!(WinChances);
