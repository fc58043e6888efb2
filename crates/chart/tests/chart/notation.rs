//! Short ways to write headers, entries, charts and expectations.

use rallytide_chart::{
    Admission, Chart, Effective, Entry, Format, Header, Play, Refusal, RefusalCode,
};
use serde_json::{Map, Value, json};

/// The time of every entry that gives none.
pub(crate) const NOON: &str = "2026-05-02T12:00:00.000Z";

/// A header with everything that has a place in side-out doubles.
pub(crate) fn header_json() -> Value {
    json!({
        "kind": "match", "chart": 1, "id": "pier-cup-final", "title": "Pier Cup, final",
        "court": "1",
        "teams": {
            "a": {"name": "Okafor / Lind", "players": ["Adaeze Okafor", "Jonas Lind"]},
            "b": {"name": "Marek / Sato", "players": ["Petra Marek", "Rin Sato"]},
        },
        "format": {
            "discipline": "doubles", "scoring": "side_out", "points": 11, "win_by": 2, "games": 3,
        },
        "first_serve": "a",
    })
}

/// A header in singles.
pub(crate) fn singles_json() -> Value {
    let header = set(header_json(), "/format/discipline", json!("singles"));
    let header = set(header, "/teams/a/players", json!(["Adaeze Okafor"]));
    set(header, "/teams/b/players", json!(["Petra Marek"]))
}

/// `json` with the field at `pointer` set to `value`.
#[track_caller]
pub(crate) fn set(mut json: Value, pointer: &str, value: Value) -> Value {
    let (parent, name) = pointer.rsplit_once('/').expect("a pointer has a slash");
    let parent = json.pointer_mut(parent).expect("the parent is there");
    parent[name] = value;
    json
}

/// `json` without the field at `pointer`.
#[track_caller]
pub(crate) fn without(mut json: Value, pointer: &str) -> Value {
    let (parent, name) = pointer.rsplit_once('/').expect("a pointer has a slash");
    let parent = json.pointer_mut(parent).and_then(Value::as_object_mut);
    let removed = parent.and_then(|parent| parent.shift_remove(name));
    assert!(removed.is_some(), "there is no `{pointer}` to leave out");
    json
}

#[track_caller]
pub(crate) fn object(json: Value) -> Map<String, Value> {
    match json {
        Value::Object(object) => object,
        other => panic!("not an object: {other}"),
    }
}

#[track_caller]
pub(crate) fn header_of(json: Value) -> Header {
    Header::from_json(object(json)).unwrap_or_else(|refusal| panic!("refused: {refusal}"))
}

pub(crate) fn doubles() -> Format {
    header_of(header_json()).format
}

pub(crate) fn singles() -> Format {
    header_of(singles_json()).format
}

/// Rally scoring, doubles.
pub(crate) fn rally_doubles() -> Format {
    header_of(set(header_json(), "/format/scoring", json!("rally"))).format
}

/// The fields of an entry, with the id `e1` and noon where they are left out.
pub(crate) fn whole_entry(fields: Value) -> Map<String, Value> {
    let mut entry = Map::new();
    entry.insert("id".into(), json!("e1"));
    entry.insert("at".into(), json!(NOON));
    entry.extend(object(fields));
    entry
}

pub(crate) fn try_entry(fields: Value, format: &Format) -> Result<Entry, Refusal> {
    Entry::from_json(whole_entry(fields), format)
}

#[track_caller]
pub(crate) fn entry(fields: Value) -> Entry {
    try_entry(fields, &doubles()).unwrap_or_else(|refusal| panic!("refused: {refusal}"))
}

/// Checks that an entry is read, in doubles with side-out scoring, as `expected`.
#[track_caller]
pub(crate) fn check_play(fields: Value, expected: &Play) {
    check_play_in(&doubles(), fields, expected);
}

#[track_caller]
pub(crate) fn check_play_in(format: &Format, fields: Value, expected: &Play) {
    let entry = try_entry(fields, format).unwrap_or_else(|refusal| panic!("refused: {refusal}"));
    match entry.body {
        rallytide_chart::Body::Play(play) => assert_eq!(*play, *expected),
        correction @ rallytide_chart::Body::Correction(_) => panic!("{correction:?}"),
    }
}

