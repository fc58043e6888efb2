//! The record against what the score and the chart say by themselves.

use rallytide_chart::{Chart, Play, Team};
use rallytide_court::{Review, match_record};
use rallytide_match_record::{MatchRecord, RecordItem};
use rallytide_scoring::PlayByPlay;

use crate::support::{header, no_plugins, read, simulated};

fn chart(entries: &[&str]) -> Chart {
    let header = header("told");
    let mut chart = Chart::new(header.clone());
    for text in entries {
        chart.push(read(&header, text));
    }
    chart
}

fn at(second: u32, fields: &str) -> String {
    format!(r#"{{"id":"e{second}","at":"2026-05-02T10:00:{second:02}.000Z",{fields}}}"#)
}

fn told(lines: &[(u32, &str)]) -> MatchRecord {
    let lines: Vec<String> = lines
        .iter()
        .map(|(second, fields)| at(*second, fields))
        .collect();
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    match_record(&chart(&lines), &no_plugins())
}

#[test]
fn every_simulated_match_is_told_as_it_was_scored() {
    for seed in 0..12 {
        let chart = simulated(seed);
        let record = match_record(&chart, &no_plugins());
        let mut play = PlayByPlay::new(chart.header());
        for entry in chart.effective() {
            play.step(&entry);
        }
        assert_eq!(&record.closing, play.score(), "seed {seed}");
        let counted = record.rallies().filter(|rally| rally.counted).count();
        assert_eq!(counted, play.score().rallies as usize, "seed {seed}");
        let numbers: Vec<u32> = record.rallies().map(|rally| rally.number).collect();
        let expected: Vec<u32> = (1..).take(numbers.len()).collect();
        assert_eq!(numbers, expected, "seed {seed}");
    }
}

#[test]
fn every_effective_shot_is_told_once_and_in_order() {
    for seed in 0..12 {
        let chart = simulated(seed);
        let record = match_record(&chart, &no_plugins());
        let told: Vec<_> = record
            .rallies()
            .flat_map(rallytide_match_record::RecordedRally::recorded_shots)
            .filter_map(|shot| shot.shown.entry.clone())
            .collect();
        let recorded: Vec<_> = chart
            .effective()
            .into_iter()
            .filter(|entry| matches!(*entry.play, Play::Shot(_)))
            .map(|entry| entry.id)
            .collect();
        assert_eq!(told, recorded, "seed {seed}");
    }
}

#[test]
fn the_score_goes_from_part_to_part_without_a_gap_and_time_never_goes_back() {
    for seed in 0..12 {
        let record = match_record(&simulated(seed), &no_plugins());
        let mut score = &record.opening;
        let mut moment = i64::MIN;
        for part in &record.items {
            let (before, after, time) = match part {
                RecordItem::Rally(rally) => (&rally.before, &rally.after, rally.began),
                RecordItem::RecordedIncident(incident) => {
                    (&incident.before, &incident.after, incident.time)
                }
            };
            // What falls into a rally is told after it, with the score of its moment.
            let within =
                matches!(part, RecordItem::RecordedIncident(incident) if incident.rally.is_some());
            if !within {
                assert_eq!(before.points, score.points, "seed {seed}");
                assert!(record.since_start(time) >= moment, "seed {seed}");
                moment = record.since_start(time);
                score = after;
            }
        }
    }
}

#[test]
fn an_inserted_shot_is_told_in_its_place_and_its_time_is_an_estimate() {
    let record = told(&[
        (1, r#""kind":"shot","team":"a","stroke":"serve""#),
        (
            3,
            r#""kind":"shot","team":"a","stroke":"drop","contact":"air","player":1"#,
        ),
        (4, r#""kind":"rally_end","how":"net","by":"a","player":0"#),
        (
            9,
            r#""kind":"insert","after":"e1","entry":{"kind":"shot","team":"b","stroke":"return"}"#,
        ),
    ]);
    let rally = record.rallies().next().unwrap();
    let strokes: Vec<_> = rally
        .shots
        .iter()
        .map(|shot| shot.shown.stroke.unwrap().word())
        .collect();
    assert_eq!(strokes, ["serve", "return", "drop"]);
    let times: Vec<_> = rally
        .shots
        .iter()
        .map(|shot| {
            (
                record.since_start(shot.time.unwrap()),
                shot.time.unwrap().estimated,
            )
        })
        .collect();
    assert_eq!(times, [(0, false), (1000, true), (2000, false)]);
    let given: Vec<_> = rally.shots.iter().map(|shot| shot.contact_given).collect();
    assert_eq!(given, [false, false, true]);
    assert!(rally.is_charted_in_full());
}

#[test]
fn an_assumed_shot_has_neither_entry_nor_time() {
    let record = told(&[
        (1, r#""kind":"shot","team":"a","stroke":"serve""#),
        (3, r#""kind":"shot","team":"a","stroke":"drop""#),
    ]);
    let rally = record.rallies().next().unwrap();
    let assumed = &rally.shots[1];
    assert!(assumed.shown.assumed && assumed.shown.entry.is_none() && assumed.time.is_none());
    assert!(!rally.is_charted_in_full());
    assert!(rally.end.is_none() && !rally.counted);
}

#[test]
fn what_falls_into_a_rally_says_so_and_a_replayed_rally_is_not_counted() {
    let record = told(&[
        (1, r#""kind":"note","text":"before""#),
        (2, r#""kind":"shot","team":"a","stroke":"serve""#),
        (3, r#""kind":"time_out","team":"b","medical":true"#),
        (4, r#""kind":"replay","reason":"a ball rolled in""#),
        (5, r#""kind":"penalty","team":"a""#),
    ]);
    let rallies: Vec<_> = record.incidents().map(|incident| incident.rally).collect();
    assert_eq!(rallies, [None, Some(1), None]);
    let rally = record.rallies().next().unwrap();
    assert!(!rally.counted);
    assert_eq!(rally.end.as_ref().unwrap().shown.how, Some("replay"));
    assert_eq!(record.closing.points.b, 1);
}

#[test]
fn after_the_match_only_notes_are_told() {
    let mut lines = vec![(1, r#""kind":"retire","team":"a""#)];
    lines.push((2, r#""kind":"rally_end","won_by":"a""#));
    lines.push((3, r#""kind":"note","text":"shook hands""#));
    let record = told(&lines);
    assert_eq!(record.rallies().count(), 0);
    assert_eq!(record.incidents().count(), 2);
}

#[test]
fn a_match_without_entries_has_a_score_and_no_beginning() {
    let record = told(&[]);
    assert_eq!(record.begins, None);
    assert_eq!(record.opening, record.closing);
}

#[test]
fn the_review_tells_time_outs_and_notes_where_they_happened() {
    let record = told(&[
        (1, r#""kind":"note","text":"windy""#),
        (2, r#""kind":"shot","team":"a","stroke":"serve""#),
        (3, r#""kind":"note","text":"late call""#),
        (4, r#""kind":"rally_end","won_by":"a""#),
        (5, r#""kind":"time_out","team":"b""#),
        (6, r#""kind":"rally_end","won_by":"a""#),
        (7, r#""kind":"time_out","team":"b","medical":true"#),
        (8, r#""kind":"note","text":"removed""#),
        (9, r#""kind":"retract","target":"e8""#),
    ]);
    let review = Review::new(&record);
    let told: Vec<_> = review
        .incidents
        .iter()
        .map(|incident| {
            let words = incident.text.unwrap_or(&incident.what);
            (
                incident.after,
                incident.rally,
                incident.kind,
                incident.team,
                words,
            )
        })
        .collect();
    let names = &record.header.teams.b.name;
    let (asked, hurt) = (
        format!("time-out for {names}, 1 left"),
        format!("medical time-out for {names}"),
    );
    assert_eq!(
        told,
        [
            (0, None, "note", None, "windy"),
            (1, Some(1), "note", None, "late call"),
            (1, None, "time_out", Some(Team::B), asked.as_str()),
            (2, None, "time_out", Some(Team::B), hurt.as_str()),
        ]
    );
    assert!(review.incidents[0].at < review.rallies[0].at);
    assert_eq!(review.incidents[2].score.points.a, 1);
}
