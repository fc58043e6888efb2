//! A guest whose names the tests write over in its built file, so that one
//! build serves every plugin of a test about order. The names are long so that
//! they lie in the file as they stand here.

use std::hint::black_box;

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Readings, Value, key};

static ID: &str = "the-test-piece-that-is-called-x";
static PROVIDES: &str = "an.indicator.given.by.the.piece.x";
static READS: [&str; 2] = [
    "no.indicator.that.the.piece.needs",
    "no.indicator.that.it.needs.either",
];

struct Piece {
    upstream: u32,
}

impl Plugin for Piece {
    fn manifest() -> Manifest {
        let mut manifest =
            Manifest::new(black_box(ID), "0.1.0", "A piece.").provides(&[black_box(PROVIDES)]);
        for name in black_box(READS) {
            if !name.starts_with("no.") {
                manifest = manifest.reads(&[name]);
            }
        }
        manifest
    }

    fn start(opening: &Opening) -> Result<Self, String> {
        let upstream = opening.upstream.all().count() as u32;
        Ok(Self { upstream })
    }

    fn step(&mut self, _: &Moment) {}

    fn readings(&self, readings: &mut Readings) {
        readings.set(key(black_box(PROVIDES)), Value::Count(self.upstream));
    }
}

rallytide_plugin_kit::export_plugin!(Piece);
