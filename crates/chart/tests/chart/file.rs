//! The chart file: lines, order, repeats, what is noted and what is a problem.

use rallytide_chart::RefusalCode::{
    BadCorrection, BadField, BadOrder, IdConflict, Malformed, MissingField, UnknownKind,
    UnknownStroke,
};
use rallytide_chart::{ChartFile, RefusalCode, Seq, read_chart_file};
use serde_json::{Value, json};

use crate::notation::{NOON, header_json, script, set, shown};

/// A file in lines: the header, then the entries, in which `id` and `at` may be
/// left out.
pub(crate) fn file_of(entries: &[Value]) -> String {
    let header = header_json().to_string();
    let lines = entries.iter().enumerate().map(|(place, fields)| {
        let mut entry = json!({"id": format!("e{}", place + 1), "at": NOON});
        for (name, value) in fields.as_object().expect("an entry is an object") {
            entry[name] = value.clone();
        }
        entry.to_string()
    });
    let lines: Vec<String> = std::iter::once(header).chain(lines).collect();
    lines.join("\n") + "\n"
}

/// What was wrong, in short form: the line and the code of each problem.
pub(crate) fn problems(file: &ChartFile) -> Vec<(usize, RefusalCode)> {
    let problems = file.problems.iter();
    problems
        .map(|problem| (problem.line, problem.refusal.code()))
        .collect()
}

pub(crate) fn noted(file: &ChartFile) -> Vec<(usize, &str)> {
    let notes = file.notes.iter();
    notes
        .map(|note| (note.line, note.message.as_str()))
        .collect()
}

/// The ids of what is effective.
pub(crate) fn effective(file: &ChartFile) -> String {
    file.chart
        .as_ref()
        .map_or("no chart".into(), |chart| shown(&chart.effective()))
}

/// Checks that a file is read without anything odd.
#[track_caller]
fn check_sound(text: &str, expected: &str) {
    let file = read_chart_file(text.as_bytes());
    assert_eq!(problems(&file), []);
    assert_eq!(noted(&file), []);
    assert_eq!(effective(&file), expected);
}

#[track_caller]
fn check_problems(text: &str, expected: &[(usize, RefusalCode)], effective_ids: &str) {
    let file = read_chart_file(text.as_bytes());
    assert_eq!(problems(&file), expected);
    assert_eq!(effective(&file), effective_ids);
}

fn positions(file: &ChartFile) -> Vec<u64> {
    let entries = file.chart.as_ref().map(rallytide_chart::Chart::entries);
    entries
        .unwrap_or_default()
        .iter()
        .map(|(seq, _)| seq.0)
        .collect()
}

fn note_at(id: &str, seq: &Value) -> Value {
    json!({"id": id, "kind": "note", "text": id, "seq": seq})
}

#[test]
fn a_file_written_by_no_host_is_read_in_its_order() {
    let text = file_of(&script("x y c=-x i=^+i"));
    check_sound(&text, "i y");
    let file = read_chart_file(text.as_bytes());
    assert_eq!(positions(&file), [1, 2, 3, 4]);
    assert_eq!(file.chart.unwrap().header().id.as_str(), "pier-cup-final");
}

#[test]
fn the_line_of_every_entry_is_known() {
    let text = file_of(&script("x y c=-x"));
    let lines = read_chart_file(text.as_bytes()).lines;
    let lines: Vec<(&str, usize)> = lines
        .iter()
        .map(|(id, line)| (id.as_str(), *line))
        .collect();
    assert_eq!(lines, [("x", 2), ("y", 3), ("c", 4)]);
}

#[test]
fn a_header_alone_is_a_chart() {
    check_sound(&file_of(&[]), "");
    check_sound(file_of(&[]).trim_end(), "");
}

#[test]
fn a_file_without_anything_in_it_has_no_header() {
    for text in ["", "\n", "  \r\n\t\n", "\u{feff}"] {
        check_problems(text, &[(1, MissingField)], "no chart");
    }
}

#[test]
fn a_file_without_a_header_has_that_one_problem() {
    let text = file_of(&script("x y z=-nothing"));
    let headless = text.split_once('\n').unwrap().1;
    check_problems(headless, &[(1, BadField)], "no chart");
    check_problems("not json\nnor this\n", &[(1, Malformed)], "no chart");
}

