//! Known slips, put into faultless charts, are what is found: no less, no more.

use proptest::prelude::*;
use rallytide_simulate::{Detail, Mistakes};
use serde_json::{Value, json};

use crate::support::{agreement, differences, faultless, simulated};

/// The places of the shots in a chart, but for serves, returns and the last shot
/// of a rally.
fn inner_shots(chart: &[Value]) -> Vec<usize> {
    (1..chart.len())
        .filter(|place| {
            let is_inner = chart[*place]["kind"] == "shot"
                && !["serve", "return"].contains(&chart[*place]["stroke"].as_str().unwrap());
            let later = chart[place + 1..].iter();
            let next = later
                .map(|entry| &entry["kind"])
                .find(|kind| *kind == "shot" || *kind == "rally_end");
            is_inner && next.is_some_and(|kind| kind == "shot")
        })
        .collect()
}

/// One thing that goes wrong, and how it is found.
#[derive(Debug, Clone, Copy)]
enum Slip {
    Stroke,
    Cue,
    Missed,
}

fn slips() -> impl Strategy<Value = Vec<(proptest::sample::Index, Slip)>> {
    let slip = proptest::sample::select(&[Slip::Stroke, Slip::Cue, Slip::Missed][..]);
    proptest::collection::vec((any::<proptest::sample::Index>(), slip), 0..12)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10))]

    #[test]
    fn slips_of_shots_are_found_where_they_are(seed in 0u64..500, slips in slips()) {
        let chart = faultless(seed);
        let shots = inner_shots(&chart);
        let mut other = chart.clone();
        let mut expected = Vec::new();
        let mut touched: Vec<usize> = Vec::new();
        for (index, slip) in slips {
            let place = shots[index.index(shots.len())];
            // A rally of its own for each, so that they do not meet.
            if touched.iter().any(|one| one.abs_diff(place) < 60) {
                continue;
            }
            touched.push(place);
            let id = chart[place]["id"].as_str().unwrap();
            let stroke = chart[place]["stroke"].as_str().unwrap();
            match slip {
                Slip::Stroke => {
                    // `other` is in no simulated chart and implies no contact.
                    other[place]["stroke"] = json!("other");
                    expected.push(format!("stroke {id} {id} {stroke} other"));
                }
                Slip::Cue => {
                    let has = chart.iter().any(|entry| {
                        (entry["id"] == *id && entry["cues"].to_string().contains("net_cord"))
                            || (entry["kind"] == "cue" && entry["cue"] == "net_cord")
                    });
                    prop_assume!(!has);
                    let mut cues = chart[place]["cues"].as_array().cloned().unwrap_or_default();
                    cues.push(json!("net_cord"));
                    other[place]["cues"] = json!(cues);
                    expected.push(format!("net_cord {id} {id} not_seen seen"));
                }
                Slip::Missed => {
                    other[place] = json!(null);
                    expected.push(format!("shot {id} - {stroke} missing"));
                }
            }
        }
        // Cues about a missed shot go with it; notes of cues by position would move.
        let missed: Vec<&str> = touched.iter()
            .filter(|place| other[**place].is_null())
            .map(|place| chart[*place]["id"].as_str().unwrap())
            .collect();
        let mut last_shot = "";
        let gone: Vec<bool> = chart.iter().map(|entry| {
            if entry["kind"] == "shot" {
                last_shot = entry["id"].as_str().unwrap();
            }
            let about = entry["shot"].as_str().unwrap_or(last_shot);
            entry["kind"] == "cue" && missed.contains(&about)
        }).collect();
        let other: Vec<Value> = other.into_iter().zip(gone)
            .filter(|(entry, gone)| !entry.is_null() && !gone)
            .map(|(entry, _)| entry)
            .collect();
        let found = agreement(&chart, &other);
        // A contact that was assumed from the stroke goes with a wrong stroke.
        let mut found: Vec<String> = differences(&found).into_iter()
            .filter(|one| !one.starts_with("contact "))
            .collect();
        found.sort_unstable();
        expected.sort_unstable();
        prop_assert_eq!(found, expected);
    }
}

