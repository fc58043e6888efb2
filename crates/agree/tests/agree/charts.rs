//! Whole charts: with themselves, from both sides, with clocks apart, of
//! different depth and of different matches.

use rallytide_agree::{Names, in_words, objections};
use rallytide_simulate::{Detail, Mistakes};
use serde_json::{Value, json};

use crate::support::{agreement, differences, faultless, kind, read, simulated};

#[test]
fn a_chart_agrees_with_itself_fully() {
    for detail in Detail::ALL {
        for seed in 0..3 {
            let chart = simulated(seed, *detail, Mistakes::Lifelike);
            let found = agreement(&chart, &chart);
            assert_eq!(differences(&found), Vec::<String>::new(), "seed {seed}");
            assert_eq!((found.rallies.only_a, found.rallies.only_b), (0, 0));
            assert_eq!((found.shots.only_a, found.shots.only_b), (0, 0));
            let clocks = found.clocks.unwrap();
            assert_eq!((clocks.offset_ms, clocks.spread_ms), (0, 0));
            for kind in &found.kinds {
                assert_eq!(kind.agreed, kind.cases, "{}", kind.kind);
                assert!(
                    kind.kappa
                        .is_none_or(|kappa| (kappa.value - 1.0).abs() < 1e-9)
                );
            }
        }
    }
}

#[test]
fn from_the_other_side_everything_is_the_same() {
    for seed in 0..4 {
        let a = simulated(seed, Detail::EveryShot, Mistakes::Lifelike);
        let b = faultless(seed);
        let there = agreement(&a, &b);
        let back = agreement(&b, &a);
        assert_eq!(there.rallies.both, back.rallies.both);
        assert_eq!(there.rallies.only_a, back.rallies.only_b);
        assert_eq!(there.shots.only_a, back.shots.only_b, "seed {seed}");
        assert_eq!(there.shots.both, back.shots.both);
        let (one, other) = (there.clocks.unwrap(), back.clocks.unwrap());
        assert_eq!(one.offset_ms, -other.offset_ms);
        let mirrored: Vec<_> = there
            .differences
            .iter()
            .map(|place| {
                (
                    place.kind,
                    &place.entry_b,
                    &place.entry_a,
                    &place.b,
                    &place.a,
                )
            })
            .collect();
        let found: Vec<_> = back
            .differences
            .iter()
            .map(|place| {
                (
                    place.kind,
                    &place.entry_a,
                    &place.entry_b,
                    &place.a,
                    &place.b,
                )
            })
            .collect();
        assert_eq!(mirrored, found, "seed {seed}");
        for (one, other) in there.kinds.iter().zip(&back.kinds) {
            assert_eq!((one.cases, one.agreed), (other.cases, other.agreed));
            match (one.kappa, other.kappa) {
                (Some(one), Some(other)) => {
                    assert!((one.value - other.value).abs() < 1e-12);
                    assert!((one.error - other.error).abs() < 1e-9);
                }
                (one, other) => assert_eq!(one, other),
            }
        }
    }
}

/// All times of a chart so much later.
fn later(chart: &[Value], milliseconds: i64) -> Vec<Value> {
    let mut chart = chart.to_vec();
    for entry in &mut chart[1..] {
        let at = rallytide_chart::At::parse(entry["at"].as_str().unwrap()).unwrap();
        let moved = rallytide_chart::At::from_milliseconds(at.milliseconds() + milliseconds);
        entry["at"] = json!(moved.to_string());
    }
    chart
}

#[test]
fn clocks_apart_are_found_and_change_nothing() {
    let chart = faultless(3);
    for offset in [-86_400_000, -3_210, 45_000] {
        let found = agreement(&chart, &later(&chart, offset));
        assert_eq!(found.clocks.unwrap().offset_ms, offset);
        assert_eq!(differences(&found), Vec::<String>::new());
    }
}

