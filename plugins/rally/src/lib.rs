//! How long the rallies are and how fast they are played.
//!
//! [`course`] holds the logic as plain Rust; this file only translates between
//! it and the host. Lengths are common practice of the trade; the tempo is a
//! help for the charter and never said aloud.

pub mod course;

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, Play, PlayKind, Plugin, Publisher, Value, key,
};

use crate::course::{Course, Figures};

/// The plugin: the rallies so far, and what was published last.
#[derive(Debug)]
pub struct Rally {
    course: Course,
    published: Figures,
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

    fn start(_: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let rally = Self {
            course: Course::default(),
            published: Figures::default(),
        };
        for (indicator, value) in readings(rally.published) {
            publish.set(key(indicator), value);
        }
        Ok(rally)
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        let entry = &moment.entry;
        match &entry.play {
            Play::Shot(shot) => self.course.shot(shot, entry.at_ms, entry.inserted),
            Play::RallyEnd(_) => self.course.rally_ends(),
            Play::Replay => self.course.rally_is_replayed(),
            _ => return,
        }
        let now = self.course.figures();
        let before = std::mem::replace(&mut self.published, now);
        for ((indicator, value), (_, old)) in readings(now).into_iter().zip(readings(before)) {
            if value != old {
                publish.set(key(indicator), value);
            }
        }
    }
}

/// The figures as readings, always in this order.
fn readings(figures: Figures) -> [(&'static str, Value); 3] {
    [
        ("rally.shots", Value::Count(figures.shots)),
        ("rally.longest", Value::Count(figures.longest)),
        ("rally.tempo", Value::Duration(figures.tempo)),
    ]
}

rallytide_plugin_kit::export_plugin!(Rally);
