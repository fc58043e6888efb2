//! The same id again: with the same content it is the same entry, with other
//! content it is refused.

use rallytide_chart::RefusalCode::IdConflict;
use rallytide_chart::{Admission, Entry, Seq};
use serde_json::{Value, json};

use crate::notation::{chart_of, check_refused, doubles, entry, script, shown, take, whole_entry};

fn drive() -> Value {
    json!({"id": "x", "kind": "shot", "team": "a", "stroke": "drive", "cues": ["awkward"],
           "spin": {"kind": "top", "rpm": 900}})
}

/// Checks that `again` counts as the drive sent again.
#[track_caller]
fn check_repeat(again: Entry) {
    let mut chart = chart_of([json!({"id": "first", "kind": "replay"}), drive()]);
    assert_eq!(take(&mut chart, again), Ok(Admission::Repeat(Seq(2))));
    assert_eq!(chart.entries().len(), 2);
}

#[track_caller]
fn check_conflict(again: Value) {
    let mut chart = chart_of([drive()]);
    let outcome = take(&mut chart, entry(again));
    check_refused(
        outcome.as_ref(),
        IdConflict,
        &["`x`", "position 1", "other content"],
    );
    assert_eq!(chart.entries().len(), 1);
}

#[test]
fn the_same_entry_again_has_its_first_position() {
    check_repeat(entry(drive()));
}

#[test]
fn the_order_of_fields_makes_no_other_content() {
    check_repeat(entry(json!({
        "spin": {"rpm": 900, "kind": "top"}, "stroke": "drive", "cues": ["awkward"],
        "team": "a", "kind": "shot", "id": "x",
    })));
}

#[test]
fn what_the_host_added_makes_no_other_content() {
    let mut stored = whole_entry(drive());
    for (name, value) in [
        ("client", json!("ipad")),
        ("seat", json!("cues")),
        ("seq", json!(7)),
        ("received", json!("2026-05-02T12:00:00.100Z")),
        ("crc", json!("0123abcd")),
    ] {
        stored.insert(name.into(), value);
    }
    check_repeat(Entry::from_json(stored, &doubles()).unwrap());
}

#[test]
fn a_corrected_entry_may_still_be_sent_again() {
    let mut chart = chart_of(script("x y c=x~new d=-y"));
    for (word, seq) in [("x", 1), ("y", 2), ("c=x~new", 3), ("d=-y", 4)] {
        let again = entry(script(word).remove(0));
        assert_eq!(take(&mut chart, again), Ok(Admission::Repeat(Seq(seq))));
    }
    assert_eq!(shown(&chart.effective()), "x:new");
}

#[test]
fn any_other_field_makes_other_content() {
    for (name, value) in [
        ("stroke", json!("drop")),
        ("at", json!("2026-05-02T12:00:00.001Z")),
        ("player", json!(0)),
        ("cues", json!([])),
        ("spin", json!({"kind": "top", "rpm": 901})),
        ("unknown", json!(null)),
    ] {
        let mut again = drive();
        again[name] = value;
        check_conflict(again);
    }
    check_conflict(json!({"id": "x", "kind": "retract", "target": "x"}));
}

#[test]
fn the_content_of_an_amend_does_not_become_that_of_its_target() {
    let mut chart = chart_of(script("x c=x~new"));
    let as_amended = entry(json!({"id": "x", "kind": "note", "text": "new"}));
    check_refused(take(&mut chart, as_amended).as_ref(), IdConflict, &["`x`"]);
}

#[test]
fn ids_of_retracted_and_of_inserted_entries_are_taken() {
    for id in ["x", "i", "c"] {
        let mut chart = chart_of(script("x i=x+i c=-x"));
        let another = entry(json!({"id": id, "kind": "replay"}));
        check_refused(take(&mut chart, another).as_ref(), IdConflict, &[id]);
    }
}
