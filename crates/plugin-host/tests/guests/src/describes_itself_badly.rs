//! A guest whose manifest breaks a rule.

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Readings};

struct Nameless;

impl Plugin for Nameless {
    fn manifest() -> Manifest {
        Manifest::new("No Name", "0.1.0", "Has a bad id.").provides(&["nameless"])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        Ok(Self)
    }

    fn step(&mut self, _: &Moment) {}

    fn readings(&self, _: &mut Readings) {}
}

rallytide_plugin_kit::export_plugin!(Nameless);
