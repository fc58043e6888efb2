//! Random chains of corrections against a second way to work out what remains.
//!
//! The model does not walk backwards as the crate does: it states when a
//! correction is in force as the rules state it, and keeps one list into which
//! every entry is put at its place the moment it comes.

use std::fmt::Write as _;

use proptest::prelude::*;
use rallytide_chart::{Chart, read_chart_file};
use serde_json::json;

use crate::file::{file_of, noted, problems};
use crate::notation::{chart_of, script, shown};

/// One entry of a random chart, in the order of the file. Numbers are places of
/// earlier entries.
#[derive(Debug, Clone)]
enum Line {
    Original,
    Retract(usize),
    Amend(usize),
    Insert(Option<usize>),
}

/// What is drawn for a line before it is known what stands before it.
type Draw = (u8, prop::sample::Index);

fn lines(draws: &[Draw]) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for (die, index) in draws {
        let plain: Vec<usize> = (0..lines.len())
            .filter(|place| matches!(lines[*place], Line::Original | Line::Insert(_)))
            .collect();
        let corrections: Vec<usize> = (0..lines.len())
            .filter(|place| matches!(lines[*place], Line::Retract(_) | Line::Amend(_)))
            .collect();
        let pick = |places: &[usize]| places[index.index(places.len())];
        lines.push(match die {
            0..=2 => Line::Original,
            3 => Line::Insert(None),
            _ if plain.is_empty() => Line::Original,
            4 => Line::Retract(pick(&plain)),
            5..=6 => Line::Amend(pick(&plain)),
            7..=8 => Line::Insert(Some(pick(&plain))),
            _ if corrections.is_empty() => Line::Retract(pick(&plain)),
            _ => Line::Retract(pick(&corrections)),
        });
    }
    lines
}

/// The lines in the short form of [`script`]; an entry at place 4 is `e4`, and
/// what an amend at place 7 says is `new7`.
fn as_script(lines: &[Line]) -> String {
    let mut text = String::new();
    for (place, line) in lines.iter().enumerate() {
        match line {
            Line::Original => write!(text, "e{place} "),
            Line::Retract(target) => write!(text, "e{place}=-e{target} "),
            Line::Amend(target) => write!(text, "e{place}=e{target}~new{place} "),
            Line::Insert(Some(after)) => write!(text, "e{place}=e{after}+e{place} "),
            Line::Insert(None) => write!(text, "e{place}=^+e{place} "),
        }
        .expect("writing to memory does not fail");
    }
    text
}

/// Whether the correction at `place` is in force: it is, unless a retract of it
/// is in force that no later correction of it overrules. Retracts and amends can
/// only be retracted, so any retract of it will do.
fn in_force(lines: &[Line], place: usize) -> bool {
    !(place + 1..lines.len()).any(|later| {
        matches!(lines[later], Line::Retract(target) if target == place) && in_force(lines, later)
    })
}

/// What remains, by the model, in the form of [`shown`].
fn model(lines: &[Line]) -> String {
    let mut order: Vec<usize> = Vec::new();
    for (place, line) in lines.iter().enumerate() {
        match line {
            Line::Original => order.push(place),
            Line::Insert(None) => order.insert(0, place),
            Line::Insert(Some(after)) => {
                let before = order.iter().position(|other| other == after);
                order.insert(before.expect("it stands earlier") + 1, place);
            }
            Line::Retract(_) | Line::Amend(_) => {}
        }
    }
    let corrected = |place: usize| {
        let corrections = (0..lines.len()).filter(|other| match lines[*other] {
            Line::Retract(target) | Line::Amend(target) => target == place,
            _ => false,
        });
        corrections.filter(|other| in_force(lines, *other)).max()
    };
    let words = order.iter().filter_map(|place| match corrected(*place) {
        None => Some(format!("e{place}")),
        Some(by) => match lines[by] {
            Line::Amend(_) => Some(format!("e{place}:new{by}")),
            _ => None,
        },
    });
    words.collect::<Vec<_>>().join(" ")
}

fn random_lines() -> impl Strategy<Value = Vec<Line>> {
    let draw = (0..12_u8, any::<prop::sample::Index>());
    prop::collection::vec(draw, 0..40).prop_map(|draws| lines(&draws))
}

fn chart(lines: &[Line]) -> Chart {
    chart_of(script(&as_script(lines)))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_remains_is_what_the_rules_say(lines in random_lines()) {
        prop_assert_eq!(shown(&chart(&lines).effective()), model(&lines), "{}", as_script(&lines));
    }

    #[test]
    fn an_effective_entry_keeps_the_position_of_the_one_it_goes_back_to(lines in random_lines()) {
        for entry in chart(&lines).effective() {
            let place = entry.seq.0 as usize - 1;
            prop_assert_eq!(entry.id.as_str(), format!("e{place}"));
            prop_assert_eq!(entry.inserted, matches!(lines[place], Line::Insert(_)));
        }
    }

    #[test]
    fn an_entry_that_is_no_correction_only_adds_itself_at_the_end(lines in random_lines()) {
        let before = chart(&lines);
        prop_assert_eq!(before.latest_effective().is_some(), matches!(lines.last(), Some(Line::Original)));
        let mut longer = lines.clone();
        longer.push(Line::Original);
        let after = chart(&longer);
        let mut expected = before.effective();
        expected.extend(after.latest_effective());
        prop_assert_eq!(after.effective(), expected);
        prop_assert_eq!(after.revision(), before.revision());
    }

    #[test]
    fn a_correction_that_is_retracted_leaves_what_was_before_it(
        lines in random_lines(),
        pick in any::<prop::sample::Index>(),
    ) {
        let last = lines.len();
        let mut corrections = vec![Line::Insert(None)];
        if last > 0 {
            let target = pick.index(last);
            corrections.push(Line::Retract(target));
            if matches!(lines[target], Line::Original | Line::Insert(_)) {
                corrections.extend([Line::Amend(target), Line::Insert(Some(target))]);
            }
        }
        let before = shown(&chart(&lines).effective());
        for correction in corrections {
            let corrected = [&lines[..], &[correction, Line::Retract(last)]].concat();
            prop_assert_eq!(shown(&chart(&corrected).effective()), before.clone());
        }
    }

    #[test]
    fn the_order_of_lines_does_not_matter_where_every_entry_has_a_seq(
        lines in random_lines(),
        keys in prop::collection::vec(any::<u32>(), 40),
    ) {
        let entries = script(&as_script(&lines));
        let mut numbered: Vec<_> = entries
            .into_iter()
            .enumerate()
            .map(|(place, mut entry)| {
                entry["seq"] = json!(place * 3 + 1);
                (keys[place], entry)
            })
            .collect();
        numbered.sort_by_key(|(key, _)| *key);
        let shuffled: Vec<_> = numbered.into_iter().map(|(_, entry)| entry).collect();
        let file = read_chart_file(file_of(&shuffled).as_bytes());
        prop_assert_eq!(problems(&file), []);
        prop_assert_eq!(noted(&file), []);
        prop_assert_eq!(shown(&file.chart.unwrap().effective()), model(&lines));
    }
}