#[test]
fn line_ends_of_other_systems_a_byte_order_mark_and_blank_lines_do_no_harm() {
    // A reader may ignore a byte order mark (RFC 8259, section 8.1), and CR and LF
    // are white space of JSON (section 2).
    let text = file_of(&script("x y"));
    check_sound(&text.replace('\n', "\r\n"), "x y");
    check_sound(&format!("\u{feff}{text}"), "x y");
    check_sound(&text.replace('\n', "\n\n  \t\r\n"), "x y");
    check_sound(&format!("\n\n{text}"), "x y");
    check_sound(text.trim_end(), "x y");
}

#[test]
fn blank_lines_are_counted() {
    let broken = file_of(&[json!({"kind": "smash"})]).replace('\n', "\n\n");
    check_problems(&broken, &[(3, UnknownKind)], "");
    let late_header = format!("\n\n{}", set(header_json(), "/chart", json!(2)));
    check_problems(&late_header, &[(3, BadField)], "no chart");
}

#[test]
fn white_space_that_json_does_not_know_is_no_blank_line() {
    // No-break space and ideographic space are no white space in RFC 8259, §2.
    let text = file_of(&script("x y")).replacen('\n', "\n\u{a0}\n\u{3000}\n", 1);
    check_problems(&text, &[(2, Malformed), (3, Malformed)], "x y");
}

#[test]
fn every_problem_is_found_with_its_line_and_the_rest_is_kept() {
    let entries = [
        json!({"id": "x", "kind": "note", "text": "x"}),
        json!({"kind": "shot", "team": "a", "stroke": "slam"}),
        json!({"id": "y", "kind": "note", "text": "y"}),
        json!({"kind": "retract", "target": "nothing"}),
        json!({"kind": "rally_end", "how": "net"}),
        json!({"id": "c", "kind": "amend", "target": "y", "with": {"kind": "note", "text": "z"}}),
    ];
    let expected = [(3, UnknownStroke), (5, BadCorrection), (6, MissingField)];
    check_problems(&file_of(&entries), &expected, "x y:z");
}

#[test]
fn a_problem_says_line_entry_field_and_what_is_allowed() {
    let text = file_of(&[json!({"kind": "shot", "team": "a", "stroke": "slam"})]);
    let file = read_chart_file(text.as_bytes());
    let message = file.problems[0].to_string();
    for part in [
        "line 2: ",
        "entry `e1`",
        "`stroke`",
        "`\"slam\"`",
        "`drive`",
    ] {
        assert!(message.contains(part), "`{part}` in: {message}");
    }
}

#[test]
fn what_is_corrected_has_to_stand_earlier_in_the_file() {
    let entries = script("c=-x x y d=-x");
    check_problems(&file_of(&entries), &[(2, BadCorrection)], "y");
}

#[test]
fn a_second_header_is_an_entry_of_unknown_kind() {
    let text = file_of(&[]).repeat(2);
    let text = text.replacen("{\"kind\"", "{\"at\":\"2026-05-02T12:00:00Z\",\"kind\"", 2);
    check_problems(&text, &[(2, UnknownKind)], "");
}

#[test]
fn where_every_entry_has_a_seq_that_order_counts() {
    let entries = [
        note_at("z", &json!(30)),
        note_at("x", &json!(1)),
        note_at("y", &json!(2)),
    ];
    check_sound(&file_of(&entries), "x y z");
    let file = read_chart_file(file_of(&entries).as_bytes());
    assert_eq!(positions(&file), [1, 2, 30]);
    assert_eq!(file.chart.unwrap().last_seq(), Seq(30));
}

#[test]
fn seq_decides_what_stands_earlier() {
    let mut correction = json!({"id": "c", "kind": "retract", "target": "x", "seq": 3});
    let entries = [
        correction.clone(),
        note_at("x", &json!(1)),
        note_at("y", &json!(2)),
    ];
    check_sound(&file_of(&entries), "y");
    correction["seq"] = json!(1);
    let entries = [note_at("x", &json!(2)), correction, note_at("y", &json!(3))];
    check_problems(&file_of(&entries), &[(3, BadCorrection)], "x y");
}

#[test]
fn seq_of_null_counts_as_none() {
    let entries = [
        note_at("x", &json!(null)),
        json!({"id": "y", "kind": "note", "text": "y"}),
    ];
    check_sound(&file_of(&entries), "x y");
}

#[test]
fn a_mixture_of_entries_with_and_without_seq_is_refused() {
    let entries = [
        note_at("x", &json!(2)),
        json!({"id": "y", "kind": "note", "text": "y"}),
        note_at("z", &json!(1)),
    ];
    check_problems(&file_of(&entries), &[(3, BadOrder)], "x y z");
    let file = read_chart_file(file_of(&entries).as_bytes());
    let message = file.problems[0].refusal.to_string();
    for part in [
        "entry `y`",
        "`seq` is missing",
        "2 other entries",
        "every entry has one or none",
    ] {
        assert!(message.contains(part), "`{part}` in: {message}");
    }
}

