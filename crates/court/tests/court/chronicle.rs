//! The chronicle against what the score and the chart say by themselves.

use rallytide_chart::{Chart, Play, Team};
use rallytide_court::{Chronicle, Part, Review};
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

fn told(lines: &[(u32, &str)]) -> Chronicle {
    let lines: Vec<String> = lines
        .iter()
        .map(|(second, fields)| at(*second, fields))
        .collect();
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    Chronicle::new(&chart(&lines), &no_plugins())
}

#[test]
fn every_simulated_match_is_told_as_it_was_scored() {
    for seed in 0..12 {
        let chart = simulated(seed);
        let chronicle = Chronicle::new(&chart, &no_plugins());
        let mut play = PlayByPlay::new(chart.header());
        for entry in chart.effective() {
            play.step(&entry);
        }
        assert_eq!(&chronicle.closing, play.score(), "seed {seed}");
        let counted = chronicle.rallies().filter(|rally| rally.counted).count();
        assert_eq!(counted, play.score().rallies as usize, "seed {seed}");
        let numbers: Vec<u32> = chronicle.rallies().map(|rally| rally.number).collect();
        let expected: Vec<u32> = (1..).take(numbers.len()).collect();
        assert_eq!(numbers, expected, "seed {seed}");
    }
}

#[test]
fn every_effective_shot_is_told_once_and_in_order() {
    for seed in 0..12 {
        let chart = simulated(seed);
        let chronicle = Chronicle::new(&chart, &no_plugins());
        let told: Vec<_> = chronicle
            .rallies()
            .flat_map(rallytide_court::ToldRally::recorded_shots)
            .filter_map(|shot| shot.view.entry.clone())
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
        let chronicle = Chronicle::new(&simulated(seed), &no_plugins());
        let mut score = &chronicle.opening;
        let mut moment = i64::MIN;
        for part in &chronicle.parts {
            let (before, after, clocked) = match part {
                Part::Rally(rally) => (&rally.before, &rally.after, rally.began),
                Part::Aside(aside) => (&aside.before, &aside.after, aside.clocked),
            };
            // What falls into a rally is told after it, with the score of its moment.
            let within = matches!(part, Part::Aside(aside) if aside.rally.is_some());
            if !within {
                assert_eq!(before.points, score.points, "seed {seed}");
                assert!(chronicle.since_start(clocked) >= moment, "seed {seed}");
                moment = chronicle.since_start(clocked);
                score = after;
            }
        }
    }
}

#[test]
fn an_inserted_shot_is_told_in_its_place_and_its_time_is_an_estimate() {
    let chronicle = told(&[
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
    let rally = chronicle.rallies().next().unwrap();
    let strokes: Vec<_> = rally
        .shots
        .iter()
        .map(|shot| shot.view.stroke.unwrap().word())
        .collect();
    assert_eq!(strokes, ["serve", "return", "drop"]);
    let times: Vec<_> = rally
        .shots
        .iter()
        .map(|shot| {
            (
                chronicle.since_start(shot.clocked.unwrap()),
                shot.clocked.unwrap().estimated,
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
    let chronicle = told(&[
        (1, r#""kind":"shot","team":"a","stroke":"serve""#),
        (3, r#""kind":"shot","team":"a","stroke":"drop""#),
    ]);
    let rally = chronicle.rallies().next().unwrap();
    let assumed = &rally.shots[1];
    assert!(assumed.view.assumed && assumed.view.entry.is_none() && assumed.clocked.is_none());
    assert!(!rally.is_charted_in_full());
    assert!(rally.end.is_none() && !rally.counted);
}

#[test]
fn what_falls_into_a_rally_says_so_and_a_replayed_rally_is_not_counted() {
    let chronicle = told(&[
        (1, r#""kind":"note","text":"before""#),
        (2, r#""kind":"shot","team":"a","stroke":"serve""#),
        (3, r#""kind":"time_out","team":"b","medical":true"#),
        (4, r#""kind":"replay","reason":"a ball rolled in""#),
        (5, r#""kind":"penalty","team":"a""#),
    ]);
    let rallies: Vec<_> = chronicle.asides().map(|aside| aside.rally).collect();
    assert_eq!(rallies, [None, Some(1), None]);
    let rally = chronicle.rallies().next().unwrap();
    assert!(!rally.counted);
    assert_eq!(rally.end.as_ref().unwrap().view.how, Some("replay"));
    assert_eq!(chronicle.closing.points.b, 1);
}

#[test]
fn after_the_match_only_notes_are_told() {
    let mut lines = vec![(1, r#""kind":"retire","team":"a""#)];
    lines.push((2, r#""kind":"rally_end","won_by":"a""#));
    lines.push((3, r#""kind":"note","text":"shook hands""#));
    let chronicle = told(&lines);
    assert_eq!(chronicle.rallies().count(), 0);
    assert_eq!(chronicle.asides().count(), 2);
}

#[test]
fn a_match_without_entries_has_a_score_and_no_beginning() {
    let chronicle = told(&[]);
    assert_eq!(chronicle.begins, None);
    assert_eq!(chronicle.opening, chronicle.closing);
}

#[test]
fn the_review_tells_time_outs_and_notes_where_they_happened() {
    let chronicle = told(&[
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
    let review = Review::new(&chronicle);
    let told: Vec<_> = review
        .asides
        .iter()
        .map(|aside| {
            let words = aside.text.unwrap_or(&aside.what);
            (aside.after, aside.rally, aside.kind, aside.team, words)
        })
        .collect();
    let names = &chronicle.header.teams.b.name;
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
    assert!(review.asides[0].at < review.rallies[0].at);
    assert_eq!(review.asides[2].score.points.a, 1);
}
