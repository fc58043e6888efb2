//! Guests that behave: what they are handed, what becomes of what they say.

use rallytide_chart::{Chart, Entry};
use rallytide_plugin_host::{PluginState, Settings, Severity};
use rallytide_readings::Value;

use crate::support::{behaviour, benign, chart, load, play};

fn find<'a>(lines: &'a [String], start: &str) -> &'a str {
    let found = lines.iter().find(|line| line.contains(start));
    found.unwrap_or_else(|| panic!("no reading with {start} among {lines:#?}"))
}

#[test]
fn readings_come_sorted_and_as_the_wire_has_them() {
    let played = play(vec![load("counts")], &Settings::new(), &chart(1));
    assert_eq!(
        played.readings[0],
        [
            r#"{"indicator":"counts.entries","team":null,"player":null,"slot":null,"value":{"type":"count","n":0},"why":[],"flags":[],"plugin":"counts","seq":0}"#,
            r#"{"indicator":"counts.shots","team":"a","player":null,"slot":null,"value":{"type":"share","part":0,"whole":0},"why":[],"flags":[],"plugin":"counts","seq":0}"#,
            r#"{"indicator":"counts.shots","team":"b","player":null,"slot":null,"value":{"type":"share","part":0,"whole":0},"why":[],"flags":[],"plugin":"counts","seq":0}"#,
        ]
    );
    assert_eq!(
        find(&played.readings[1], "counts.latest"),
        r#"{"indicator":"counts.latest","team":null,"player":null,"slot":null,"value":{"type":"text","text":"Stroke::Serve 1"},"why":[{"code":"struck","team":"b","entry":"r0-0","inferred":false}],"flags":["a","z"],"plugin":"counts","seq":1}"#
    );
}

