//! Whatever the bytes are, reading them ends with a chart or with problems,
//! never with a panic, and what was taken in is sound.

use proptest::prelude::*;
use rallytide_chart::{ChartFile, Entry, Header, RallyReader, read_chart_file};
use serde_json::{Map, Value, json};

use crate::file::{file_of, problems};
use crate::notation::{NOON, doubles, header_json, object, script, singles};

/// Reads `bytes` and checks what has to hold of every file.
fn check_any(bytes: &[u8]) -> ChartFile {
    let file = read_chart_file(bytes);
    let lines = bytes.split_inclusive(|byte| *byte == b'\n').count().max(1);
    for problem in &file.problems {
        assert!((1..=lines).contains(&problem.line), "{problem}");
        let message = problem.to_string();
        assert!(message.len() < 600 && !message.contains('\n'), "{message}");
    }
    for note in &file.notes {
        assert!((1..=lines).contains(&note.line), "{note:?}");
    }
    assert!(file.chart.is_some() || file.problems.len() == 1);
    if let Some(chart) = &file.chart {
        assert_eq!(chart.entries().len(), file.lines.len());
        let positions: Vec<u64> = chart.entries().iter().map(|(seq, _)| seq.0).collect();
        assert!(
            positions.is_sorted_by(|one, next| one < next),
            "{positions:?}"
        );
        let mut reader = RallyReader::default();
        for entry in chart.effective() {
            reader.step(&entry);
        }
        check_reads_back(&file);
    }
    file
}

/// Checks that a chart, written out again, is read back as it is.
fn check_reads_back(file: &ChartFile) {
    let chart = file.chart.as_ref().expect("there is a chart");
    let written = |object: &Map<String, Value>| Value::Object(object.clone()).to_string() + "\n";
    let mut text = written(chart.header().to_json());
    for (_, entry) in chart.entries() {
        text += &written(entry.to_json());
    }
    let again = read_chart_file(text.as_bytes());
    assert_eq!(problems(&again), [], "{text}");
    let again = again.chart.expect("the header is right");
    assert_eq!(again.header(), chart.header());
    assert!(
        chart
            .entries()
            .iter()
            .map(|(_, entry)| entry)
            .eq(again.entries().iter().map(|(_, entry)| entry))
    );
    let contents = |chart: &rallytide_chart::Chart| -> Vec<_> {
        chart
            .effective()
            .iter()
            .map(rallytide_chart::Effective::to_json)
            .collect()
    };
    assert_eq!(contents(chart), contents(&again));
}

/// A chart with every kind of entry, corrections of corrections, `seq` and
/// checksums.
fn sound_file() -> String {
    let mut entries = script("n1 n2 c1=-n1 c2=-c1 c3=n2~new i1=^+first i2=i1+second c4=i2~x");
    entries.extend([
        json!({"kind": "shot", "team": "a", "stroke": "serve", "player": 0, "cues": ["net_cord"]}),
        json!({"kind": "shot", "team": "b", "stroke": "return", "contact": "half_volley"}),
        json!({"kind": "cue", "cue": "awkward", "shot": "n1"}),
        json!({"kind": "depth", "team": "a", "depth": "line", "player": 1}),
        json!({"kind": "rally_end", "how": "fault", "by": "b", "fault": "kitchen"}),
        json!({"kind": "replay", "reason": "ball on court"}),
        json!({"kind": "time_out", "team": "a", "medical": true}),
        json!({"kind": "penalty", "team": "b"}),
        json!({"kind": "score_fix", "points": {"a": 1, "b": 2}, "serving": "a", "server": 2,
               "games": {"a": 1, "b": 0}}),
        json!({"kind": "lineup", "team": "b", "starting_server": 1}),
        json!({"kind": "retire", "team": "a"}),
    ]);
    for (place, entry) in entries.iter_mut().enumerate() {
        entry["seq"] = json!(place + 1);
        entry["crc"] = json!("00000000");
    }
    file_of(&entries)
}

