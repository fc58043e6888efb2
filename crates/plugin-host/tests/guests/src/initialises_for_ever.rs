//! A guest whose start function never returns.

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Readings};

#[unsafe(export_name = "_initialize")]
extern "C" fn initialise() {
    loop {
        std::hint::black_box(());
    }
}

struct Late;

impl Plugin for Late {
    fn manifest() -> Manifest {
        Manifest::new("late", "0.1.0", "Never gets that far.").provides(&["late"])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        Ok(Self)
    }

    fn step(&mut self, _: &Moment) {}

    fn readings(&self, _: &mut Readings) {}
}

rallytide_plugin_kit::export_plugin!(Late);
