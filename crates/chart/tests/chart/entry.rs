//! What all entries have in common: id, time, kind, fields of the host, unknown
//! fields.

use rallytide_chart::RefusalCode::{BadField, Malformed, MissingField, UnknownKind};
use rallytide_chart::{Body, Entry, HOST_FIELDS, Kind, RefusalCode};
use serde_json::{Value, json};

use crate::notation::{check_refused, check_refused_play, doubles, entry, object, whole_entry};

#[track_caller]
fn check_refused_entry(json: Value, code: RefusalCode, parts: &[&str]) {
    let outcome = Entry::from_json(object(json), &doubles());
    check_refused(outcome.as_ref(), code, &[&["entry"], parts].concat());
}

fn replay_with(name: &str, value: Value) -> Value {
    let mut fields = whole_entry(json!({"kind": "replay"}));
    fields.insert(name.into(), value);
    Value::Object(fields)
}

#[test]
fn an_entry_has_an_id_a_time_and_a_kind() {
    let read = entry(json!({"id": "r1s1", "at": "2026-05-02T12:00:00.250Z", "kind": "replay"}));
    assert_eq!(read.id.as_str(), "r1s1");
    assert_eq!(read.at.to_string(), "2026-05-02T12:00:00.250Z");
    assert!(!read.is_correction());
    for name in ["id", "at", "kind"] {
        let mut fields = whole_entry(json!({"kind": "replay"}));
        fields.shift_remove(name);
        let missing = format!("field `{name}` is missing; it takes");
        check_refused_entry(Value::Object(fields), MissingField, &[&missing]);
        check_refused_entry(replay_with(name, json!(null)), MissingField, &[&missing]);
    }
}

#[test]
fn an_id_holds_1_to_64_of_the_allowed_characters() {
    for id in ["x", "r3s4_A-9", &"x".repeat(64)] {
        assert_eq!(entry(json!({"id": id, "kind": "replay"})).id.as_str(), id);
    }
    let long = "x".repeat(65);
    for id in [json!(""), json!("a b"), json!("é"), json!(long), json!(7)] {
        let parts = ["field `id`", "1 to 64", "A-Z a-z 0-9 _ -"];
        check_refused_entry(replay_with("id", id), BadField, &parts);
    }
}

#[test]
fn a_message_stays_short_however_long_what_was_found_is() {
    let huge = "y".repeat(60_000);
    for name in ["id", "at", "kind"] {
        let outcome = Entry::from_json(object(replay_with(name, json!(huge))), &doubles());
        assert!(outcome.unwrap_err().to_string().len() < 400);
    }
}

#[test]
fn a_time_is_rfc_3339_in_utc() {
    // RFC 3339, section 5.6.
    for at in ["2026-05-02T12:00:00.000Z", "2026-05-02T12:00:00+00:00"] {
        assert_eq!(
            entry(json!({"at": at, "kind": "replay"})).to_json()["at"],
            at
        );
    }
    for at in [
        json!("12:00"),
        json!("2026-05-02T12:00:00+02:00"),
        json!(1_777_723_200),
    ] {
        let parts = ["entry `e1`", "field `at`", "RFC 3339", "UTC"];
        check_refused_entry(replay_with("at", at), BadField, &parts);
    }
}

#[test]
fn an_unknown_kind_is_refused_with_all_known_ones() {
    let mut parts = vec!["`kind` is `\"smash\"`".to_owned()];
    parts.extend(Kind::ALL.iter().map(|kind| format!("`{}`", kind.word())));
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    check_refused_play(json!({"kind": "smash"}), UnknownKind, &parts);
    check_refused_play(json!({"kind": "match"}), UnknownKind, &["`shot`"]);
    check_refused_play(json!({"kind": "Shot"}), UnknownKind, &["`shot`"]);
    check_refused_play(json!({"kind": 3}), BadField, &["`3`", "`shot`"]);
}

#[test]
fn there_are_fourteen_kinds_and_three_of_them_correct() {
    assert_eq!(Kind::ALL.len(), 14);
    for kind in Kind::ALL {
        assert_eq!(Kind::from_word(kind.word()), Some(*kind));
    }
    let note = json!({"kind": "note", "text": ""});
    let corrections = [
        json!({"kind": "retract", "target": "x"}),
        json!({"kind": "amend", "target": "x", "with": note}),
        json!({"kind": "insert", "after": "x", "entry": note}),
    ];
    for fields in corrections {
        assert!(entry(fields).is_correction());
    }
}

#[test]
fn unknown_fields_are_kept_and_ignored() {
    let fields = json!({
        "kind": "shot", "team": "a", "stroke": "drive", "speed": 41.5, "spin": {"rpm": null},
        "won_by": 7, "target": [],
    });
    let read = entry(fields.clone());
    let known = entry(json!({"kind": "shot", "team": "a", "stroke": "drive"}));
    assert_eq!(read.body, known.body);
    assert_eq!(read.to_json(), &whole_entry(fields));
}

#[test]
fn fields_of_the_host_are_no_part_of_what_was_recorded() {
    let mut stored = whole_entry(json!({"kind": "replay"}));
    for name in HOST_FIELDS {
        stored.insert((*name).into(), json!("anything"));
    }
    let read = Entry::from_json(stored, &doubles()).unwrap();
    assert_eq!(read, entry(json!({"kind": "replay"})));
    assert_eq!(HOST_FIELDS, ["client", "seat", "seq", "received", "crc"]);
}

#[test]
fn the_order_of_fields_says_nothing() {
    let one = Entry::from_text(
        r#"{"kind":"shot","team":"a","stroke":"dink","id":"x","at":"2026-05-02T12:00:00Z"}"#,
        &doubles(),
    );
    let other = Entry::from_text(
        r#"{"at":"2026-05-02T12:00:00Z","id":"x","stroke":"dink","team":"a","kind":"shot"}"#,
        &doubles(),
    );
    assert!(one.is_ok());
    assert_eq!(one, other);
}

#[test]
fn text_that_is_no_json_object_is_malformed() {
    // Objects: RFC 8259, section 4; strings stand in double quotes (section 7).
    for (text, part) in [
        ("", "not valid JSON"),
        ("{\"kind\":", "not valid JSON"),
        ("{'kind':'shot'}", "not valid JSON"),
        ("[1]", "not a JSON object"),
        ("17", "not a JSON object"),
    ] {
        let outcome = Entry::from_text(text, &doubles());
        check_refused(outcome.as_ref(), Malformed, &["entry", part]);
    }
}

#[test]
fn a_correction_keeps_unknown_fields_too() {
    let fields = json!({
        "kind": "insert", "after": null, "because": "late",
        "entry": {"kind": "note", "text": "n", "mood": "good"},
    });
    let read = entry(fields.clone());
    assert!(matches!(read.body, Body::Correction(_)));
    assert_eq!(read.to_json(), &whole_entry(fields));
}
