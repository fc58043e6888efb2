//! Files that a power cut, a disk or an editor has damaged.

use rallytide_chart::RefusalCode::Malformed;
use rallytide_chart::read_chart_file;
use serde_json::json;

use crate::file::{effective, file_of, noted, problems};
use crate::notation::{NOON, script};

#[test]
fn a_file_cut_at_any_byte_loses_nothing_but_the_torn_line() {
    let mut entries = script("x y z");
    entries[2]["mood"] = json!("zufällig 球");
    let text = file_of(&entries);
    let header_end = text.find('\n').unwrap();
    for cut in header_end..=text.len() {
        let file = read_chart_file(&text.as_bytes()[..cut]);
        assert_eq!(problems(&file), [], "cut at {cut}");
        // A line is whole once its last brace is there; its line end is not needed.
        let rest = &text.as_bytes()[header_end + 1..];
        let kept = cut.saturating_sub(header_end + 1);
        let whole = rest[..kept].split_inclusive(|byte| *byte == b'\n');
        let whole = whole.filter(|line| line.ends_with(b"}\n") || line.ends_with(b"}"));
        let ids = ["", "x", "x y", "x y z"][whole.count()];
        assert_eq!(effective(&file), ids, "cut at {cut}");
        let torn = kept > 0 && !matches!(rest[kept - 1], b'\n' | b'}');
        assert_eq!(!noted(&file).is_empty(), torn, "cut at {cut}");
    }
}

#[test]
fn a_torn_line_is_reported_with_its_number() {
    let text = file_of(&script("x y"));
    let file = read_chart_file(&text.as_bytes()[..text.len() - 5]);
    let [(3, message)] = noted(&file)[..] else {
        panic!("{:?}", file.notes);
    };
    assert!(
        message.contains("torn") && message.contains("dropped"),
        "{message}"
    );
}

#[test]
fn a_file_cut_in_its_header_has_no_chart() {
    let text = file_of(&script("x"));
    let header_end = text.find('\n').unwrap();
    for cut in 1..header_end {
        let file = read_chart_file(&text.as_bytes()[..cut]);
        assert_eq!(problems(&file), [(1, Malformed)], "cut at {cut}");
        assert!(file.chart.is_none());
    }
}

#[test]
fn a_last_line_of_zeros_is_a_torn_one() {
    // Some file systems fill with zeros what was not written before a power cut.
    let mut bytes = file_of(&script("x")).into_bytes();
    bytes.extend([0; 512]);
    let file = read_chart_file(&bytes);
    assert_eq!(problems(&file), []);
    assert_eq!(effective(&file), "x");
    assert_eq!(noted(&file).len(), 1);
}

#[test]
fn a_broken_line_with_a_line_end_is_a_problem_wherever_it_stands() {
    let text = file_of(&script("x y"));
    for (place, line) in [(3, "{\"id\":\n{\"id\":\"y\""), (4, "{\"torn")] {
        let mut lines: Vec<&str> = text.lines().collect();
        lines.insert(place - 1, line.lines().next().unwrap());
        let file = read_chart_file((lines.join("\n") + "\n").as_bytes());
        assert_eq!(problems(&file), [(place, Malformed)]);
        assert_eq!(effective(&file), "x y");
    }
}

#[test]
fn a_line_that_is_not_utf_8_is_a_problem_and_the_rest_is_kept() {
    // JSON that is exchanged is UTF-8 (RFC 8259, section 8.1).
    let text = file_of(&script("x y"));
    let mut bytes = text.into_bytes();
    let place = bytes
        .windows(8)
        .position(|window| window == b"\"text\":\"")
        .unwrap();
    bytes[place + 8] = 0xff;
    let file = read_chart_file(&bytes);
    assert_eq!(problems(&file), [(2, Malformed)]);
    assert!(file.problems[0].to_string().contains("UTF-8"));
    assert_eq!(effective(&file), "y");
}

/// A record as a host stores it. The checksum is CRC-32 of the bytes before
/// `,"crc"`, computed with `zlib.crc32` of Python 3.
const STORED: &str = r#"{"id":"x","at":"2026-05-02T12:00:00.000Z","kind":"note","text":"net cord","client":"ipad","seq":7,"received":"2026-05-02T12:00:00.120Z","crc":"760c3275"}"#;

fn stored_file(line: &str) -> String {
    format!("{}{line}\n", file_of(&[]))
}

#[test]
fn a_stored_line_with_its_checksum_is_sound() {
    let file = read_chart_file(stored_file(STORED).as_bytes());
    assert_eq!(problems(&file), []);
    assert_eq!(noted(&file), []);
    assert_eq!(effective(&file), "x:net cord");
    let spaced = stored_file(&format!("  {STORED} \r"));
    assert_eq!(noted(&read_chart_file(spaced.as_bytes())), []);
}

#[test]
fn a_stored_line_that_was_changed_is_noted_and_counts_all_the_same() {
    for (found, put) in [
        ("net cord", "let cord"),
        ("\"crc\":\"", "\"crc\":\"f"),
        ("\"seq\":7", "\"seq\":8"),
    ] {
        let mut line = STORED.replacen(found, put, 1);
        if put.ends_with('f') {
            line.remove(line.len() - 3);
        }
        let file = read_chart_file(stored_file(&line).as_bytes());
        assert_eq!(problems(&file), [], "{line}");
        assert!(effective(&file).starts_with("x:"), "{line}");
        let [(2, message)] = noted(&file)[..] else {
            panic!("{line}: {:?}", file.notes);
        };
        assert!(message.contains("checksum"), "{message}");
    }
}

#[test]
fn a_checksum_that_is_no_number_is_a_damaged_one() {
    let end = STORED.len() - 10;
    for digits in ["zzzzzzzz", "+1234567", "        "] {
        let line = format!("{}{digits}\"}}", &STORED[..end]);
        let file = read_chart_file(stored_file(&line).as_bytes());
        assert_eq!(problems(&file), []);
        assert_eq!(noted(&file).len(), 1, "{line}");
    }
}

#[test]
fn the_checksum_of_the_header_is_looked_at_too() {
    let text = file_of(&script("x"));
    let damaged = text.replacen("}\n", ",\"crc\":\"00000000\"}\n", 1);
    let file = read_chart_file(damaged.as_bytes());
    assert_eq!(problems(&file), []);
    let lines: Vec<usize> = noted(&file).iter().map(|(line, _)| *line).collect();
    assert_eq!(lines, [1]);
}

#[test]
fn a_line_without_a_checksum_is_as_good_as_one_with_it() {
    let line = json!({"id": "x", "at": NOON, "kind": "note", "text": "x", "seq": 1});
    let file = read_chart_file(stored_file(&line.to_string()).as_bytes());
    assert_eq!(noted(&file), []);
    assert_eq!(effective(&file), "x");
}