#[test]
fn the_chart_that_is_mutated_below_is_sound() {
    let file = check_any(sound_file().as_bytes());
    assert_eq!(problems(&file), []);
    assert_eq!(file.lines.len(), 19);
}

/// A change to the bytes of a file.
#[derive(Debug, Clone)]
enum Change {
    Set(prop::sample::Index, u8),
    Cut(prop::sample::Index, usize),
    Put(prop::sample::Index, Vec<u8>),
    Word(prop::sample::Index, prop::sample::Index),
    DoubleLine(prop::sample::Index),
    DropLine(prop::sample::Index),
}

/// Words of the format in places where they do not belong.
const WORDS: &[&str] = &[
    "\"kind\":\"amend\"",
    "\"kind\":\"insert\"",
    "\"kind\":\"retract\"",
    "\"kind\":\"shot\"",
    "\"target\":\"n1\"",
    "\"after\":\"i2\"",
    "\"seq\":18446744073709551615",
    "\"seq\":1",
    "\"with\":{\"kind\":\"cue\",\"cue\":\"awkward\"}",
    "null",
    "-0",
    "1e400",
    "[[[[",
    "{}",
    "\n",
    "\"\\ud800\"",
    "\u{feff}",
    "\"player\":1",
];

fn change() -> impl Strategy<Value = Change> {
    let place = any::<prop::sample::Index>;
    prop_oneof![
        (place(), any::<u8>()).prop_map(|(at, byte)| Change::Set(at, byte)),
        (place(), 1..40_usize).prop_map(|(at, length)| Change::Cut(at, length)),
        (place(), prop::collection::vec(any::<u8>(), 1..9))
            .prop_map(|(at, bytes)| Change::Put(at, bytes)),
        (place(), place()).prop_map(|(at, word)| Change::Word(at, word)),
        place().prop_map(Change::DoubleLine),
        place().prop_map(Change::DropLine),
    ]
}

fn changed(mut bytes: Vec<u8>, changes: &[Change]) -> Vec<u8> {
    for change in changes {
        if bytes.is_empty() {
            break;
        }
        match change {
            Change::Set(at, byte) => {
                let at = at.index(bytes.len());
                bytes[at] = *byte;
            }
            Change::Cut(at, length) => {
                let at = at.index(bytes.len());
                let end = (at + length).min(bytes.len());
                bytes.drain(at..end);
            }
            Change::Put(at, new) => {
                let at = at.index(bytes.len());
                bytes.splice(at..at, new.iter().copied());
            }
            Change::Word(at, word) => replace_word(&mut bytes, *at, WORDS[word.index(WORDS.len())]),
            Change::DoubleLine(at) => {
                let line = lines_of(&bytes)[at.index(lines_of(&bytes).len())].to_vec();
                bytes.extend(line);
            }
            Change::DropLine(at) => {
                let mut lines = lines_of(&bytes);
                lines.remove(at.index(lines.len()));
                bytes = lines.concat();
            }
        }
    }
    bytes
}

fn lines_of(bytes: &[u8]) -> Vec<&[u8]> {
    bytes.split_inclusive(|byte| *byte == b'\n').collect()
}

/// Puts `word` in place of the text between two commas.
fn replace_word(bytes: &mut Vec<u8>, at: prop::sample::Index, word: &str) {
    let commas: Vec<usize> = (0..bytes.len())
        .filter(|place| bytes[*place] == b',')
        .collect();
    if commas.len() < 2 {
        return;
    }
    let first = at.index(commas.len() - 1);
    bytes.splice(commas[first] + 1..commas[first + 1], word.bytes());
}

/// A value that may stand in a field, right or wrong.
fn value() -> impl Strategy<Value = Value> {
    const VALUES: &[&str] = &[
        "a", "b", "serve", "drive", "air", "line", "awkward", "net_cord", "winner", "unknown",
        "net", "kitchen", "n1", "", "e1",
    ];
    let leaf = prop_oneof![
        6 => prop::sample::select(VALUES).prop_map(|word| json!(word)),
        2 => (-1..4_i64).prop_map(|number| json!(number)),
        1 => any::<bool>().prop_map(|truth| json!(truth)),
        1 => Just(json!(null)),
        1 => any::<f64>().prop_map(|number| json!(number)),
        1 => ".{0,3}".prop_map(|text| json!(text)),
        1 => (0..3_u32, 0..3_u32).prop_map(|(a, b)| json!({"a": a, "b": b})),
        1 => prop::collection::vec(prop::sample::select(VALUES), 0..3).prop_map(|list| json!(list)),
    ];
    leaf.boxed()
}

