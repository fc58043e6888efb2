//! Takes the place of the first-party plugin `rally`: the same id, the same
//! indicators, other numbers.

use rallytide_plugin_kit::{Manifest, Moment, Opening, Play, Plugin, Readings, Value, key};

struct Rally(u32);

impl Plugin for Rally {
    fn manifest() -> Manifest {
        Manifest::new("rally", "9.0.0", "Counts shots by the thousand.").provides(&[
            "rally.shots",
            "rally.longest",
            "rally.tempo",
        ])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        Ok(Self(0))
    }

    fn step(&mut self, moment: &Moment) {
        if let Play::Shot(_) = moment.entry.play {
            self.0 += 1000;
        }
    }

    fn readings(&self, readings: &mut Readings) {
        readings.set(key("rally.shots"), Value::Count(self.0));
        readings.set(key("rally.longest"), Value::Count(0));
        readings.set(key("rally.tempo"), Value::Duration(0));
    }
}

rallytide_plugin_kit::export_plugin!(Rally);
