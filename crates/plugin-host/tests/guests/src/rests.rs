//! A guest that behaves: is called for notes and the ends of rallies, and says how
//! often it was called and what the score was at its last call.

use rallytide_plugin_kit::{Manifest, Moment, Opening, PlayKind, Plugin, Publisher, Value, key};

struct Rests {
    calls: u32,
}

impl Plugin for Rests {
    fn manifest() -> Manifest {
        Manifest::new("rests", "0.1.0", "Waits for notes and the ends of rallies.")
            .provides(&["rests.calls", "rests.score"])
            .reads(&["hostile.count"])
            .called_for(&[PlayKind::RallyEnd, PlayKind::Note])
    }

    fn start(_: &Opening, _: &mut Publisher) -> Result<Self, String> {
        Ok(Self { calls: 0 })
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        self.calls += 1;
        publish.set(key("rests.calls"), Value::Count(self.calls));
        let call = moment.score.call.clone().unwrap_or_default();
        publish.set(key("rests.score"), Value::Text(call));
    }
}

rallytide_plugin_kit::export_plugin!(Rests);
