//! Reading a chart file that is sound: order, repeats, what is kept.

use rallytide_chart::{ChartFile, RefusalCode, read_chart_file};
use serde_json::{Value, json};

use crate::notation::{NOON, header_json, shown};

/// The text of a file: the header, then these entries, a line each.
pub(crate) fn file_text(entries: &[Value]) -> String {
    let mut text = header_json().to_string() + "\n";
    for entry in entries {
        text.push_str(&entry.to_string());
        text.push('\n');
    }
    text
}

/// A note with an id, the id as its text.
pub(crate) fn note(id: &str) -> Value {
    json!({"id": id, "at": NOON, "kind": "note", "text": id})
}

fn with_seq(id: &str, seq: u64) -> Value {
    let mut note = note(id);
    note["seq"] = json!(seq);
    note
}

fn read(entries: &[Value]) -> ChartFile {
    read_chart_file(file_text(entries).as_bytes())
}

#[track_caller]
fn check(file: &ChartFile, effective: &str) {
    assert_eq!(file.problems, []);
    let chart = file.chart.as_ref().expect("the header is sound");
    assert_eq!(shown(&chart.effective()), effective);
}

#[test]
fn without_seq_the_order_of_the_file_counts_and_gives_the_positions() {
    let file = read(&[note("x"), note("y")]);
    check(&file, "x y");
    let chart = file.chart.expect("the header is sound");
    let positions: Vec<u64> = chart.entries().iter().map(|(seq, _)| seq.0).collect();
    assert_eq!(positions, [1, 2]);
}

#[test]
fn with_seq_that_order_counts() {
    check(&read(&[with_seq("y", 2), with_seq("x", 1)]), "x y");
}

#[test]
fn a_mixture_of_both_is_refused_at_the_first_line_without() {
    let file = read(&[with_seq("x", 1), note("y"), note("z")]);
    let found: Vec<(usize, RefusalCode)> = file
        .problems
        .iter()
        .map(|problem| (problem.line, problem.refusal.code))
        .collect();
    assert_eq!(found, [(3, RefusalCode::BadOrder)]);
}

#[test]
fn a_position_that_is_there_twice_is_refused() {
    let file = read(&[with_seq("x", 1), with_seq("y", 1)]);
    assert_eq!(file.problems.len(), 1);
    assert_eq!(file.problems[0].refusal.code, RefusalCode::BadOrder);
}

#[test]
fn the_same_entry_again_counts_once_and_is_noted() {
    let file = read(&[note("x"), note("y"), note("x")]);
    check(&file, "x y");
    let noted: Vec<usize> = file.notes.iter().map(|note| note.line).collect();
    assert_eq!(noted, [4]);
}

#[test]
fn the_same_id_with_other_content_is_refused_by_its_line() {
    let mut other = note("x");
    other["text"] = json!("else");
    let file = read(&[note("x"), other]);
    assert_eq!(file.problems.len(), 1);
    assert_eq!(file.problems[0].line, 3);
    assert_eq!(file.problems[0].refusal.code, RefusalCode::IdConflict);
}

#[test]
fn a_byte_order_mark_other_line_ends_and_empty_lines_do_no_harm() {
    let text = file_text(&[note("x"), note("y")]).replace('\n', "\r\n\r\n");
    check(
        &read_chart_file(format!("\u{feff}{text}").as_bytes()),
        "x y",
    );
}

#[test]
fn a_last_line_without_line_end_is_read() {
    let text = file_text(&[note("x"), note("y")]);
    check(&read_chart_file(text.trim_end().as_bytes()), "x y");
}

#[test]
fn unknown_fields_of_header_and_entries_are_kept_and_those_of_the_host_are_not() {
    let mut header = header_json();
    header["surface"] = json!({"kind": "wood", "n": [1, 2.5, null]});
    let mut entry = with_seq("x", 1);
    entry["mood"] = json!("calm");
    entry["received"] = json!(NOON);
    entry["client"] = json!("laptop");
    let file = read_chart_file(format!("{header}\n{entry}\n").as_bytes());
    let chart = file.chart.expect("the header is sound");
    assert_eq!(chart.header().to_json()["surface"], header["surface"]);
    let kept = &chart.effective()[0].to_json();
    let names: Vec<&str> = kept.keys().map(String::as_str).collect();
    assert_eq!(names, ["id", "at", "kind", "text", "mood"]);
}

#[test]
fn problems_name_their_lines_and_reading_goes_on_after_them() {
    let bad = json!({"id": "b", "at": NOON, "kind": "shot", "team": "c", "stroke": "dink"});
    let late = json!({"id": "c", "at": NOON, "kind": "retract", "target": "nobody"});
    let file = read(&[note("x"), bad, note("y"), late]);
    let lines: Vec<usize> = file.problems.iter().map(|problem| problem.line).collect();
    assert_eq!(lines, [3, 5]);
    let chart = file.chart.expect("the header is sound");
    assert_eq!(shown(&chart.effective()), "x y");
    let shown = file.problems[0].to_string();
    assert!(
        shown.starts_with("line 3: ") && shown.contains("`team`"),
        "{shown}"
    );
}