/// Checks that an entry is refused in doubles with side-out scoring, with this
/// code and a message that has all of `parts` and names the entry.
#[track_caller]
pub(crate) fn check_refused_play(fields: Value, code: RefusalCode, parts: &[&str]) {
    check_refused_play_in(&doubles(), fields, code, parts);
}

#[track_caller]
pub(crate) fn check_refused_play_in(
    format: &Format,
    fields: Value,
    code: RefusalCode,
    parts: &[&str],
) {
    let outcome = try_entry(fields, format);
    check_refused(outcome.as_ref(), code, &[&["entry `e1`"], parts].concat());
}

/// Checks that something was refused with this code, in one line of bearable
/// length that has all of `parts`.
#[track_caller]
pub(crate) fn check_refused<T: std::fmt::Debug>(
    outcome: Result<&T, &Refusal>,
    code: RefusalCode,
    parts: &[&str],
) {
    let refusal = outcome.expect_err("this has to be refused");
    assert_eq!(refusal.code(), code, "{refusal}");
    let sentence = refusal.to_string();
    for part in parts {
        assert!(sentence.contains(part), "`{part}` in: {sentence}");
    }
    assert!(sentence.len() < 400, "too long: {sentence}");
    assert!(!sentence.contains('\n'), "two lines: {sentence}");
    assert!(!sentence.ends_with('.'), "final dot: {sentence}");
}

/// Takes `entry` into `chart` as a host would.
pub(crate) fn take(chart: &mut Chart, entry: Entry) -> Result<Admission, Refusal> {
    let admission = chart.admit(&entry)?;
    if admission == Admission::New {
        chart.push(entry);
    }
    Ok(admission)
}

/// A chart of these entries; every one has to be new and right.
#[track_caller]
pub(crate) fn chart_of(entries: impl IntoIterator<Item = Value>) -> Chart {
    let mut chart = Chart::new(header_of(header_json()));
    for fields in entries {
        let taken = take(&mut chart, entry(fields));
        assert_eq!(taken, Ok(Admission::New));
    }
    chart
}

/// A chart in short form, for corrections. One word an entry:
///
/// | word | entry |
/// |---|---|
/// | `x` | a note with the id and the text `x` |
/// | `c=-x` | `c` retracts `x` |
/// | `c=x~new` | `c` amends `x` to a note with the text `new` |
/// | `i=x+new` | `i` inserts a note with the text `new` after `x` |
/// | `i=^+new` | the same before the first entry |
pub(crate) fn script(text: &str) -> Vec<Value> {
    text.split_whitespace().map(script_word).collect()
}

#[track_caller]
fn script_word(word: &str) -> Value {
    let note = |text: &str| json!({"kind": "note", "text": text});
    let Some((id, what)) = word.split_once('=') else {
        return json!({"id": word, "kind": "note", "text": word});
    };
    if let Some(target) = what.strip_prefix('-') {
        return json!({"id": id, "kind": "retract", "target": target});
    }
    if let Some((target, text)) = what.split_once('~') {
        return json!({"id": id, "kind": "amend", "target": target, "with": note(text)});
    }
    let (after, text) = what.split_once('+').expect("a word of the table above");
    let after = if after == "^" {
        json!(null)
    } else {
        json!(after)
    };
    json!({"id": id, "kind": "insert", "after": after, "entry": note(text)})
}

/// An effective chart in short form: `id`, or `id:text` where the text is another.
pub(crate) fn shown(effective: &[Effective]) -> String {
    let word = |entry: &Effective| match entry.play.as_ref() {
        Play::Note { text } if *text == entry.id.as_str() => text.clone(),
        Play::Note { text } => format!("{}:{text}", entry.id),
        other => format!("{}:{}", entry.id, other.kind()),
    };
    effective.iter().map(word).collect::<Vec<_>>().join(" ")
}
