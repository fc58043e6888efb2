//! Behaves until the third entry of the match, and then does what the name it
//! is built under says: never returns, takes all memory, or publishes what
//! cannot be.

use std::hint::black_box;

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Readings, Value, key};

const NAME: &str = env!("CARGO_CRATE_NAME");

struct Hostile(u32);

fn indicator() -> String {
    format!("{NAME}.entries")
}

impl Plugin for Hostile {
    fn manifest() -> Manifest {
        Manifest::new(NAME, "1.0.0", "Means no good.").provides(&[&indicator()])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        Ok(Self(0))
    }

    fn step(&mut self, _: &Moment) {
        self.0 += 1;
    }

    fn readings(&self, readings: &mut Readings) {
        readings.set(key(indicator()), Value::Count(self.0));
        if self.0 == 3 {
            misbehave(readings);
        }
    }
}

fn misbehave(readings: &mut Readings) {
    match NAME {
        "endless" => loop {
            black_box(());
        },
        "hungry" => {
            let mut kept = Vec::new();
            loop {
                kept.push(Vec::<u8>::with_capacity(64 << 10));
                black_box(&kept);
            }
        }
        _ => readings.set(key(indicator()).slot("sure"), Value::Chance(f64::NAN)),
    }
}

rallytide_plugin_kit::export_plugin!(Hostile);
