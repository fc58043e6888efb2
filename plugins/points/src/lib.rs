//! Points in a row: how many a team has scored since the other last did.
//!
//! Counting them is common practice of the trade; there is no published
//! standard. [`runs`] holds the logic as plain Rust; this file only translates
//! between it and the host.

pub mod runs;

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, Play, PlayKind, Plugin, Readings, Team, Value, about,
};

use crate::runs::{Runs, Scored};

const INDICATOR: &str = "score.run";

/// The plugin: the runs, and the score before the next entry.
#[derive(Debug)]
pub struct Points {
    runs: Runs,
    before: Scored,
}

impl Plugin for Points {
    fn manifest() -> Manifest {
        Manifest::new(
            "points",
            env!("CARGO_PKG_VERSION"),
            "Counts the points a team has scored in a row.",
        )
        .provides(&[INDICATOR])
        .called_for(&[PlayKind::RallyEnd, PlayKind::Penalty])
    }

    fn start(opening: &Opening) -> Result<Self, String> {
        Ok(Self {
            runs: Runs::default(),
            before: Scored::of(&opening.score),
        })
    }

    fn step(&mut self, moment: &Moment) {
        let before = std::mem::replace(&mut self.before, Scored::of(&moment.score));
        // Whatever else changes the points is the referee's word: nobody scored.
        if !matches!(moment.entry.play, Play::RallyEnd(_) | Play::Penalty(_)) {
            return;
        }
        for team in Team::BOTH {
            match before.gained(&moment.score, team) {
                0 => {}
                points => self.runs.score(team, points),
            }
        }
    }

    fn readings(&self, readings: &mut Readings) {
        for team in Team::BOTH {
            readings.set(about(INDICATOR, team), Value::Count(self.runs.of(team)));
        }
    }
}

rallytide_plugin_kit::export_plugin!(Points);