#[test]
fn a_reading_keeps_the_position_of_the_entry_that_last_changed_its_value() {
    let played = play(vec![load("counts")], &Settings::new(), &chart(1));
    // Entries 3 (a shot) and 5 (a shot) change the share of team a, 4 does not.
    let share = |place: usize| find(&played.readings[place], r#""counts.shots","team":"a""#);
    assert!(share(3).ends_with(r#""seq":3}"#), "{}", share(3));
    assert!(share(4).ends_with(r#""seq":3}"#), "{}", share(4));
    assert!(share(5).ends_with(r#""seq":5}"#), "{}", share(5));
}

#[test]
fn an_entry_brings_what_changed_by_it_and_what_is_gone_and_nothing_else() {
    let played = play(vec![load("counts")], &Settings::new(), &chart(1));
    for (place, outcome) in played.outcomes.iter().enumerate() {
        let mut current: Vec<String> = played.readings[place].clone();
        for key in &outcome.gone {
            let start = format!(r#"{{"indicator":"{}""#, key.indicator);
            current.retain(|line| !line.starts_with(&start));
        }
        for reading in &outcome.changed {
            let line = serde_json::to_string(reading).unwrap();
            assert!(
                !played.readings[place].contains(&line),
                "not changed: {line}"
            );
            let key = &line[..line.find(r#","value""#).unwrap()];
            current.retain(|line| !line.starts_with(key));
            current.push(line);
        }
        current.sort();
        assert_eq!(
            current,
            played.readings[place + 1],
            "after entry {}",
            place + 1
        );
    }
    let gone: usize = played
        .outcomes
        .iter()
        .map(|outcome| outcome.gone.len())
        .sum();
    assert_eq!(
        gone, 3,
        "before the cue, the depth and the note a shot was the latest"
    );
}

#[test]
fn a_plugin_is_handed_what_changed_upstream_at_this_very_entry() {
    let played = play(benign(), &Settings::new(), &chart(1));
    let said = |place: usize, indicator: &str| {
        let line = find(&played.readings[place], indicator);
        let start = line.find(r#""text":""#).unwrap() + r#""text":""#.len();
        line[start..line[start..].find('"').unwrap() + start].to_owned()
    };
    assert_eq!(said(0, "echoes.opening"), "opening: counts.entries=0");
    assert_eq!(
        said(1, "echoes.changed"),
        "changed: counts.entries=1 counts.latest"
    );
    assert_eq!(said(4, "echoes.changed"), "changed: counts.entries=4");
    assert_eq!(said(4, "echoes.gone"), "gone: counts.latest");
    assert_eq!(said(9, "echoes.gone"), "gone: ");
}

#[test]
fn the_reading_of_an_indicator_about_the_match_is_found_by_its_name() {
    let played = play(vec![load("counts")], &Settings::new(), &chart(1));
    let reading = played.run.reading("counts.entries").unwrap();
    assert_eq!(reading.seq.0, 9);
    assert_eq!(
        played.run.reading("counts.shots"),
        None,
        "it is about a team"
    );
}

#[test]
fn entries_after_the_one_that_ends_the_match_change_nothing() {
    let mut chart = chart(1);
    let format = chart.header().format;
    for text in [
        r#"{"id":"end","at":"2026-05-02T10:30:00.000Z","kind":"retire","team":"b"}"#,
        r#"{"id":"late","at":"2026-05-02T10:31:00.000Z","kind":"note","text":"bye"}"#,
    ] {
        chart.push(rallytide_chart::Entry::from_text(text, &format).unwrap());
    }
    let played = play(benign(), &Settings::new(), &chart);
    let [.., ending, late] = played.outcomes.as_slice() else {
        panic!("two entries at least");
    };
    assert!(!ending.changed.is_empty());
    assert_eq!(*late, rallytide_plugin_host::StepOutcome::default());
}

#[test]
fn health_counts_calls_fuel_and_log_of_every_plugin() {
    let played = play(benign(), &Settings::new(), &chart(2));
    let health = played.run.health();
    let names: Vec<&str> = health.iter().map(|it| it.plugin.as_str()).collect();
    assert_eq!(names, ["counts", "echoes"]);
    for plugin in &health {
        assert_eq!(plugin.state, PluginState::Running);
        assert_eq!(plugin.calls, 1 + 18);
        assert!(plugin.most_fuel > 0 && plugin.most_fuel < plugin.fuel);
        assert_eq!(plugin.sha256.len(), 64);
    }
    let [line] = health[0].log.as_slice() else {
        panic!("one line: {:?}", health[0].log);
    };
    assert_eq!(
        (line.severity, line.text.as_str()),
        (Severity::Info, "counting")
    );
}

/// How often `rests` was called, and its last word on the score. What it reads
/// changes at each entry, until its source is stopped at entry `stopped_at`.
#[track_caller]
fn rested(stopped_at: i32, chart: &Chart) -> (String, String) {
    let plugins = vec![load("misbehaves"), load("rests")];
    let played = play(plugins, &behaviour("panic", stopped_at), chart);
    let said = |indicator: &str| match &played.run.reading(indicator).unwrap().value {
        Value::Count { n } => n.to_string(),
        Value::Text { text } => text.clone(),
        other => panic!("{other:?}"),
    };
    (said("rests.calls"), said("rests.score"))
}

#[test]
fn a_plugin_is_called_for_the_kinds_it_names_and_no_others() {
    // Once when its source goes; then for the note and the end of each rally.
    assert_eq!(rested(1, &chart(2)), ("5".into(), "2-0-2".into()));
}

#[test]
fn a_plugin_is_called_where_the_score_changes_whatever_kinds_it_names() {
    let mut fixed = chart(2);
    let format = fixed.header().format;
    let fix = r#"{"id":"fix","at":"2026-05-02T10:05:00.000Z","kind":"score_fix","points":{"a":7,"b":3},"serving":"b","server":1}"#;
    fixed.push(Entry::from_text(fix, &format).unwrap());
    assert_eq!(rested(1, &fixed), ("6".into(), "3-7-1".into()));
}

#[test]
fn a_plugin_is_called_where_a_reading_it_reads_changes() {
    assert_eq!(rested(9999, &chart(2)).0, "18");
}

#[test]
fn many_plugins_over_a_long_chart_at_once_say_what_they_say_entry_by_entry() {
    let mut plugins = benign();
    plugins.extend([load("misbehaves"), load("follows"), load("rests")]);
    // Stopped in the middle, while those that read from it go on.
    let played = play(plugins, &behaviour("panic", 100), &chart(30));
    assert_eq!(played.fault().seq.0, 100);
}
