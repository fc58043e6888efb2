//! A guest that behaves: is called for notes and the ends of rallies, and says how
//! often it was called and what the score was at its last call.

use rallytide_plugin_kit::{Manifest, Moment, Opening, PlayKind, Plugin, Readings, Value, key};

struct Rests {
    calls: u32,
    call: String,
}

impl Plugin for Rests {
    fn manifest() -> Manifest {
        Manifest::new("rests", "0.1.0", "Waits for notes and the ends of rallies.")
            .provides(&["rests.calls", "rests.score"])
            .reads(&["hostile.count"])
            .called_for(&[PlayKind::RallyEnd, PlayKind::Note])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        Ok(Self {
            calls: 0,
            call: String::new(),
        })
    }

    fn step(&mut self, moment: &Moment) {
        self.calls += 1;
        self.call = moment.score.call.clone().unwrap_or_default();
    }

    fn readings(&self, readings: &mut Readings) {
        if self.calls > 0 {
            readings.set(key("rests.calls"), Value::Count(self.calls));
            readings.set(key("rests.score"), Value::Text(self.call.clone()));
        }
    }
}

rallytide_plugin_kit::export_plugin!(Rests);
