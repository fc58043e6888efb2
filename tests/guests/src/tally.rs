//! Counts the entries of the match, as the name it is built under says: by one,
//! by ten (a later version), or until it breaks at the third (a worse one).

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Readings, Value, key};

const ENTRIES: &str = "tally.entries";

/// The name of this build, the version it claims, what an entry counts.
const BUILD: (&str, &str, u32) = match env!("CARGO_CRATE_NAME").as_bytes() {
    b"tally_one" => ("tally_one", "1.0.0", 1),
    b"tally_ten" => ("tally_ten", "2.0.0", 10),
    _ => ("tally_broken", "3.0.0", 1),
};

struct Tally(u32);

impl Plugin for Tally {
    fn manifest() -> Manifest {
        Manifest::new("tally", BUILD.1, "Counts entries.").provides(&[ENTRIES])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        Ok(Self(0))
    }

    fn step(&mut self, _: &Moment) {
        self.0 += 1;
        assert!(BUILD.0 != "tally_broken" || self.0 < 3, "three is too many");
    }

    fn readings(&self, readings: &mut Readings) {
        readings.set(key(ENTRIES), Value::Count(self.0 * BUILD.2));
    }
}

rallytide_plugin_kit::export_plugin!(Tally);
