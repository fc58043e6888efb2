//! How much of the match was charted shot by shot: rallies that begin with a
//! serve and hold no assumed shot, of all that have ended. A caution beside
//! every other number.
//!
//! [`gaps`] holds the logic as plain Rust; this file only translates between it
//! and the host, and counts.

pub mod gaps;

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, Play, PlayKind, Plugin, Readings, Tally, key,
};

use crate::gaps::Charted;

const INDICATOR: &str = "charting.coverage";

/// The plugin: the current rally and the tally.
#[derive(Debug, Default)]
pub struct Coverage {
    rally: Charted,
    tally: Tally,
}

impl Plugin for Coverage {
    fn manifest() -> Manifest {
        Manifest::new(
            "coverage",
            env!("CARGO_PKG_VERSION"),
            "Counts the rallies that were charted without a gap.",
        )
        .provides(&[INDICATOR])
        .called_for(&[PlayKind::Shot, PlayKind::RallyEnd, PlayKind::Replay])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        Ok(Self::default())
    }

    fn step(&mut self, moment: &Moment) {
        match &moment.entry.play {
            Play::Shot(shot) => self.rally.shot(shot),
            Play::RallyEnd(_) => {
                self.tally.count(self.rally.is_without_gap());
                self.rally = Charted::default();
            }
            Play::Replay => self.rally = Charted::default(),
            _ => {}
        }
    }

    fn readings(&self, readings: &mut Readings) {
        readings.set(key(INDICATOR), self.tally.value());
    }
}

rallytide_plugin_kit::export_plugin!(Coverage);
