//! How well the teams get out of pressure.
//!
//! Reads who holds the initiative and counts defense spells: the streak of
//! recovered pressure, its best, the share of escapes, and how often a team gets
//! out of the defense it is put on by the return. The rules are common practice
//! of the trade; there is no published standard. The modules hold the logic as
//! plain Rust: [`spells`] (when a spell begins and how it ends) and [`counts`]
//! (what is counted). This file only translates between them and the host.

pub mod counts;
pub mod spells;

use rallytide_plugin_kit::{
    Held, Manifest, Moment, Opening, Play, Plugin, Readings, Team, Value, about,
};

use crate::counts::SpellCounts;
use crate::spells::Spells;

/// The indicator that the spells are made of.
const INITIATIVE: &str = "initiative";

/// The plugin: the current rally's spells, and the counts.
#[derive(Debug, Default)]
pub struct Escape {
    latest_shot: u32,
    spells: Spells,
    counts: SpellCounts,
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
        let now = self.counts.now();
        for team in Team::BOTH {
            let counts = &now[team];
            for (indicator, value) in [
                ("escape.streak", Value::Count(counts.streak)),
                ("escape.best", Value::Count(counts.best)),
                ("escape.share", counts.escaped.value()),
                ("approach.reached", counts.reached.value()),
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
                self.counts.take_rally_back();
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
            self.counts.count(spell);
        }
        if let Play::RallyEnd(_) | Play::Replay = moment.entry.play {
            self.latest_shot = 0;
            self.counts.keep_rally();
        }
    }
}

rallytide_plugin_kit::export_plugin!(Escape);
