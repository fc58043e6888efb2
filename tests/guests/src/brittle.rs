//! Counts entries and breaks at every note that it is handed, unless it is built
//! under the name of its mended version.

use rallytide_plugin_kit::{Manifest, Moment, Opening, Play, Plugin, Readings, Value, key};

const ENTRIES: &str = "brittle.entries";
const MENDED: bool = matches!(env!("CARGO_CRATE_NAME").as_bytes(), b"brittle_mended");

struct Brittle(u32);

impl Plugin for Brittle {
    fn manifest() -> Manifest {
        let version = if MENDED { "1.0.1" } else { "1.0.0" };
        Manifest::new("brittle", version, "Breaks at notes.").provides(&[ENTRIES])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        Ok(Self(0))
    }

    fn step(&mut self, moment: &Moment) {
        if matches!(moment.entry.play, Play::Note(_)) && !MENDED {
            panic!("cannot read");
        }
        self.0 += 1;
    }

    fn readings(&self, readings: &mut Readings) {
        readings.set(key(ENTRIES), Value::Count(self.0));
    }
}

rallytide_plugin_kit::export_plugin!(Brittle);
