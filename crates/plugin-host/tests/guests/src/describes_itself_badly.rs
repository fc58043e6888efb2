//! A guest whose manifest breaks a rule.

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Publisher};

struct Nameless;

impl Plugin for Nameless {
    fn manifest() -> Manifest {
        Manifest::new("No Name", "0.1.0", "Has a bad id.").provides(&["nameless"])
    }

    fn start(_: &Opening, _: &mut Publisher) -> Result<Self, String> {
        Ok(Self)
    }

    fn step(&mut self, _: &Moment, _: &mut Publisher) {}
}

rallytide_plugin_kit::export_plugin!(Nameless);
