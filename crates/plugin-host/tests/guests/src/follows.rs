//! A guest that behaves: says how the count of the guest that misbehaves is.

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Publisher, Value, key};

struct Follows;

impl Plugin for Follows {
    fn manifest() -> Manifest {
        Manifest::new("follows", "0.1.0", "Follows a count.")
            .provides(&["follows"])
            .reads(&["hostile.count"])
    }

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let text = format!("{} at the start", opening.readings.len());
        publish.set(key("follows"), Value::Text(text));
        Ok(Self)
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        let (changed, gone) = (moment.changed.len(), moment.gone.len());
        let text = format!("{changed} changed, {gone} gone");
        publish.set(key("follows"), Value::Text(text));
    }
}

rallytide_plugin_kit::export_plugin!(Follows);
