//! Takes the place of the first-party plugin `rally`: the same id, the same
//! indicators, other numbers.

use rallytide_plugin_kit::{Manifest, Moment, Opening, Play, Plugin, Publisher, Value, key};

struct Rally(u32);

impl Plugin for Rally {
    fn manifest() -> Manifest {
        Manifest::new("rally", "9.0.0", "Counts shots by the thousand.").provides(&[
            "rally.shots",
            "rally.longest",
            "rally.tempo",
        ])
    }

    fn start(_: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        publish.set(key("rally.shots"), Value::Count(0));
        publish.set(key("rally.longest"), Value::Count(0));
        publish.set(key("rally.tempo"), Value::Duration(0));
        Ok(Self(0))
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        if let Play::Shot(_) = moment.entry.play {
            self.0 += 1000;
            publish.set(key("rally.shots"), Value::Count(self.0));
        }
    }
}

rallytide_plugin_kit::export_plugin!(Rally);
