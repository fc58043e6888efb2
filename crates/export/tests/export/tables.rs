//! The tables: RFC 4180, the same columns in every line, nothing a formula.

use std::collections::BTreeSet;

use proptest::prelude::*;
use rallytide_export::tables::{ByteOrderMark, Table, write};
use rallytide_match_record::MatchRecord;
use rallytide_simulate::Plan;

use crate::support::{chart, details, read, texts, told, with_texts};

fn text(record: &MatchRecord, table: Table, mark: ByteOrderMark) -> String {
    let mut bytes = Vec::new();
    write(record, table, mark, &mut bytes).unwrap();
    String::from_utf8(bytes).unwrap()
}

/// Reads RFC 4180 by its grammar (section 2) and nothing more lenient.
fn parse(text: &str) -> Vec<Vec<String>> {
    let mut rows = vec![vec![String::new()]];
    let mut rest = text
        .strip_suffix("\r\n")
        .expect("the last line ends in CRLF");
    loop {
        let field = rows.last_mut().unwrap().last_mut().unwrap();
        if let Some(quoted) = rest.strip_prefix('"') {
            let mut left = quoted;
            loop {
                let at = left.find('"').expect("a quote that is closed");
                field.push_str(&left[..at]);
                left = &left[at + 1..];
                match left.strip_prefix('"') {
                    Some(more) => {
                        field.push('"');
                        left = more;
                    }
                    None => break,
                }
            }
            rest = left;
        } else {
            let at = rest.find([',', '\r', '\n', '"']).unwrap_or(rest.len());
            field.push_str(&rest[..at]);
            rest = &rest[at..];
        }
        if let Some(next) = rest.strip_prefix(',') {
            rows.last_mut().unwrap().push(String::new());
            rest = next;
        } else if let Some(next) = rest.strip_prefix("\r\n") {
            rows.push(vec![String::new()]);
            rest = next;
        } else {
            assert_eq!(rest, "", "a field ends with a comma or the line");
            return rows;
        }
    }
}