#[test]
fn a_line_that_is_refused_makes_no_mixture() {
    let entries = [
        note_at("x", &json!(2)),
        json!({"kind": "smash"}),
        note_at("z", &json!(1)),
    ];
    check_problems(&file_of(&entries), &[(3, UnknownKind)], "z x");
}

#[test]
fn a_seq_that_is_taken_is_refused() {
    let entries = [
        note_at("x", &json!(1)),
        note_at("y", &json!(2)),
        note_at("z", &json!(2)),
    ];
    check_problems(&file_of(&entries), &[(4, BadOrder)], "x y");
}

#[test]
fn a_seq_is_a_whole_number_from_1_to_2_53_minus_1() {
    // Up to here every reader of JSON keeps whole numbers apart (RFC 8259, section
    // 6).
    for seq in [
        json!(0),
        json!(-1),
        json!("1"),
        json!(1.5),
        json!(9_007_199_254_740_992_u64),
    ] {
        check_problems(&file_of(&[note_at("x", &seq)]), &[(2, BadField)], "");
    }
    // The greatest one of all must not stop the count.
    check_problems(
        &file_of(&[note_at("x", &json!(u64::MAX))]),
        &[(2, BadField)],
        "",
    );
    let last = note_at("x", &json!(9_007_199_254_740_991_u64));
    check_sound(&file_of(&[last]), "x");
}

#[test]
fn the_same_entry_twice_counts_once_and_is_noted() {
    let mut entries = script("x y");
    entries.push(entries[0].clone());
    let file = read_chart_file(file_of(&entries).as_bytes());
    assert_eq!(problems(&file), []);
    assert_eq!(effective(&file), "x y");
    let [(4, message)] = noted(&file)[..] else {
        panic!("{:?}", file.notes);
    };
    assert!(
        message.contains("`x`") && message.contains("once"),
        "{message}"
    );
}

#[test]
fn the_same_entry_twice_counts_at_its_first_seq() {
    let entries = [
        note_at("x", &json!(3)),
        note_at("y", &json!(2)),
        note_at("x", &json!(1)),
    ];
    let file = read_chart_file(file_of(&entries).as_bytes());
    assert_eq!(problems(&file), []);
    assert_eq!(effective(&file), "x y");
    assert_eq!(positions(&file), [1, 2]);
    assert_eq!(noted(&file).len(), 1);
}

#[test]
fn a_stored_line_that_stands_there_twice_takes_no_position_from_itself() {
    let entries = [
        note_at("x", &json!(1)),
        note_at("y", &json!(2)),
        note_at("x", &json!(1)),
    ];
    let file = read_chart_file(file_of(&entries).as_bytes());
    assert_eq!(problems(&file), []);
    assert_eq!(effective(&file), "x y");
    assert_eq!(noted(&file).len(), 1);
}

#[test]
fn the_same_id_with_other_content_is_refused() {
    let mut entries = script("x y");
    entries.push(json!({"id": "x", "kind": "note", "text": "other"}));
    check_problems(&file_of(&entries), &[(4, IdConflict)], "x y");
}

#[test]
fn unknown_fields_survive_reading() {
    let entry = json!({"id": "x", "at": NOON, "kind": "note", "text": "x", "mood": ["good", null]});
    let text = file_of(std::slice::from_ref(&entry));
    let chart = read_chart_file(text.as_bytes()).chart.unwrap();
    assert_eq!(
        Value::Object(chart.entry("x").unwrap().to_json().clone()),
        entry
    );
    assert_eq!(Value::Object(chart.effective()[0].to_json()), entry);
}

#[test]
fn notes_and_problems_come_in_the_order_of_lines() {
    let mut entries = script("x");
    entries.push(json!({"kind": "smash"}));
    entries.push(entries[0].clone());
    entries.push(json!({"kind": "retract", "target": "nothing"}));
    let text = file_of(&entries) + "{\"torn";
    let file = read_chart_file(text.as_bytes());
    assert_eq!(problems(&file), [(3, UnknownKind), (5, BadCorrection)]);
    let lines: Vec<usize> = noted(&file).iter().map(|(line, _)| *line).collect();
    assert_eq!(lines, [4, 6]);
}
