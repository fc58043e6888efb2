//! A guest that does the wrong thing its setting names, at the entry that its
//! other setting counts to; until then it counts entries.

use std::cell::{Cell, RefCell};
use std::hint::black_box;

use rallytide_plugin_kit::interface::exports::rallytide::plugin::guest::Guest;
use rallytide_plugin_kit::interface::rallytide::plugin::types;
use rallytide_plugin_kit::{
    Lean, Manifest, Moment, Opening, Plugin, Readings, Reason, Running, SettingType, SettingValue,
    Severity, Share, Value, key, log, note_panics,
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

    fn start(opening: &Opening) -> Result<Self, String> {
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
        if hostile.at == 0 && hostile.behaviour == "refuse" {
            return Err("no such\nbehaviour".into());
        }
        Ok(hostile)
    }

    fn step(&mut self, _: &Moment) {
        self.entries += 1;
    }

    fn readings(&self, readings: &mut Readings) {
        readings.set(key(COUNT), Value::Count(self.entries));
        if self.behaviour == "add" {
            for entry in 1..=self.entries {
                for slot in 0..100 {
                    let slot = format!("{entry} {slot}");
                    readings.set(key("hostile.other").slot(slot), Value::Count(1));
                }
            }
        } else if self.behaviour == "dawdle" {
            for step in 0..200_000_u32 {
                black_box(step);
            }
        } else if self.entries == self.at {
            misbehave(&self.behaviour, readings);
        }
    }
}

fn misbehave(behaviour: &str, readings: &mut Readings) {
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
        "gigantic_text" => readings.set(key(COUNT), Value::Text("x".repeat(1 << 20))),
        "long_text" => readings.set(key("hostile.other"), Value::Text("x".repeat(2000))),
        "a_million_readings" => {
            for slot in 0..1_000_000_u32 {
                readings.set(key(COUNT).slot(slot.to_string()), Value::Count(slot));
            }
        }
        "a_thousand_readings" => {
            for slot in 0..1_000_u32 {
                readings.set(key(COUNT).slot(slot.to_string()), Value::Count(slot));
            }
        }
        "not_utf8" => {
            // SAFETY: none; that is the point.
            let text = unsafe { String::from_utf8_unchecked(vec![0xff, 0xfe]) };
            readings.set(key("hostile.other"), Value::Text(text));
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
        "undeclared" => readings.set(key("hostile.secret"), Value::Count(1)),
        "foreign" => readings.set(key("counts.entries"), Value::Count(1)),
        "alias" | "take_foreign_back" => RAW.set(Some(behaviour.to_owned())),
        "not_a_number" => readings.set(key("hostile.other"), Value::Chance(f64::NAN)),
        "strength" => readings.set(
            key("hostile.other"),
            Value::Lean(Lean {
                toward: None,
                strength: 1.5,
            }),
        ),
        "share" => readings.set(
            key("hostile.other"),
            Value::Share(Share { part: 2, whole: 1 }),
        ),
        "player" => readings.set(
            key("hostile.other").player(7),
            Value::Count(1),
        ),
        "change_type" => readings.set(key(COUNT), Value::Flag(true)),
        "unknown_entry" => readings.explain(
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

std::thread_local! {
    static RUNNING: RefCell<Running<Misbehaves>> = const { RefCell::new(Running::idle()) };
    /// What the kit does not do for a plugin.
    static RAW: Cell<Option<String>> = const { Cell::new(None) };
}

struct Exported;

impl Guest for Exported {
    fn describe() -> Manifest {
        note_panics();
        Running::<Misbehaves>::describe()
    }

    fn start(opening: types::Opening) -> Result<Vec<types::Change>, String> {
        note_panics();
        let changes = RUNNING.with_borrow_mut(|running| running.start(opening))?;
        Ok(with_raw(changes))
    }

    fn step(moment: types::Moment) -> Vec<types::Change> {
        with_raw(RUNNING.with_borrow_mut(|running| running.step(moment)))
    }
}

fn with_raw(mut changes: Vec<types::Change>) -> Vec<types::Change> {
    match RAW.take().as_deref() {
        Some("alias") => alias(&mut changes),
        Some(_) => changes.push(types::Change::Gone(key("counts.entries").into())),
        None => {}
    }
    changes
}

/// A thousand readings whose texts all lie at the same place: little memory
/// here, a great deal for whoever copies them one by one.
fn alias(changes: &mut Vec<types::Change>) {
    let text = "x".repeat(256 << 10).leak();
    for slot in 0..200_u32 {
        // SAFETY: none; that is the point. The answer's clean-up never runs.
        let text = unsafe { String::from_raw_parts(text.as_mut_ptr(), text.len(), text.len()) };
        changes.push(types::Change::Set(types::Reading {
            key: key("hostile.other").slot(slot.to_string()).into(),
            value: Value::Text(text),
            remarks: None,
        }));
    }
}

rallytide_plugin_kit::interface::export!(Exported with_types_in rallytide_plugin_kit::interface);