/// The cells of a column, without its name.
fn column(rows: &[Vec<String>], name: &str) -> Vec<String> {
    let at = rows[0].iter().position(|one| one == name);
    let at = at.unwrap_or_else(|| panic!("there is no column `{name}`"));
    rows[1..].iter().map(|row| row[at].clone()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn whatever_the_names_are_the_lines_keep_to_the_grammar_and_hold_no_formula(
        seed in 0u64..1000, detail in details(), texts in texts(),
    ) {
        let record = with_texts(seed, detail, &texts);
        for table in Table::ALL {
            let rows = parse(&text(&record, *table, ByteOrderMark::Without));
            for row in &rows {
                prop_assert_eq!(row.len(), table.columns().count());
                for cell in row {
                    let first = cell.chars().next().unwrap_or('x');
                    prop_assert!(!"=+-@\t\r\n\0＝＋－＠".contains(first), "{:?}", cell);
                }
            }
        }
    }
}

#[test]
fn names_of_columns_differ_and_have_a_meaning_in_the_readme() {
    let readme = include_str!("../../README.md");
    for table in Table::ALL {
        let names: BTreeSet<_> = table.columns().map(|(name, _)| name).collect();
        assert_eq!(names.len(), table.columns().count(), "{table:?}");
        for (name, about) in table.columns() {
            let line = format!("| `{name}` | {about} |");
            assert!(readme.contains(&line), "the README lacks: {line}");
        }
    }
}

#[test]
fn every_shot_and_every_rally_has_a_line() {
    for seed in 0..6 {
        let record = told(&chart(&Plan::new(seed)));
        let shots = parse(&text(&record, Table::Shots, ByteOrderMark::Without));
        let expected: usize = record.rallies().map(|rally| rally.shots.len()).sum();
        assert_eq!(shots.len() - 1, expected, "seed {seed}");
        let rallies = parse(&text(&record, Table::Rallies, ByteOrderMark::Without));
        assert_eq!(rallies.len() - 1, record.rallies().count(), "seed {seed}");
        let events = parse(&text(&record, Table::Events, ByteOrderMark::Without));
        assert_eq!(events.len() - 1, record.incidents().count(), "seed {seed}");
    }
}

#[test]
fn the_points_of_the_table_add_up_to_the_final_score() {
    for seed in 0..6 {
        let record = told(&chart(&Plan {
            incidents: rallytide_simulate::Incidents::None,
            ..Plan::new(seed)
        }));
        let rows = parse(&text(&record, Table::Rallies, ByteOrderMark::Without));
        let points = column(&rows, "point_to");
        let of = |team: &str| points.iter().filter(|one| *one == team).count() as u32;
        let finished = record.closing.finished.iter();
        let (a, b) = finished.fold((0, 0), |(a, b), game| (a + game.a, b + game.b));
        assert_eq!((of("a"), of("b")), (a, b), "seed {seed}");
        let games = column(&rows, "game_over")
            .iter()
            .filter(|one| *one == "1")
            .count();
        assert_eq!(games, record.closing.finished.len(), "seed {seed}");
    }
}

#[test]
fn a_rally_by_hand_has_the_cells_a_coach_would_write() {
    let record = told(&read(concat!(
        r#"{"kind":"match","chart":1,"id":"h","teams":{"a":{"name":"Reed / Lund","players":["Ada Reed","Bo Lund"]},"b":{"name":"Marsh / Ford","players":["Cy Marsh","Di Ford"]}},"format":{"discipline":"doubles","scoring":"side_out","points":11,"win_by":2,"games":1},"first_serve":"a"}"#,
        "\n",
        r#"{"id":"s1","at":"2026-05-02T10:00:00.000Z","kind":"shot","team":"a","stroke":"serve"}"#,
        "\n",
        r#"{"id":"s2","at":"2026-05-02T10:00:01.250Z","kind":"shot","team":"b","stroke":"return","cues":["attackable"]}"#,
        "\n",
        r#"{"id":"s4","at":"2026-05-02T10:00:03.000Z","kind":"shot","team":"b","stroke":"volley","player":1,"contact":"half_volley"}"#,
        "\n",
        r#"{"id":"e1","at":"2026-05-02T10:00:04.000Z","kind":"rally_end","how":"fault","by":"b","fault":"kitchen","player":1}"#,
        "\n",
    )));
    let rows = parse(&text(&record, Table::Shots, ByteOrderMark::Without));
    for (name, expected) in [
        ("shot", "1 2 3 4"),
        ("entry", "s1 s2  s4"),
        ("match_seconds", "0.000 1.250  3.000"),
        ("team", "a b a b"),
        ("player_name", "Ada Reed Cy Marsh  Di Ford"),
        ("player_source", "score score  given"),
        ("stroke", "serve return  volley"),
        ("contact", " bounce  half_volley"),
        ("contact_source", " assumed  given"),
        ("attackable", "0 1  0"),
        ("assumed", "0 0 1 0"),
        ("flags", "   missed_shot"),
        ("last_shot", "0 0 0 1"),
        ("won", "1 0 1 0"),
        ("how", "fault fault fault fault"),
    ] {
        assert_eq!(column(&rows, name).join(" "), expected, "{name}");
    }
    let rows = parse(&text(&record, Table::Rallies, ByteOrderMark::Without));
    for (name, expected) in [
        ("seconds", "4.000"),
        ("shots", "4"),
        ("shots_recorded", "3"),
        ("complete", "0"),
        ("call_before", "call 0-0-2"),
        ("server_name", "Ada Reed"),
        ("receiver_name", "Cy Marsh"),
        ("won_by", "a"),
        ("fault", "kitchen"),
        ("by_player_name", "Di Ford"),
        ("point_to", "a"),
        ("side_out", "0"),
        ("points_a_after", "1"),
        ("call_after", "call 1-0-2"),
        ("third_stroke", ""),
        ("last_stroke", "volley"),
        ("attackable_b", "1"),
        ("entry", "e1"),
        ("flags", "missed_shot"),
    ] {
        assert_eq!(column(&rows, name), [expected], "{name}");
    }
}

/// The cells of a demo chart's table, as the program reads it.
fn demo(name: &str, table: Table) -> Vec<Vec<String>> {
    let path = format!("{}/../../demo-streams/{name}", env!("CARGO_MANIFEST_DIR"));
    let chart = read(&std::fs::read_to_string(path).unwrap());
    parse(&text(&told(&chart), table, ByteOrderMark::Without))
}

#[test]
fn a_score_only_chart_has_no_number_about_shots_and_says_why() {
    let rows = demo("orchard-score-only.jsonl", Table::Rallies);
    assert_eq!(rows.len(), 116, "the heading and 115 rallies");
    for name in [
        "shots",
        "shots_recorded",
        "complete",
        "how",
        "third_stroke",
        "last_stroke",
        "first_holder",
        "last_holder",
        "changes",
        "attackable_a",
        "attackable_b",
    ] {
        assert!(column(&rows, name).iter().all(String::is_empty), "{name}");
    }
    assert!(column(&rows, "charting").iter().all(|cell| cell == "score"));
    assert!(column(&rows, "won_by").iter().all(|cell| !cell.is_empty()));
}

#[test]
fn the_depth_of_charting_stands_in_every_line_of_every_table() {
    for (name, depth) in [
        ("orchard-score-only.jsonl", "score"),
        ("lantern-ends-and-cues.jsonl", "ends"),
        ("harbour-final.jsonl", "shots"),
    ] {
        for table in Table::ALL {
            let rows = demo(name, *table);
            assert_eq!(rows[0].last().unwrap(), "charting");
            assert!(
                column(&rows, "charting").iter().all(|cell| cell == depth),
                "{name}"
            );
        }
    }
    let rows = demo("lantern-ends-and-cues.jsonl", Table::Rallies);
    assert!(column(&rows, "shots").iter().all(String::is_empty));
    assert!(
        column(&rows, "shots_recorded")
            .iter()
            .all(|cell| !cell.is_empty())
    );
}

#[test]
fn the_byte_order_mark_stands_there_where_it_is_asked_for() {
    let record = told(&chart(&Plan::new(1)));
    let plain = text(&record, Table::Rallies, ByteOrderMark::Without);
    let marked = text(&record, Table::Rallies, ByteOrderMark::With);
    assert_eq!(marked.strip_prefix('\u{feff}'), Some(plain.as_str()));
}
