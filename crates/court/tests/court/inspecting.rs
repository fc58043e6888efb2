//! Looking a chart file over.

use rallytide_court::inspect;

use crate::support::header;

fn file(lines: &[&str]) -> Vec<u8> {
    let header = serde_json::to_string(header("inspected").to_json()).unwrap();
    let mut text = header + "\n";
    for (place, line) in lines.iter().enumerate() {
        let start = format!(
            r#"{{"id":"e{}","at":"2026-05-02T10:00:00.000Z","#,
            place + 1
        );
        text.push_str(&line.replacen('{', &start, 1));
        text.push('\n');
    }
    text.into_bytes()
}

#[test]
fn what_a_host_would_refuse_after_the_match_is_found_by_its_line() {
    let won = r#"{"kind":"rally_end","won_by":"a"}"#;
    let mut lines = vec![won; 11];
    lines.push(r#"{"kind":"note","text":"well played"}"#);
    lines.push(r#"{"kind":"rally_end","won_by":"b"}"#);
    let found = inspect(&file(&lines));
    assert_eq!(found.problems, []);
    let late: Vec<usize> = found.late.iter().map(|problem| problem.line).collect();
    assert_eq!(late, [14]);
}

#[test]
fn an_entry_counts_as_late_by_what_stood_before_it() {
    // The last point was given to the wrong team when `e13` came: by then the
    // match was not over, although it is after the correction that follows.
    let won = r#"{"kind":"rally_end","won_by":"a"}"#;
    let mut lines = vec![won; 10];
    lines.push(r#"{"kind":"rally_end","won_by":"b"}"#);
    lines.push(r#"{"kind":"rally_end","won_by":"b"}"#);
    lines.push(r#"{"kind":"amend","target":"e11","with":{"kind":"rally_end","won_by":"a"}}"#);
    let found = inspect(&file(&lines));
    assert!(found.problems.is_empty() && found.late.is_empty());
    // Here it had been put right before.
    lines.swap(11, 12);
    assert_eq!(inspect(&file(&lines)).late.len(), 1);
}

#[test]
fn flags_are_those_of_the_effective_chart() {
    let found = inspect(&file(&[
        r#"{"kind":"shot","team":"a","stroke":"serve"}"#,
        r#"{"kind":"shot","team":"a","stroke":"drop"}"#,
        r#"{"kind":"shot","team":"a","stroke":"dink"}"#,
        r#"{"kind":"insert","after":"e1","entry":{"kind":"shot","team":"b","stroke":"return"}}"#,
    ]));
    let flagged: Vec<(usize, &str)> = found
        .flagged
        .iter()
        .map(|found| (found.line, found.flag.word()))
        .collect();
    assert_eq!(flagged, [(4, "missed_shot")]);
}
