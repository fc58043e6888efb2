//! Corrections that are refused, and cues about a shot that does not exist.

use rallytide_chart::RefusalCode::{
    self, BadCorrection, BadField, MissingField, UnknownKind, UnknownShot, UnknownStroke,
};
use serde_json::{Value, json};

use crate::notation::{
    chart_of, check_refused, check_refused_play, entry, script, shown, take, try_entry,
};

/// Checks that `fields` may not come in after `entries`, and leaves no trace.
#[track_caller]
fn check_refused_after(entries: &str, fields: Value, code: RefusalCode, parts: &[&str]) {
    let mut chart = chart_of(script(entries));
    let outcome = take(&mut chart, entry(fields));
    check_refused(outcome.as_ref(), code, &[&["entry `e1`"], parts].concat());
    assert_eq!(chart.entries().len(), script(entries).len());
    assert!(chart.entry("e1").is_none());
}

fn retract(target: &str) -> Value {
    json!({"kind": "retract", "target": target})
}

fn amend(target: &str, with: Value) -> Value {
    json!({"kind": "amend", "target": target, "with": with})
}

fn insert(after: &Value, entry: Value) -> Value {
    json!({"kind": "insert", "after": after, "entry": entry})
}

fn note() -> Value {
    json!({"kind": "note", "text": "n"})
}

#[test]
fn a_target_has_to_stand_earlier() {
    for fields in [retract("z"), amend("z", note())] {
        let parts = ["`target` is `z`", "no earlier entry"];
        check_refused_after("x y", fields, BadCorrection, &parts);
    }
    let parts = ["`after` is `z`", "no earlier entry"];
    check_refused_after("x y", insert(&json!("z"), note()), BadCorrection, &parts);
}

#[test]
fn no_correction_can_name_itself() {
    for fields in [
        retract("e1"),
        amend("e1", note()),
        insert(&json!("e1"), note()),
    ] {
        check_refused_after("x", fields, BadCorrection, &["is `e1`", "no earlier entry"]);
    }
}

#[test]
fn an_amend_names_an_original_or_an_inserted_entry() {
    for target in ["c", "d"] {
        let found = format!("`target` is `{target}`");
        let parts = [&*found, "`retract` or `amend`", "original or inserted"];
        check_refused_after(
            "x c=-x d=x~new",
            amend(target, note()),
            BadCorrection,
            &parts,
        );
    }
}

#[test]
fn an_insert_stands_after_an_original_or_an_inserted_entry() {
    for after in ["c", "d"] {
        let found = format!("`after` is `{after}`");
        let fields = insert(&json!(after), note());
        let parts = [&*found, "`retract` or `amend`", "original or inserted"];
        check_refused_after("x c=-x d=x~new", fields, BadCorrection, &parts);
    }
}

#[test]
fn a_retract_may_name_any_kind_of_entry() {
    for target in ["x", "c", "d", "i"] {
        let mut chart = chart_of(script("x c=-x d=x~new i=x+i"));
        assert!(take(&mut chart, entry(retract(target))).is_ok(), "{target}");
    }
}

#[test]
fn a_retracted_entry_may_still_be_named() {
    for (word, expected) in [("e=-x", ""), ("e=x~new", "x:new"), ("e=x+i", "e:i")] {
        let chart = chart_of(script(&format!("x c=-x {word}")));
        assert_eq!(shown(&chart.effective()), expected);
    }
}

#[test]
fn a_correction_never_brings_another_correction() {
    for inner in [
        retract("x"),
        amend("x", note()),
        insert(&json!(null), note()),
    ] {
        let kind = format!("`{}`", inner["kind"].as_str().unwrap());
        let parts = [&*kind, "correction"];
        check_refused_play(
            amend("x", inner.clone()),
            BadCorrection,
            &[&["`with.kind`"], &parts[..]].concat(),
        );
        check_refused_play(
            insert(&json!("x"), inner),
            BadCorrection,
            &[&["`entry.kind`"], &parts[..]].concat(),
        );
    }
}

