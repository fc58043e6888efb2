//! The clock behind the fuel. The loaders are the tests' own, because they
//! are given other times.

use std::time::Duration;

use rallytide_plugin_host::{
    LoaderConfig, PluginCode, PluginFaultKind, PluginLoader, PluginSet, RefusedReason, Settings,
    TimeLimits,
};

use crate::support::{behaviour, chart, guest, load, play, play_entry_by_entry};

fn loader() -> PluginLoader {
    PluginLoader::new(&LoaderConfig::default()).unwrap()
}

fn loaded(loader: &PluginLoader, name: &str) -> PluginCode {
    loader.load(&format!("{name}.wasm"), &guest(name)).unwrap()
}

#[test]
fn a_call_that_outlasts_its_time_is_ended_as_a_fault_of_its_own_kind() {
    let loader = loader();
    let slow = loaded(&loader, "misbehaves");
    loader.limit_time(TimeLimits {
        call: Duration::ZERO,
        ..TimeLimits::default()
    });
    let alone = play(vec![load("counts")], &Settings::new(), &chart(1));
    let played = play(vec![slow, load("counts")], &Settings::new(), &chart(1));
    let fault = played.fault();
    assert_eq!(fault.kind, PluginFaultKind::OutOfTime, "{fault}");
    assert!(fault.message.contains("longer over one call"), "{fault}");
    assert_eq!(
        played.readings, alone.readings,
        "a plugin of another loader says something else"
    );
}

#[test]
fn a_plugin_whose_calls_together_outlast_their_time_is_stopped() {
    let loader = loader();
    let busy = loaded(&loader, "counts");
    loader.limit_time(TimeLimits {
        run: Duration::ZERO,
        entry: Duration::ZERO,
        ..TimeLimits::default()
    });
    let played = play(vec![busy], &Settings::new(), &chart(1));
    let fault = played.fault();
    assert_eq!(fault.kind, PluginFaultKind::OutOfTime, "{fault}");
    assert!(
        fault.message.contains("so many may take together"),
        "{fault}"
    );
    assert_eq!(played.readings.last().unwrap().len(), 0);
}

#[test]
fn a_long_chart_gives_a_plugin_more_time() {
    let loader = loader();
    let quick = loaded(&loader, "counts");
    loader.limit_time(TimeLimits {
        run: Duration::ZERO,
        entry: Duration::from_mins(1),
        ..TimeLimits::default()
    });
    let played = play(vec![quick], &Settings::new(), &chart(1));
    assert_ne!(played.readings.last().unwrap().len(), 0);
}

/// A plugin that takes its time at every shot, under the limit of each call, is
/// stopped after a few shots and not when the match is over.
#[test]
fn a_plugin_that_is_slow_at_every_entry_is_soon_stopped() {
    let loader = loader();
    let slow = loaded(&loader, "misbehaves");
    loader.limit_time(TimeLimits {
        run: Duration::from_micros(100),
        entry: Duration::from_micros(1),
        ..TimeLimits::default()
    });
    let plugin_set = PluginSet::assemble(vec![slow], &behaviour("dawdle", 1)).unwrap();
    let played = play_entry_by_entry(&plugin_set, &chart(9));
    let fault = played.fault();
    assert_eq!(fault.kind, PluginFaultKind::OutOfTime, "{fault}");
    assert!(fault.seq.0 < 40, "{fault}");
}

#[test]
fn a_file_whose_description_outlasts_its_time_is_refused() {
    let loader = loader();
    loader.limit_time(TimeLimits {
        call: Duration::ZERO,
        ..TimeLimits::default()
    });
    let refused = loader.load("slow.wasm", &guest("counts")).unwrap_err();
    assert!(
        matches!(
            refused.reason,
            RefusedReason::Stopped {
                kind: PluginFaultKind::OutOfTime,
                ..
            }
        ),
        "{refused}"
    );
}

/// The clock goes by itself: of many calls that use up their fuel, one is sooner
/// or later met by its tick.
#[test]
fn the_clock_ticks() {
    let loader = loader();
    let slow = loaded(&loader, "misbehaves");
    loader.limit_time(TimeLimits {
        call: TimeLimits::SHORTEST,
        run: Duration::MAX,
        ..TimeLimits::default()
    });
    let met = (0..20_000).any(|_| {
        let settings = behaviour("loop", 1);
        let plugin_set = PluginSet::assemble(vec![slow.clone()], &settings).unwrap();
        let played = play_entry_by_entry(&plugin_set, &chart(1));
        played.fault().kind == PluginFaultKind::OutOfTime
    });
    assert!(met, "the clock stands still");
}

#[test]
fn with_its_ordinary_times_the_clock_ends_nothing_that_fuel_ends() {
    let played = play(vec![load("misbehaves")], &behaviour("loop", 2), &chart(1));
    assert_eq!(played.fault().kind, PluginFaultKind::OutOfFuel);
}
