//! A guest whose names the tests write over in its built file, so that one
//! build serves every plugin of a test about order. The names are long so that
//! they lie in the file as they stand here.

use std::hint::black_box;

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Publisher, Value, key};

static ID: &str = "the-test-piece-that-is-called-x";
static PROVIDES: &str = "an.indicator.given.by.the.piece.x";
static READS: [&str; 2] = [
    "no.indicator.that.the.piece.needs",
    "no.indicator.that.it.needs.either",
];

struct Piece;

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

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let upstream = opening.readings.len() as u32;
        publish.set(key(black_box(PROVIDES)), Value::Count(upstream));
        Ok(Self)
    }

    fn step(&mut self, _: &Moment, _: &mut Publisher) {}
}

rallytide_plugin_kit::export_plugin!(Piece);
