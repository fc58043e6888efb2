//! What serves, third shots, speedups and attackable balls have brought.
//!
//! All four look back over a rally when it has ended. [`lessons`] says what a
//! rally shows, as plain Rust; this file only counts and publishes it.

pub mod lessons;

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, Play, Plugin, RallyShots, Readings, Shares, Team,
};

/// The plugin: the current rally, who serves, and the tallies.
#[derive(Debug)]
pub struct Shots {
    rally: RallyShots,
    /// Who serves by the score before the next entry.
    serving: Team,
    serve: Shares,
    third: Shares,
    speedup: Shares,
    sitter: Shares,
}

impl Plugin for Shots {
    fn manifest() -> Manifest {
        Manifest::new(
            "shots",
            env!("CARGO_PKG_VERSION"),
            "Counts what serves, third shots, speedups and attackable balls have brought.",
        )
        .provides(&["serve.won", "third.won", "speedup.won", "sitter.punished"])
    }

    fn start(opening: &Opening) -> Result<Self, String> {
        Ok(Self {
            rally: RallyShots::default(),
            serving: opening.score.serving,
            serve: Shares::by_team("serve.won"),
            third: Shares::by_slot("third.won"),
            speedup: Shares::by_slot("speedup.won"),
            sitter: Shares::by_team("sitter.punished"),
        })
    }

    fn step(&mut self, moment: &Moment) {
        let entry = &moment.entry;
        match &entry.play {
            Play::RallyEnd(end) => {
                self.count(end.winner);
                self.rally.clear();
            }
            Play::Replay => self.rally.clear(),
            play => self.rally.take(entry.place, play),
        }
        self.serving = moment.score.serving;
    }

    fn readings(&self, readings: &mut Readings) {
        for shares in [&self.serve, &self.third, &self.speedup, &self.sitter] {
            shares.state(readings);
        }
    }
}

impl Shots {
    fn count(&mut self, winner: Team) {
        let serving = self.serving;
        self.serve.count(serving, winner == serving);
        if let Some(stroke) = lessons::third_shot(&self.rally) {
            self.third.count_slot(serving, stroke, winner == serving);
        }
        for team in Team::BOTH {
            if let Some(slot) = lessons::first_speedup(&self.rally, team) {
                self.speedup.count_slot(team, slot, winner == team);
            }
            if lessons::left_attackable(&self.rally, team.other()) {
                self.sitter.count(team, winner == team);
            }
        }
    }
}

rallytide_plugin_kit::export_plugin!(Shots);