#[test]
fn rallies_missed_by_one_are_found_and_the_others_stay_in_step() {
    for detail in Detail::ALL {
        let chart = simulated(11, *detail, Mistakes::None);
        let ends: Vec<usize> = (1..chart.len())
            .filter(|place| chart[*place]["kind"] == "rally_end")
            .collect();
        let (from, to) = (ends[8] + 1, ends[9]);
        let missed = chart[to]["id"].as_str().unwrap().to_owned();
        let other: Vec<Value> = chart[..from]
            .iter()
            .chain(&chart[to + 1..])
            .cloned()
            .collect();
        let found = agreement(&chart, &other);
        assert_eq!(
            (found.rallies.only_a, found.rallies.only_b),
            (1, 0),
            "{detail:?}"
        );
        let lonely: Vec<String> = differences(&found)
            .into_iter()
            .filter(|one| one.starts_with("rally "))
            .collect();
        assert_eq!(
            lonely,
            [format!("rally {missed} - rally 10 missing")],
            "{detail:?}"
        );
        assert!(
            !differences(&found)
                .iter()
                .any(|one| one.starts_with("rally_"))
        );
        assert!(
            !differences(&found)
                .iter()
                .any(|one| one.starts_with("stroke"))
        );
    }
}

#[test]
fn a_rally_given_to_the_wrong_team_is_one_difference_and_not_a_rally_missed() {
    for detail in Detail::ALL {
        let chart = simulated(12, *detail, Mistakes::None);
        let mut other = chart.clone();
        let place = (1..chart.len())
            .filter(|place| chart[*place]["kind"] == "rally_end")
            .nth(6)
            .unwrap();
        let id = chart[place]["id"].as_str().unwrap();
        let end = &mut other[place];
        let (winner, wrong) = match (
            end["won_by"].as_str(),
            end["by"].as_str(),
            end["how"].as_str(),
        ) {
            (Some(team), _, _) => (team.to_owned(), if team == "a" { "b" } else { "a" }),
            (_, Some(by), Some("winner" | "ace")) => {
                (by.to_owned(), if by == "a" { "b" } else { "a" })
            }
            (_, Some(by), _) => (
                (if by == "a" { "b" } else { "a" }).to_owned(),
                if by == "a" { "a" } else { "b" },
            ),
            _ => panic!("an end without a winner"),
        };
        *end = json!({"id": id, "at": end["at"], "kind": "rally_end", "won_by": wrong});
        let found = differences(&agreement(&chart, &other));
        assert_eq!(
            found,
            [format!("rally_winner {id} {id} {winner} {wrong}")],
            "{detail:?}"
        );
    }
}

/// A charter's own corrections say what was wrong before them: the chart without
/// them differs from the chart with them in just those entries.
#[test]
fn a_chart_before_its_corrections_differs_where_they_are() {
    let mut mended = 0;
    for seed in 0..6 {
        let chart = simulated(seed, Detail::EveryShot, Mistakes::Lifelike);
        let correction = |entry: &&Value| {
            ["retract", "amend", "insert"].contains(&entry["kind"].as_str().unwrap_or_default())
        };
        let raw: Vec<Value> = chart
            .iter()
            .filter(|entry| !correction(entry))
            .cloned()
            .collect();
        let found = agreement(&raw, &chart);
        for entry in chart.iter().filter(correction) {
            let target = entry["target"].as_str().unwrap_or_default();
            let amended = |word: &str| entry["kind"] == "amend" && entry["with"]["kind"] == word;
            let differs_in = |kind: &str| {
                found.differences.iter().any(|place| {
                    place.kind == kind
                        && place
                            .entry_a
                            .as_ref()
                            .is_some_and(|id| id.as_str() == target)
                })
            };
            if amended("shot") {
                assert!(differs_in("stroke"), "seed {seed}: `{target}`");
                mended += 1;
            } else if amended("rally_end") {
                assert!(differs_in("rally_how"), "seed {seed}: `{target}`");
                mended += 1;
            } else if entry["kind"] == "insert" {
                let id = entry["id"].as_str().unwrap();
                let is_gap = found.differences.iter().any(|place| {
                    place.kind == "shot"
                        && place
                            .entry_b
                            .as_ref()
                            .is_some_and(|found| found.as_str() == id)
                });
                assert!(is_gap, "seed {seed}: `{id}`");
                mended += 1;
            }
        }
        let strokes = found
            .differences
            .iter()
            .filter(|place| place.kind == "stroke")
            .count();
        let amended = chart
            .iter()
            .filter(|entry| entry["with"]["kind"] == "shot")
            .count();
        assert_eq!(strokes, amended, "seed {seed}: no other stroke differs");
    }
    assert!(mended > 20, "the simulated charters mend things: {mended}");
}
