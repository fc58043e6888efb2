//! Behaves until the third entry of the match, and then does what the name it
//! is built under says: never returns, takes all memory, or publishes what
//! cannot be.

use std::hint::black_box;

use rallytide_plugin_kit::{Manifest, Moment, Opening, Plugin, Publisher, Value, key};

const NAME: &str = env!("CARGO_CRATE_NAME");

struct Hostile(u32);

fn indicator() -> String {
    format!("{NAME}.entries")
}

impl Plugin for Hostile {
    fn manifest() -> Manifest {
        Manifest::new(NAME, "1.0.0", "Means no good.").provides(&[&indicator()])
    }

    fn start(_: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        publish.set(key(&indicator()), Value::Count(0));
        Ok(Self(0))
    }

    fn step(&mut self, _: &Moment, publish: &mut Publisher) {
        self.0 += 1;
        publish.set(key(&indicator()), Value::Count(self.0));
        if self.0 == 3 {
            misbehave(publish);
        }
    }
}

fn misbehave(publish: &mut Publisher) {
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
        _ => publish.set(key(&indicator()).slot("sure"), Value::Chance(f64::NAN)),
    }
}

rallytide_plugin_kit::export_plugin!(Hostile);
