//! How well the teams get out of pressure.
//!
//! Reads who holds the initiative and counts defense spells: the streak of
//! recovered pressure, its best, the share of escapes, and how often a team gets
//! out of the defense it is put on by the return. The rules are common practice
//! of the trade; there is no published standard. The modules hold the logic as
//! plain Rust: [`spells`] (when a spell begins and how it ends) and [`tally`]
//! (what is counted). This file only translates between them and the host.

pub mod spells;
pub mod tally;

use rallytide_plugin_kit::{
    Held, Manifest, Moment, Opening, Play, Plugin, Readings, Share, Team, Value, about,
};

use crate::spells::Spells;
use crate::tally::{Part, Tally};

/// The indicator that the spells are made of.
const INITIATIVE: &str = "initiative";

/// The plugin: the current rally's spells, and the counts.
#[derive(Debug, Default)]
pub struct Escape {
    latest_shot: u32,
    spells: Spells,
    tally: Tally,
}

impl Plugin for Escape {
    fn manifest() -> Manifest {
        Manifest::new(
            "escape",
            env!("CARGO_PKG_VERSION"),
            "Counts how the teams get out of pressure, and their streaks of doing so.",
        )
        .provides(&[
            "escape.streak",
            "escape.best",
            "escape.share",
            "approach.reached",
        ])
        .reads(&[INITIATIVE])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        Ok(Self::default())
    }

    fn step(&mut self, moment: &Moment) {
        let initiative = moment.upstream.of_match(INITIATIVE);
        let held = initiative.and_then(Held::of).unwrap_or_else(|| {
            // Nobody says who holds any more: what is open has no known end.
            self.spells.break_off();
            Held::default()
        });
        self.take(moment, held);
    }

    fn readings(&self, readings: &mut Readings) {
        let now = self.tally.now();
        for team in Team::BOTH {
            let tally = &now[team];
            for (indicator, value) in [
                ("escape.streak", Value::Count(tally.streak)),
                ("escape.best", Value::Count(tally.best)),
                ("escape.share", share(tally.escaped)),
                ("approach.reached", share(tally.reached)),
            ] {
                readings.set(about(indicator, team), value);
            }
        }
    }
}

impl Escape {
    fn take(&mut self, moment: &Moment, held: Held) {
        let ended = match &moment.entry.play {
            Play::RallyEnd(end) => self.spells.rally_won_by(end.winner),
            Play::Replay => {
                self.spells.break_off();
                self.tally.take_rally_back();
                None
            }
            // The match is over in the middle of the rally.
            _ if moment.score.winner.is_some() => {
                self.spells.break_off();
                None
            }
            play => {
                if let Play::Shot(shot) = play {
                    self.latest_shot = shot.number;
                }
                self.spells.entry(held, self.latest_shot)
            }
        };
        if let Some(spell) = ended {
            self.tally.count(spell);
        }
        if let Play::RallyEnd(_) | Play::Replay = moment.entry.play {
            self.latest_shot = 0;
            self.tally.keep_rally();
        }
    }
}

fn share(Part { part, whole }: Part) -> Value {
    Value::Share(Share { part, whole })
}

rallytide_plugin_kit::export_plugin!(Escape);
