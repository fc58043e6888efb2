//! Each rule about what a plugin may answer, broken once and kept once.

use rallytide_chart::EntryId;

use super::*;
use crate::handed_entries::HandedEntries;

const INDICATORS: [&str; 2] = ["tilt", "tilt.best"];

fn check() -> AnswerCheck {
    let owners = [("tilt", "tilt"), ("tilt.best", "tilt"), ("depth", "stand")];
    let owners = owners.map(|(indicator, plugin)| (Name::from(indicator), Name::from(plugin)));
    AnswerCheck {
        declared: INDICATORS
            .iter()
            .map(|name| Declared {
                indicator: Name::from(*name),
                form: None,
            })
            .collect(),
        owners: Arc::new(owners.into_iter().collect()),
        players: 2,
    }
}

/// Three entries of a chart.
fn entries() -> HandedEntries {
    let mut entries = HandedEntries::default();
    for id in ["e1", "e2", "e3"] {
        entries.push(&EntryId::new(id).expect("a well-formed id"));
    }
    entries
}

fn key(indicator: &str) -> wit::Key {
    wit::Key {
        indicator: indicator.into(),
        team: None,
        player: None,
        slot: None,
    }
}

fn reading(value: wit::Value) -> wit::Reading {
    wit::Reading {
        key: key("tilt"),
        value,
        remarks: None,
    }
}

fn because(why: Vec<wit::Reason>) -> wit::Remarks {
    let flags = Vec::new();
    wit::Remarks { why, flags }
}

fn flagged(flags: Vec<String>) -> wit::Remarks {
    let why = Vec::new();
    wit::Remarks { why, flags }
}

fn reason(code: &str, entry: u32) -> wit::Reason {
    wit::Reason {
        code: code.into(),
        team: None,
        entry,
        inferred: false,
    }
}

fn set(change: impl FnOnce(&mut wit::Reading)) -> Vec<wit::Change> {
    let mut reading = reading(wit::Value::Count(1));
    change(&mut reading);
    vec![wit::Change::Set(reading)]
}

#[track_caller]
fn passes(answer: Vec<wit::Change>) -> Vec<Option<Content>> {
    let changes = check().check(answer, entries().first(2));
    let changes = changes.expect("the answer is in order");
    changes.into_iter().map(|(_, said)| said).collect()
}

#[track_caller]
fn offends(answer: Vec<wit::Change>, kind: PluginFaultKind, words: &str) {
    let violation = check().check(answer, entries().first(2)).unwrap_err();
    assert_eq!(violation.kind, kind, "{}", violation.message);
    assert!(violation.message.contains(words), "{}", violation.message);
}

#[test]
fn an_indicator_that_is_not_declared_is_a_violation() {
    offends(
        set(|reading| reading.key = key("slope")),
        PluginFaultKind::UndeclaredIndicator,
        "`slope`, which its manifest does not declare",
    );
    offends(
        vec![wit::Change::Gone(key("slope"))],
        PluginFaultKind::UndeclaredIndicator,
        "`slope`",
    );
}

#[test]
fn an_indicator_of_another_plugin_is_a_violation_that_names_it() {
    offends(
        set(|reading| reading.key = key("depth")),
        PluginFaultKind::ForeignIndicator,
        "`depth`, which belongs to the plugin `stand`",
    );
}

#[test]
fn numbers_outside_their_range_are_violations() {
    let lean = |strength| {
        wit::Value::Lean(wit::Lean {
            toward: None,
            strength,
        })
    };
    for number in [f64::NAN, f64::INFINITY, -0.001, 1.001] {
        for value in [lean(number), wit::Value::Chance(number)] {
            offends(
                set(|reading| reading.value = value),
                PluginFaultKind::ImpossibleValue,
                "not from 0 to 1",
            );
        }
    }
    for number in [0.0, 0.5, 1.0] {
        passes(set(|reading| reading.value = lean(number)));
        passes(set(|reading| reading.value = wit::Value::Chance(number)));
    }
}

#[test]
fn a_part_above_its_whole_is_a_violation() {
    let share = |part, whole| wit::Value::Share(wit::Share { part, whole });
    offends(
        set(|reading| reading.value = share(3, 2)),
        PluginFaultKind::ImpossibleValue,
        "a share of 3 of 2",
    );
    passes(set(|reading| reading.value = share(0, 0)));
    passes(set(|reading| reading.value = share(2, 2)));
}

#[test]
fn minus_zero_becomes_zero() {
    let said = passes(set(|reading| reading.value = wit::Value::Chance(-0.0)));
    let value = &said[0].as_ref().unwrap().value;
    assert_eq!(
        serde_json::to_string(value).unwrap(),
        r#"{"type":"chance","p":0.0}"#
    );
}

#[test]
fn a_player_that_the_team_does_not_have_is_a_violation() {
    let of = |player| set(move |reading| reading.key.player = Some(player));
    passes(of(1));
    offends(of(2), PluginFaultKind::ImpossibleValue, "player 2");
    let mut singles = check();
    singles.players = 1;
    assert!(singles.check(of(1), entries().first(2)).is_err());
}

#[test]
fn a_value_of_another_type_than_before_is_a_violation() {
    let mut answer_check = check();
    let answer = |value| vec![wit::Change::Set(reading(value))];
    answer_check
        .check(answer(wit::Value::Count(1)), entries().first(2))
        .unwrap();
    answer_check
        .check(answer(wit::Value::Count(2)), entries().first(2))
        .unwrap();
    let violation = answer_check
        .check(answer(wit::Value::Flag(true)), entries().first(2))
        .unwrap_err();
    assert_eq!(violation.kind, PluginFaultKind::ChangedType);
    assert!(
        violation
            .message
            .contains("as a flag where it had been a count")
    );
}

