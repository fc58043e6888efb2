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
    Key, Manifest, Moment, Opening, PerTeam, Play, PlayKind, Plugin, Publisher, Setting,
    SettingType, SettingValue, Team, Value, about, key,
};

use crate::course::{Chances, MatchFormat, Standing};
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
    standing: Standing,
    published: Chances,
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

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let settings = &opening.settings;
        let prior = ServeEstimate::prior(
            number(settings, "prior_mean", PRIOR_MEAN),
            number(settings, "prior_weight", PRIOR_WEIGHT),
        );
        let estimates = PerTeam { a: prior, b: prior };
        let format = MatchFormat::of(&opening.header);
        let solved_for = probabilities(&estimates);
        let solved = GameChances::solve(format.game(), solved_for);
        let standing = format.standing(&opening.score);
        let published = format.chances(standing, &solved);
        for (key, value) in readings(&published) {
            publish.set(key, value);
        }
        Ok(Self {
            format,
            estimates,
            serving: opening.score.serving,
            solved_for,
            solved,
            standing,
            published,
        })
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        if let Play::RallyEnd(end) = &moment.entry.play {
            self.estimates[self.serving].count(end.winner == self.serving);
        }
        self.serving = moment.score.serving;
        let standing = self.format.standing(&moment.score);
        let serve = probabilities(&self.estimates);
        if (standing, serve) == (self.standing, self.solved_for) {
            return;
        }
        self.standing = standing;
        if serve != self.solved_for && matches!(standing, Standing::Running { .. }) {
            self.solved = GameChances::solve(self.format.game(), serve);
            self.solved_for = serve;
        }
        self.publish_changes(publish);
    }
}

impl WinChances {
    fn publish_changes(&mut self, publish: &mut Publisher) {
        let now = self.format.chances(self.standing, &self.solved);
        let before = std::mem::replace(&mut self.published, now);
        for ((key, value), (_, old)) in readings(&now).into_iter().zip(readings(&before)) {
            if value != old {
                publish.set(key, value);
            }
        }
    }
}

/// How often each team is expected to win a rally it serves.
fn probabilities(estimates: &PerTeam<ServeEstimate>) -> PerTeam<f64> {
    PerTeam {
        a: estimates.a.mean(),
        b: estimates.b.mean(),
    }
}

/// A setting's number. The host hands over every setting of the manifest, within
/// its range; without one the default stands.
fn number(settings: &[Setting], name: &str, default: f64) -> f64 {
    let found = settings.iter().find(|setting| setting.name == name);
    match found.map(|setting| &setting.value) {
        Some(SettingValue::Number(number)) => *number,
        _ => default,
    }
}

/// The chances as readings, always in this order. Team b has the rest of team
/// a's chance: together they are 1.
fn readings(chances: &Chances) -> [(Key, Value); 5] {
    let chance = |of_a: f64, team| match team {
        Team::A => Value::Chance(of_a),
        Team::B => Value::Chance(1.0 - of_a),
    };
    let of = |indicator, of_a, team| (about(indicator, team), chance(of_a, team));
    [
        of("win.game", chances.of_game, Team::A),
        of("win.game", chances.of_game, Team::B),
        of("win.match", chances.of_match, Team::A),
        of("win.match", chances.of_match, Team::B),
        (key("win.swing"), Value::Chance(chances.swing)),
    ]
}

rallytide_plugin_kit::export_plugin!(WinChances);