const FIELDS: &[&str] = &[
    "team",
    "stroke",
    "contact",
    "player",
    "cues",
    "cue",
    "shot",
    "depth",
    "won_by",
    "how",
    "by",
    "fault",
    "reason",
    "medical",
    "points",
    "serving",
    "server",
    "games",
    "starting_server",
    "text",
    "target",
    "after",
    "unknown",
];

const KINDS: &[&str] = &[
    "shot",
    "cue",
    "depth",
    "rally_end",
    "replay",
    "time_out",
    "penalty",
    "score_fix",
    "lineup",
    "retire",
    "note",
    "retract",
    "amend",
    "insert",
    "match",
];

/// Fields of an entry, each with a value that may be wrong.
fn fields() -> impl Strategy<Value = Map<String, Value>> {
    let field = (prop::sample::select(FIELDS), value());
    (
        prop::sample::select(KINDS),
        prop::collection::vec(field, 0..12),
    )
        .prop_map(|(kind, fields)| {
            let mut object = Map::new();
            object.insert("kind".into(), json!(kind));
            object.extend(
                fields
                    .into_iter()
                    .map(|(name, value)| (name.to_owned(), value)),
            );
            object
        })
}

fn whole(mut fields: Map<String, Value>, inner: Map<String, Value>) -> Map<String, Value> {
    for name in ["with", "entry"] {
        fields.insert(name.into(), Value::Object(inner.clone()));
    }
    fields.insert("id".into(), json!("e1"));
    fields.insert("at".into(), json!(NOON));
    fields
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_read(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        check_any(&bytes);
    }

    #[test]
    fn any_bytes_after_a_header_are_read(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let mut file = file_of(&[]).into_bytes();
        file.extend(bytes);
        prop_assert!(check_any(&file).chart.is_some());
    }

    #[test]
    fn a_sound_chart_with_any_changes_is_read(changes in prop::collection::vec(change(), 1..8)) {
        check_any(&changed(sound_file().into_bytes(), &changes));
    }

    #[test]
    fn a_sound_chart_cut_anywhere_is_read(cut in any::<prop::sample::Index>()) {
        let file = sound_file();
        check_any(&file.as_bytes()[..cut.index(file.len() + 1)]);
    }

    #[test]
    fn any_fields_make_an_entry_that_is_kept_whole_or_a_refusal(fields in fields(), inner in fields()) {
        let source = whole(fields, inner);
        for format in [doubles(), singles()] {
            match Entry::from_json(source.clone(), &format) {
                Ok(entry) => {
                    prop_assert_eq!(entry.to_json(), &source);
                    let text = Value::Object(source.clone()).to_string();
                    prop_assert_eq!(Entry::from_text(&text, &format), Ok(entry));
                }
                Err(refusal) => prop_assert!(refusal.to_string().contains("entry `e1`")),
            }
        }
    }

    #[test]
    fn any_value_in_a_header_makes_a_header_or_a_refusal(
        pointer in prop::sample::select(&[
            "/kind", "/chart", "/id", "/title", "/teams", "/teams/a", "/teams/b/name",
            "/teams/a/players", "/format", "/format/points", "/format/games", "/format/scoring",
            "/format/discipline", "/format/win_by", "/first_serve",
        ][..]),
        value in value(),
    ) {
        let mut json = header_json();
        *json.pointer_mut(pointer).expect("it is there") = value;
        match Header::from_json(object(json.clone())) {
            Ok(header) => prop_assert_eq!(header.to_json(), &object(json)),
            Err(refusal) => prop_assert!(refusal.to_string().contains("match header")),
        }
    }
}
