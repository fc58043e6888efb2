//! A guest that does the wrong thing its setting names, at the entry that its
//! other setting counts to; until then it counts entries.

use std::hint::black_box;

use rallytide_plugin_kit::{
    Key, Lean, Manifest, Moment, Opening, Plugin, Publisher, Reading, Reason, SettingType,
    SettingValue, Severity, Share, Value, key, log,
};

const COUNT: &str = "hostile.count";

struct Misbehaves {
    behaviour: String,
    at: u32,
    entries: u32,
}

impl Plugin for Misbehaves {
    fn manifest() -> Manifest {
        Manifest::new("hostile", "0.1.0", "Does what it must not.")
            .provides(&[COUNT, "hostile.other"])
            .setting(
                "behaviour",
                "What it does.",
                SettingType::Text((40, String::new())),
            )
            .setting(
                "at",
                "At which entry; 0: as it starts.",
                SettingType::Whole((0, 9999, 3)),
            )
    }

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let mut hostile = Self {
            behaviour: String::new(),
            at: 0,
            entries: 0,
        };
        for setting in &opening.settings {
            match &setting.value {
                SettingValue::Text(text) => hostile.behaviour.clone_from(text),
                SettingValue::Whole(at) => hostile.at = at.unsigned_abs(),
                _ => return Err("a setting of another type".into()),
            }
        }
        publish.set(key(COUNT), Value::Count(0));
        if hostile.at == 0 {
            if hostile.behaviour == "refuse" {
                return Err("no such\nbehaviour".into());
            }
            misbehave(&hostile.behaviour, publish);
        }
        Ok(hostile)
    }

    fn step(&mut self, _: &Moment, publish: &mut Publisher) {
        self.entries += 1;
        publish.set(key(COUNT), Value::Count(self.entries));
        if self.behaviour == "add" {
            for slot in 0..100 {
                let slot = format!("{} {slot}", self.entries);
                publish.set(key("hostile.other").slot(&slot), Value::Count(1));
            }
        } else if self.entries == self.at {
            misbehave(&self.behaviour, publish);
        }
    }
}

fn misbehave(behaviour: &str, publish: &mut Publisher) {
    match behaviour {
        "" => {}
        "loop" => loop {
            black_box(());
        },
        "recurse" => {
            black_box(recurse(1));
        }
        "recurse_with_large_frames" => {
            black_box(recurse_with_large_frames(1));
        }
        "trap" => core::arch::wasm32::unreachable(),
        "reach_outside" => {
            // SAFETY: none; that is the point.
            unsafe { black_box(core::ptr::read_volatile(0xffff_fff0_usize as *const u8)) };
        }
        "panic" => panic!("lost {} balls", black_box(3)),
        "allocate_for_ever" => {
            let mut kept = Vec::new();
            loop {
                kept.push(Vec::<u8>::with_capacity(64 << 10));
                black_box(&kept);
            }
        }
        "allocate_at_once" => {
            black_box(vec![1_u8; 1 << 30]);
        }
        "gigantic_text" => publish.set(key(COUNT), Value::Text("x".repeat(8 << 20))),
        "long_text" => publish.set(key("hostile.other"), Value::Text("x".repeat(2000))),
        "a_million_readings" => {
            for slot in 0..1_000_000_u32 {
                publish.set(key(COUNT).slot(&slot.to_string()), Value::Count(slot));
            }
        }
        "a_thousand_readings" => {
            for slot in 0..1_000_u32 {
                publish.set(key(COUNT).slot(&slot.to_string()), Value::Count(slot));
            }
        }
        "alias" => alias(publish),
        "not_utf8" => {
            // SAFETY: none; that is the point.
            let text = unsafe { String::from_utf8_unchecked(vec![0xff, 0xfe]) };
            publish.set(key("hostile.other"), Value::Text(text));
        }
        "log_for_ever" => loop {
            log(Severity::Info, "still here");
        },
        "log_large_lines" => {
            let line = "x".repeat(200 << 10);
            loop {
                log(Severity::Debug, &line);
            }
        }
        "undeclared" => publish.set(key("hostile.secret"), Value::Count(1)),
        "foreign" => publish.set(key("counts.entries"), Value::Count(1)),
        "take_foreign_back" => publish.gone(key("counts.entries")),
        "not_a_number" => publish.set(key("hostile.other"), Value::Chance(f64::NAN)),
        "strength" => publish.set(
            key("hostile.other"),
            Value::Lean(Lean {
                toward: None,
                strength: 1.5,
            }),
        ),
        "share" => publish.set(
            key("hostile.other"),
            Value::Share(Share { part: 2, whole: 1 }),
        ),
        "player" => publish.set(
            Key {
                player: Some(7),
                ..key("hostile.other")
            },
            Value::Count(1),
        ),
        "change_type" => publish.set(key(COUNT), Value::Flag(true)),
        "unknown_entry" => publish.explain(
            key("hostile.other"),
            Value::Count(1),
            vec![Reason {
                code: "made_up".into(),
                team: None,
                entry: 4_000_000,
                inferred: false,
            }],
            Vec::new(),
        ),
        other => panic!("unknown behaviour `{other}`"),
    }
}

#[allow(unconditional_recursion)]
#[inline(never)]
fn recurse(depth: u64) -> u64 {
    black_box(recurse(black_box(depth + 1))) + depth
}

#[allow(unconditional_recursion)]
#[inline(never)]
fn recurse_with_large_frames(depth: u64) -> u64 {
    let frame = black_box([depth; 2048]);
    black_box(recurse_with_large_frames(depth + 1)) + frame[depth as usize % 2048]
}

/// A thousand readings whose texts all lie at the same place: little memory
/// here, a great deal for whoever copies them one by one.
fn alias(publish: &mut Publisher) {
    let text = "x".repeat(256 << 10).leak();
    for slot in 0..200_u32 {
        // SAFETY: none; that is the point. The answer's clean-up never runs.
        let text = unsafe { String::from_raw_parts(text.as_mut_ptr(), text.len(), text.len()) };
        let reading = Reading {
            key: key("hostile.other").slot(&slot.to_string()),
            value: Value::Text(text),
            why: Vec::new(),
            flags: Vec::new(),
        };
        publish.explain(reading.key, reading.value, reading.why, reading.flags);
    }
}

rallytide_plugin_kit::export_plugin!(Misbehaves);