#[test]
fn a_reason_that_names_an_entry_never_handed_over_is_a_violation() {
    offends(
        set(|reading| reading.remarks = Some(because(vec![reason("air", 3)]))),
        PluginFaultKind::UnknownEntry,
        "entry 3",
    );
    offends(
        set(|reading| reading.remarks = Some(because(vec![reason("air", 0)]))),
        PluginFaultKind::UnknownEntry,
        "entry 0",
    );
    passes(set(|reading| {
        reading.remarks = Some(because(vec![reason("air", 2)]));
    }));
}

#[test]
fn reasons_and_flags_come_out_sorted() {
    let team = |code: &str, team, entry| wit::Reason {
        team: Some(team),
        ..reason(code, entry)
    };
    let said = passes(set(|reading| {
        let why = vec![
            team("depth", wit::Team::A, 1),
            team("air", wit::Team::B, 1),
            team("air", wit::Team::A, 2),
            team("air", wit::Team::A, 1),
        ];
        let flags = vec!["contested".into(), "carried".into()];
        reading.remarks = Some(wit::Remarks { why, flags });
    }));
    let said = said[0].as_ref().unwrap();
    let why: Vec<String> = said
        .why
        .iter()
        .map(|it| format!("{} {} {}", it.code, it.team.unwrap(), it.entry))
        .collect();
    assert_eq!(why, ["air a e1", "air a e2", "air b e1", "depth a e1"]);
    assert_eq!(said.flags, ["carried", "contested"]);
}

#[test]
fn of_two_changes_under_one_key_the_last_one_counts() {
    let mut answer = set(|_| {});
    answer.push(wit::Change::Gone(key("tilt")));
    assert_eq!(passes(answer), [None]);
    let mut answer = vec![wit::Change::Gone(key("tilt"))];
    answer.extend(set(|_| {}));
    assert!(passes(answer)[0].is_some());
}

#[test]
fn counts_beyond_their_limits_are_violations_and_at_them_are_not() {
    let slotted = |slot: usize| set(|reading| reading.key.slot = Some(slot.to_string())).remove(0);
    passes((0..CHANGES_PER_CALL).map(slotted).collect());
    offends(
        (0..=CHANGES_PER_CALL).map(slotted).collect(),
        PluginFaultKind::TooMany,
        "257 changes",
    );
    let reasons =
        |count| set(move |reading| reading.remarks = Some(because(vec![reason("air", 1); count])));
    passes(reasons(REASONS_PER_READING));
    offends(
        reasons(REASONS_PER_READING + 1),
        PluginFaultKind::TooMany,
        "33 reasons",
    );
    let flags =
        |count| set(move |reading| reading.remarks = Some(flagged(vec!["x".into(); count])));
    passes(flags(FLAGS_PER_READING));
    offends(
        flags(FLAGS_PER_READING + 1),
        PluginFaultKind::TooMany,
        "17 flags",
    );
    let many = |count: usize| -> Vec<wit::Change> {
        let slots = 0..count;
        slots
            .map(|slot| {
                let mut change = reasons(REASONS_PER_READING).remove(0);
                if let wit::Change::Set(reading) = &mut change {
                    reading.key.slot = Some(slot.to_string());
                }
                change
            })
            .collect()
    };
    passes(many(REASONS_AND_FLAGS_PER_CALL / REASONS_PER_READING));
    offends(
        many(REASONS_AND_FLAGS_PER_CALL / REASONS_PER_READING + 1),
        PluginFaultKind::TooMany,
        "more than 1024 reasons and flags",
    );
}

#[test]
fn texts_beyond_their_limits_are_violations_and_at_them_are_not() {
    let text = |bytes| set(move |reading| reading.value = wit::Value::Text("x".repeat(bytes)));
    passes(text(TEXT_BYTES));
    offends(
        text(TEXT_BYTES + 1),
        PluginFaultKind::TextTooLong,
        "1025 bytes; 1024",
    );
    let long = "x".repeat(NAME_BYTES + 1);
    offends(
        set(|reading| reading.key.slot = Some(long.clone())),
        PluginFaultKind::TextTooLong,
        "slot of 65 bytes",
    );
    offends(
        set(|reading| reading.remarks = Some(flagged(vec![long.clone()]))),
        PluginFaultKind::TextTooLong,
        "flag of 65 bytes",
    );
    offends(
        set(|reading| reading.remarks = Some(because(vec![reason(&long, 1)]))),
        PluginFaultKind::TextTooLong,
        "reason's code of 65 bytes",
    );
    let many: Vec<wit::Change> = (0..70)
        .map(|slot| {
            let mut change = text(TEXT_BYTES).remove(0);
            if let wit::Change::Set(reading) = &mut change {
                reading.key.slot = Some(slot.to_string());
            }
            change
        })
        .collect();
    offends(many, PluginFaultKind::TextTooLong, "65536 bytes together");
}

/// The host's copying limit counts in sizes of types, which change with the
/// host; the limits of this module do not, and have to be reached first.
#[test]
fn the_largest_answer_within_all_limits_can_be_copied() {
    let readings = CHANGES_PER_CALL * size_of::<wit::Change>();
    let reasons = REASONS_AND_FLAGS_PER_CALL * size_of::<wit::Reason>();
    // An entry's id is a text that no limit of the interface counts: 64 bytes.
    let ids = REASONS_AND_FLAGS_PER_CALL * 64;
    let most = readings + reasons + ids + TEXT_BYTES_PER_CALL;
    assert!(2 * most < crate::limits::COPIED_BYTES, "{most}");
}