#[test]
fn a_chart_made_from_a_video_at_another_pace_has_no_common_clock_and_still_aligns() {
    let chart = faultless(3);
    let mut slow = chart.clone();
    let first = rallytide_chart::At::parse(chart[1]["at"].as_str().unwrap()).unwrap();
    for entry in &mut slow[1..] {
        let at = rallytide_chart::At::parse(entry["at"].as_str().unwrap()).unwrap();
        let passed = at.milliseconds() - first.milliseconds();
        let at = rallytide_chart::At::from_milliseconds(first.milliseconds() + 3 * passed);
        entry["at"] = json!(at.to_string());
    }
    let found = agreement(&chart, &slow);
    assert_eq!(found.clocks, None);
    assert_eq!(differences(&found), Vec::<String>::new());
}

#[test]
fn a_chart_of_less_depth_is_compared_in_what_both_hold() {
    let every_shot = faultless(5);
    let score = simulated(5, Detail::ScoreOnly, Mistakes::None);
    let found = agreement(&every_shot, &score);
    assert_eq!((found.rallies.only_a, found.rallies.only_b), (0, 0));
    assert_eq!(found.shot_counts.rallies, 0);
    assert_eq!(differences(&found), Vec::<String>::new());
    let winner = kind(&found, "rally_winner");
    assert_eq!(winner.cases as usize, found.rallies.both);
    let stroke = kind(&found, "stroke");
    assert_eq!((stroke.cases, stroke.kappa), (0, None));
    assert!(stroke.notes[0].contains("nothing"));
    assert!(kind(&found, "rally_how").only_a > 0);
}

#[test]
fn two_charts_without_entries_have_nothing_that_differs() {
    let header = faultless(1)[..1].to_vec();
    let found = agreement(&header, &header);
    assert_eq!((found.rallies.both, found.clocks), (0, None));
    let words = in_words(&found, Names { a: "x", b: "y" }, 20);
    assert!(words.contains("no differences"), "{words}");
}

#[test]
fn charts_of_different_matches_are_told_apart() {
    let header = |change: &dyn Fn(&mut Value)| {
        let mut lines = faultless(1)[..1].to_vec();
        change(&mut lines[0]);
        read(&lines).header().clone()
    };
    let own = header(&|_| {});
    let check = |change: &dyn Fn(&mut Value), expected: Option<&str>| {
        let found = objections(&own, &header(change));
        match expected {
            None => assert_eq!(found, Vec::<String>::new()),
            Some(words) => assert!(found.len() == 1 && found[0].contains(words), "{found:?}"),
        }
    };
    check(&|_| {}, None);
    check(&|header| header["id"] = json!("another-laptop"), None);
    check(
        &|header| header["format"]["points"] = json!(15),
        Some("formats"),
    );
    check(
        &|header| header["teams"]["a"] = json!({"name": "Others"}),
        Some("teams differ"),
    );
    check(
        &|header| header["teams"]["a"]["name"] = json!("The home side"),
        None,
    );
    check(&|header| header["teams"]["a"] = json!({"name": ""}), None);
    check(
        &|header| {
            let teams = header["teams"].clone();
            header["teams"]["a"] = teams["b"].clone();
            header["teams"]["b"] = teams["a"].clone();
        },
        Some("the other way round"),
    );
}

#[test]
fn the_report_for_people_says_what_the_one_for_machines_says() {
    let a = simulated(7, Detail::EveryShot, Mistakes::Lifelike);
    let found = agreement(&a, &faultless(7));
    let words = in_words(&found, Names { a: "ann", b: "ben" }, 2);
    for expected in [
        format!("{} in both", found.shots.both),
        format!("2 of {}", found.differences.len()),
        format!("{:.2}", kind(&found, "stroke").kappa.unwrap().value),
        "a  ann".to_owned(),
        "b's clock is".to_owned(),
    ] {
        assert!(
            words.contains(&expected),
            "`{expected}` is missing in:\n{words}"
        );
    }
}
