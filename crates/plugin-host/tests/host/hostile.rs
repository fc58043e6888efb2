//! Guests that do what they must not, one behaviour each.
//!
//! In every case: the fault is reported by kind and place, the guest's readings
//! are withdrawn at that entry, and what the other guests say of the same chart
//! is byte for byte what they say without it.

use rallytide_plugin_host::{PluginFaultKind, PluginSet, PluginState, Settings, SwitchedOff};

use crate::support::{Played, behaviour, benign, chart, load, play};

fn play_with(behaviour_name: &str, at: i32) -> Played {
    let mut plugins = benign();
    plugins.push(load("misbehaves"));
    play(plugins, &behaviour(behaviour_name, at), &chart(1))
}

/// The behaviour, at the third entry and as the match starts, is stopped as
/// this kind of fault, with these words in its message.
#[track_caller]
fn stopped(behaviour_name: &str, kind: PluginFaultKind, words: &str) {
    let alone = play(benign(), &Settings::new(), &chart(1));
    for at in [3, 0] {
        let played = play_with(behaviour_name, at);
        assert_eq!(
            played.without("hostile"),
            alone.readings,
            "the others say something else"
        );
        let fault = played.fault();
        assert_eq!(fault.kind, kind, "{fault}");
        assert!(fault.message.contains(words), "{fault}");
        assert!(!fault.message.contains('\n'), "{fault}");
        assert_eq!(fault.plugin, "hostile");
        let entry = fault.entry.as_ref().map(rallytide_chart::EntryId::as_str);
        let published = |place: usize| {
            let mut lines = played.readings[place].iter();
            lines.any(|line| line.contains(r#""plugin":"hostile""#))
        };
        if at == 0 {
            assert_eq!((entry, fault.seq.0), (None, 0));
        } else {
            assert_eq!((entry, fault.seq.0), (Some("r0-2"), 3));
            assert!(published(2), "it had readings before");
            let outcome = &played.outcomes[2];
            assert_eq!(outcome.faults, std::slice::from_ref(fault));
            assert!(
                outcome
                    .gone
                    .iter()
                    .any(|key| key.indicator == "hostile.count")
            );
        }
        let places = at as usize..played.readings.len();
        assert!(
            !places.into_iter().any(published),
            "a stopped plugin has readings"
        );
        let (plugin, why) = played.run.unavailable().next().unwrap();
        assert_eq!((plugin.as_str(), why), ("hostile", fault.to_string()));
    }
}

#[test]
fn a_guest_that_does_nothing_wrong_at_its_entry_is_not_stopped() {
    let played = play_with("", 3);
    assert!(played.run.faults().is_empty(), "{:?}", played.run.faults());
    assert_eq!(played.run.unavailable().count(), 0);
}

#[test]
fn a_fault_late_in_a_long_chart_is_the_same_at_once_as_entry_by_entry() {
    for at in [64, 65, 150] {
        let mut plugins = benign();
        plugins.extend([load("misbehaves"), load("follows")]);
        // `play` compares.
        let played = play(plugins, &behaviour("trap", at), &chart(20));
        assert_eq!(played.fault().seq.0, u64::from(at.unsigned_abs()));
        let follows = |place: usize| {
            let mut lines = played.readings[place].iter();
            lines.any(|line| line.contains(r#""text":"0 changed, 1 gone""#))
        };
        let told: Vec<usize> = (0..played.readings.len())
            .filter(|at| follows(*at))
            .collect();
        assert_eq!(told.first(), Some(&(at as usize)));
    }
}

#[test]
fn a_guest_that_loops_for_ever_is_stopped() {
    stopped("loop", PluginFaultKind::OutOfFuel, "units of fuel");
}

#[test]
fn a_guest_that_recurses_for_ever_is_stopped() {
    stopped("recurse", PluginFaultKind::StackOverflow, "too deep");
}

#[test]
fn a_guest_that_recurses_beyond_its_own_stack_is_stopped() {
    stopped(
        "recurse_with_large_frames",
        PluginFaultKind::Trapped,
        "recursion",
    );
}

#[test]
fn a_guest_that_traps_is_stopped() {
    stopped("trap", PluginFaultKind::Trapped, "unreachable");
}

#[test]
fn a_guest_that_reaches_outside_its_memory_is_stopped() {
    stopped(
        "reach_outside",
        PluginFaultKind::Trapped,
        "outside its memory",
    );
}

#[test]
fn a_guest_that_panics_is_stopped_and_its_words_are_reported() {
    stopped("panic", PluginFaultKind::Panicked, "lost 3 balls");
    stopped("panic", PluginFaultKind::Panicked, "src/misbehaves.rs:");
}

#[test]
fn a_guest_that_allocates_for_ever_is_stopped() {
    stopped(
        "allocate_for_ever",
        PluginFaultKind::OutOfMemory,
        "bytes of memory",
    );
    stopped(
        "allocate_at_once",
        PluginFaultKind::OutOfMemory,
        "bytes of memory",
    );
}

#[test]
fn a_guest_that_publishes_a_gigantic_text_is_stopped() {
    stopped("gigantic_text", PluginFaultKind::TooMuchCopied, "copied");
    stopped("long_text", PluginFaultKind::TextTooLong, "2000 bytes");
}

#[test]
fn a_guest_that_publishes_a_million_readings_is_stopped() {
    stopped(
        "a_million_readings",
        PluginFaultKind::OutOfFuel,
        "units of fuel",
    );
    stopped(
        "a_thousand_readings",
        PluginFaultKind::TooMany,
        "changes in one call",
    );
}

#[test]
fn a_guest_that_adds_readings_at_every_entry_is_stopped_at_the_total() {
    let mut plugins = benign();
    plugins.push(load("misbehaves"));
    let played = play(plugins, &behaviour("add", 1), &chart(2));
    let fault = played.fault();
    assert_eq!(fault.kind, PluginFaultKind::TooMany, "{fault}");
    // 100 more at each entry, beside its count: 501 after the fifth.
    assert_eq!(fault.seq.0, 6, "{fault}");
    assert!(fault.message.contains("601 readings"), "{fault}");
}

#[test]
fn a_guest_whose_texts_all_lie_at_one_place_is_stopped() {
    stopped("alias", PluginFaultKind::TooMuchCopied, "copied");
}

#[test]
fn a_guest_whose_text_is_no_utf8_is_stopped() {
    stopped("not_utf8", PluginFaultKind::BrokenAnswer, "utf-8");
}

#[test]
fn a_guest_that_logs_for_ever_is_stopped() {
    stopped("log_for_ever", PluginFaultKind::TooMuchLogged, "log");
    stopped("log_large_lines", PluginFaultKind::TooMuchLogged, "log");
}

#[test]
fn a_guest_that_publishes_what_it_did_not_declare_is_stopped() {
    stopped(
        "undeclared",
        PluginFaultKind::UndeclaredIndicator,
        "`hostile.secret`",
    );
}

#[test]
fn a_guest_that_publishes_for_another_plugin_is_stopped() {
    stopped(
        "foreign",
        PluginFaultKind::ForeignIndicator,
        "the plugin `counts`",
    );
    stopped(
        "take_foreign_back",
        PluginFaultKind::ForeignIndicator,
        "`counts.entries`",
    );
}

#[test]
fn a_guest_that_publishes_impossible_values_is_stopped() {
    stopped(
        "not_a_number",
        PluginFaultKind::ImpossibleValue,
        "a chance of NaN",
    );
    stopped(
        "strength",
        PluginFaultKind::ImpossibleValue,
        "a strength of 1.5",
    );
    stopped(
        "share",
        PluginFaultKind::ImpossibleValue,
        "a share of 2 of 1",
    );
    stopped("player", PluginFaultKind::ImpossibleValue, "player 7");
    stopped(
        "change_type",
        PluginFaultKind::ChangedType,
        "as a flag where it had been a count",
    );
}

#[test]
fn a_guest_that_gives_an_entry_as_a_reason_that_is_not_there_is_stopped() {
    stopped(
        "unknown_entry",
        PluginFaultKind::UnknownEntry,
        "entry 4000000",
    );
}

#[test]
fn a_guest_that_refuses_its_settings_is_stopped_with_its_sentence() {
    let played = play_with("refuse", 0);
    let fault = played.fault();
    assert_eq!(fault.kind, PluginFaultKind::SettingsRefused);
    assert!(
        fault.message.contains("no such\u{fffd}behaviour"),
        "{fault}"
    );
}

#[test]
fn who_reads_from_a_stopped_guest_goes_on_and_is_told_that_its_readings_are_gone() {
    let plugins = vec![load("misbehaves"), load("follows")];
    let played = play(plugins, &behaviour("trap", 3), &chart(1));
    let said: Vec<String> = played
        .readings
        .iter()
        .map(|lines| lines.iter().find(|line| line.contains("follows")).unwrap())
        .map(|line| {
            line.split(r#""text":""#)
                .nth(1)
                .unwrap()
                .split('"')
                .next()
                .unwrap()
                .into()
        })
        .collect();
    assert_eq!(
        said[..5],
        [
            "1 at the start",
            "1 changed, 0 gone",
            "1 changed, 0 gone",
            "0 changed, 1 gone",
            "0 changed, 0 gone"
        ]
    );
    assert_eq!(played.run.unavailable().count(), 1, "only the one at fault");
}

#[test]
fn health_shows_the_fault_and_the_log_of_a_stopped_guest() {
    let played = play_with("panic", 3);
    let health = played.run.health();
    let hostile = health.iter().find(|it| it.plugin == "hostile").unwrap();
    assert_eq!(
        hostile.state,
        PluginState::Stopped {
            fault: played.fault().clone()
        }
    );
    assert_eq!(hostile.calls, 1 + 3, "it is not called again");
    assert_eq!(hostile.readings, 0);
    let line = hostile.log.last().expect("the panic is in the log");
    assert_eq!(line.seq.0, 3);
    assert!(line.text.contains("lost 3 balls"), "{}", line.text);
}

#[test]
fn a_fresh_run_gives_a_stopped_guest_another_chance() {
    let mut plugins = benign();
    plugins.push(load("misbehaves"));
    let settings = behaviour("trap", 14);
    let plugin_set = rallytide_plugin_host::PluginSet::assemble(plugins, &settings).unwrap();
    let longer = crate::support::play_plugin_set(&plugin_set, &chart(2));
    assert_eq!(longer.fault().seq.0, 14);
    let shorter = crate::support::play_plugin_set(&plugin_set, &chart(1));
    assert!(shorter.run.faults().is_empty());
}

#[test]
fn a_plugin_that_is_switched_off_is_not_called_and_who_reads_from_it_goes_on_without() {
    let plugins = vec![load("counts"), load("echoes")];
    let plugin_set = PluginSet::assemble(plugins, &Settings::new()).unwrap();
    let off = SwitchedOff::from([("counts".into(), "a person said so".to_owned())]);
    let chart = chart(1);
    let (start, steps) = crate::support::steps(&chart);
    let mut run = plugin_set.start_without(chart.header(), &start, &off);
    for step in &steps {
        run.step(&step.entry, &step.rally, &step.score);
    }
    let health = run.health();
    assert_eq!(health[0].calls, 0);
    let why = "a person said so".to_owned();
    assert_eq!(health[0].state, PluginState::SwitchedOff { why });
    assert_eq!(health[1].state, PluginState::Running);
    let unavailable: Vec<_> = run.unavailable().collect();
    assert_eq!(unavailable, [("counts".into(), "a person said so".into())]);
    let said = crate::support::lines(&run);
    assert!(
        said.iter()
            .all(|line| line.contains(r#""plugin":"echoes""#))
    );
    assert!(said.iter().any(|line| line.contains(r#""opening: ""#)));
}
