//! Reading a chart file that a power cut, a slip or an editor has damaged.

use rallytide_chart::{RefusalCode, read_chart_file};

use crate::file::{file_text, note};
use crate::notation::{header_json, shown};

#[track_caller]
fn check_unreadable(bytes: &[u8], code: RefusalCode, part: &str) {
    let file = read_chart_file(bytes);
    assert!(file.chart.is_none());
    assert_eq!(file.problems.len(), 1);
    assert_eq!(file.problems[0].line, 1);
    assert_eq!(file.problems[0].refusal.code, code);
    let message = &file.problems[0].refusal.message;
    assert!(message.contains(part), "{message}");
}

#[test]
fn without_a_header_nothing_can_be_read() {
    check_unreadable(b"", RefusalCode::MissingField, "empty");
    check_unreadable(b"\n\n", RefusalCode::MissingField, "empty");
    check_unreadable(b"nonsense\n", RefusalCode::Malformed, "JSON");
    check_unreadable(
        note("x").to_string().as_bytes(),
        RefusalCode::BadField,
        "kind",
    );
}

#[test]
fn a_file_cut_at_any_byte_of_its_last_line_loses_that_line_and_nothing_else() {
    let text = file_text(&[note("x"), note("y")]);
    let start = text.trim_end().rfind('\n').expect("there are lines") + 1;
    for cut in start..text.trim_end().len() {
        let file = read_chart_file(&text.as_bytes()[..cut]);
        assert_eq!(file.problems, [], "cut at {cut}");
        let chart = file.chart.expect("the header is sound");
        assert_eq!(shown(&chart.effective()), "x", "cut at {cut}");
        let torn = file
            .notes
            .iter()
            .filter(|note| note.message.contains("torn"));
        assert_eq!(torn.count(), usize::from(cut > start), "cut at {cut}");
    }
}

#[test]
fn a_broken_line_in_the_middle_is_no_torn_one() {
    let text = file_text(&[note("x")]) + "{\"id\":\n" + &note("y").to_string() + "\n";
    let file = read_chart_file(text.as_bytes());
    let lines: Vec<usize> = file.problems.iter().map(|problem| problem.line).collect();
    assert_eq!(lines, [3]);
}

#[test]
fn bytes_that_are_no_utf_8_are_a_problem_of_their_line() {
    let mut bytes = file_text(&[note("x")]).into_bytes();
    bytes.extend(b"{\"id\":\"\xff\"}\n");
    bytes.extend(note("y").to_string().bytes());
    let file = read_chart_file(&bytes);
    assert_eq!(file.problems.len(), 1);
    assert_eq!(file.problems[0].line, 3);
    assert!(file.problems[0].refusal.message.contains("UTF-8"));
    let chart = file.chart.expect("the header is sound");
    assert_eq!(shown(&chart.effective()), "x y");
}

#[test]
fn a_checksum_that_does_not_fit_is_noted_and_the_line_is_read() {
    let entry = note("x").to_string();
    let body = entry.trim_end_matches('}');
    let text = format!("{}\n{body},\"crc\":\"00000000\"}}\n", header_json());
    let file = read_chart_file(text.as_bytes());
    assert_eq!(file.problems, []);
    assert_eq!(file.notes.len(), 1);
    assert_eq!(file.notes[0].line, 2);
    assert!(file.notes[0].message.contains("checksum"));
    assert_eq!(shown(&file.chart.expect("sound").effective()), "x");
}
