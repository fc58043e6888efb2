//! A guest that behaves: says how the count of the guest that misbehaves is.

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Readings, Value, key};

struct Follows(String);

impl Plugin for Follows {
    fn manifest() -> Manifest {
        Manifest::new("follows", "0.1.0", "Follows a count.")
            .provides(&["follows"])
            .reads(&["hostile.count"])
    }

    fn start(opening: &Opening) -> Result<Self, String> {
        let upstream = opening.upstream.all().count();
        Ok(Self(format!("{upstream} at the start")))
    }

    fn step(&mut self, moment: &Moment) {
        let changed = moment.upstream.changed().count();
        let gone = moment.upstream.gone().len();
        self.0 = format!("{changed} changed, {gone} gone");
    }

    fn readings(&self, readings: &mut Readings) {
        readings.set(key("follows"), Value::Text(self.0.clone()));
    }
}

rallytide_plugin_kit::export_plugin!(Follows);
