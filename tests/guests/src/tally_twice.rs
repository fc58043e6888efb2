//! Publishes twice what the plugin `tally` counts: it cannot do without it.

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Publisher, Reading, Value, key};

const TWICE: &str = "tally_twice.entries";

struct TallyTwice;

fn publish_twice(readings: &[Reading], publish: &mut Publisher) {
    for reading in readings {
        if let Value::Count(entries) = reading.value {
            publish.set(key(TWICE), Value::Count(entries * 2));
        }
    }
}

impl Plugin for TallyTwice {
    fn manifest() -> Manifest {
        Manifest::new("tally-twice", "1.0.0", "Counts entries twice.")
            .provides(&[TWICE])
            .reads(&["tally.entries"])
    }

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        publish_twice(&opening.readings, publish);
        Ok(Self)
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        publish_twice(&moment.changed, publish);
        for gone in &moment.gone {
            if gone.indicator == "tally.entries" {
                publish.gone(key(TWICE));
            }
        }
    }
}

rallytide_plugin_kit::export_plugin!(TallyTwice);
