//! Publishes twice what the plugin `tally` counts: it cannot do without it.

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Readings, Upstream, Value, key};

struct TallyTwice(Option<u32>);

fn entries(upstream: &Upstream) -> Option<u32> {
    match upstream.of_match("tally.entries")?.value {
        Value::Count(entries) => Some(entries),
        _ => None,
    }
}

impl Plugin for TallyTwice {
    fn manifest() -> Manifest {
        Manifest::new("tally-twice", "1.0.0", "Counts entries twice.")
            .provides(&["tally_twice.entries"])
            .reads(&["tally.entries"])
    }

    fn start(opening: &Opening) -> Result<Self, String> {
        Ok(Self(entries(&opening.upstream)))
    }

    fn step(&mut self, moment: &Moment) {
        self.0 = entries(&moment.upstream);
    }

    fn readings(&self, readings: &mut Readings) {
        if let Some(entries) = self.0 {
            readings.set(key("tally_twice.entries"), Value::Count(entries * 2));
        }
    }
}

rallytide_plugin_kit::export_plugin!(TallyTwice);
