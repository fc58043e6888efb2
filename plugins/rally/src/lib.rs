//! How long the rallies are and how fast they are played.
//!
//! [`rallies`] holds the logic as plain Rust; this file only translates between
//! it and the host. Lengths are common practice of the trade; the tempo is a
//! help for the charter and never said aloud.

pub mod rallies;

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, Play, PlayKind, Plugin, Readings, Value, key,
};

use crate::rallies::MatchRallies;

/// The plugin: the rallies so far.
#[derive(Debug, Default)]
pub struct Rally {
    rallies: MatchRallies,
}

impl Plugin for Rally {
    fn manifest() -> Manifest {
        Manifest::new(
            "rally",
            env!("CARGO_PKG_VERSION"),
            "Counts the shots of the rally, the longest rally, and the tempo.",
        )
        .provides(&["rally.shots", "rally.longest", "rally.tempo"])
        .called_for(&[PlayKind::Shot, PlayKind::RallyEnd, PlayKind::Replay])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        Ok(Self::default())
    }

    fn step(&mut self, moment: &Moment) {
        let entry = &moment.entry;
        match &entry.play {
            Play::Shot(shot) => self.rallies.shot(shot, entry.at_ms, entry.inserted),
            Play::RallyEnd(_) => self.rallies.rally_ends(),
            Play::Replay => self.rallies.rally_is_replayed(),
            _ => {}
        }
    }

    fn readings(&self, readings: &mut Readings) {
        let figures = self.rallies.figures();
        readings.set(key("rally.shots"), Value::Count(figures.shots));
        readings.set(key("rally.longest"), Value::Count(figures.longest));
        readings.set(key("rally.tempo"), Value::Duration(figures.tempo));
    }
}

rallytide_plugin_kit::export_plugin!(Rally);