#[test]
fn what_a_correction_brings_has_no_id_and_no_time() {
    for (name, value) in [("id", "other"), ("at", "2026-05-02T12:00:00.000Z")] {
        let mut inner = note();
        inner[name] = json!(value);
        let own = |place: &str| format!("`{place}.{name}` must not stand here");
        check_refused_play(amend("x", inner.clone()), BadCorrection, &[&own("with")]);
        check_refused_play(insert(&json!("x"), inner), BadCorrection, &[&own("entry")]);
    }
}

#[test]
fn what_a_correction_brings_is_judged_like_any_entry() {
    let shot = json!({"kind": "shot", "team": "a", "stroke": "slam"});
    check_refused_play(
        amend("x", shot),
        UnknownStroke,
        &["`with.stroke`", "`\"slam\"`", "`drive`"],
    );
    let fields = insert(&json!(null), json!({"kind": "depth", "team": "a"}));
    check_refused_play(fields, MissingField, &["`entry.depth` is missing"]);
    let fields = amend("x", json!({"kind": "match"}));
    check_refused_play(
        fields,
        UnknownKind,
        &["`with.kind`", "`\"match\"`", "`shot`"],
    );
    check_refused_play(
        amend("x", json!({})),
        MissingField,
        &["`with.kind` is missing"],
    );
}

#[test]
fn fields_of_a_correction_have_to_be_there() {
    for (fields, part) in [
        (json!({"kind": "retract"}), "`target` is missing"),
        (
            json!({"kind": "amend", "with": note()}),
            "`target` is missing",
        ),
        (json!({"kind": "amend", "target": "x"}), "`with` is missing"),
        (
            json!({"kind": "insert", "after": "x"}),
            "`entry` is missing",
        ),
        (
            json!({"kind": "insert", "entry": note()}),
            "`after` is missing",
        ),
        (
            json!({"kind": "retract", "target": null}),
            "`target` is missing",
        ),
    ] {
        check_refused_play(fields, MissingField, &[part]);
    }
}

#[test]
fn only_after_may_be_null_and_it_has_to_say_so() {
    assert!(try_entry(insert(&json!(null), note()), &crate::notation::doubles()).is_ok());
    let parts = ["`after` is missing", "null"];
    check_refused_play(
        json!({"kind": "insert", "entry": note()}),
        MissingField,
        &parts,
    );
}

#[test]
fn fields_of_a_correction_have_to_be_of_their_type() {
    for (fields, parts) in [
        (
            json!({"kind": "retract", "target": 3}),
            ["`target` is `3`", "id"],
        ),
        (
            json!({"kind": "retract", "target": "a b"}),
            ["`target`", "1 to 64"],
        ),
        (insert(&json!(0), note()), ["`after` is `0`", "id"]),
        (amend("x", json!("y")), ["`with` is `\"y\"`", "an object"]),
        (
            insert(&json!(null), json!([])),
            ["`entry` is `[]`", "an object"],
        ),
    ] {
        check_refused_play(fields, BadField, &parts);
    }
}

#[test]
fn a_cue_names_an_entry_that_stands_earlier() {
    let cue = |shot: &str| json!({"kind": "cue", "cue": "awkward", "shot": shot});
    let check = |fields: Value, found: &str| {
        check_refused_after("x", fields, UnknownShot, &[found, "no earlier entry"]);
    };
    check(cue("z"), "`shot` is `z`");
    check(cue("e1"), "`shot` is `e1`");
    check(amend("x", cue("z")), "`with.shot` is `z`");
    check(insert(&json!(null), cue("z")), "`entry.shot` is `z`");
    // Whether it is a shot of the current rally is no reason to refuse it.
    for shot in ["x", "c"] {
        let mut chart = chart_of(script("x c=-x"));
        assert!(take(&mut chart, entry(cue(shot))).is_ok(), "{shot}");
    }
}
