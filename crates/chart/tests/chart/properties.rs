//! Corrections of corrections, against a model that follows the rules in
//! another way: by asking of each entry, again and again, whether it is in force.

use proptest::prelude::*;
use rallytide_chart::Chart;
use serde_json::{Value, json};

use crate::notation::{chart_of, shown};

/// What a correction does, by the place of what it names.
#[derive(Debug, Clone)]
enum Step {
    Note,
    Retract(usize),
    Amend(usize),
    Insert(Option<usize>),
}

/// Turns random numbers into steps that a chart takes in.
fn steps(numbers: &[(u8, u16)]) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    for (what, place) in numbers {
        let any = (!steps.is_empty()).then(|| usize::from(*place) % steps.len());
        let stands = any.filter(|place| matches!(steps[*place], Step::Note | Step::Insert(_)));
        let step = match (what % 6, any, stands) {
            (0 | 1, Some(target), _) => Step::Retract(target),
            (2, _, Some(target)) => Step::Amend(target),
            (3 | 4, _, Some(after)) => Step::Insert(Some(after)),
            (3, ..) => Step::Insert(None),
            _ => Step::Note,
        };
        steps.push(step);
    }
    steps
}

fn id(place: usize) -> String {
    format!("e{place}")
}

fn charted(steps: &[Step]) -> Chart {
    chart_of(steps.iter().enumerate().map(|(place, step)| {
        let own = id(place);
        let new = json!({"kind": "note", "text": own});
        let mut entry: Value = match step {
            Step::Note => new,
            Step::Retract(target) => json!({"kind": "retract", "target": id(*target)}),
            Step::Amend(target) => json!({"kind": "amend", "target": id(*target), "with": new}),
            Step::Insert(after) => {
                json!({"kind": "insert", "after": after.map(id), "entry": new})
            }
        };
        entry["id"] = own.into();
        entry
    }))
}

/// Whether a retract or amend is in force: no retract of it that is in force
/// itself comes after it.
fn in_force(steps: &[Step], place: usize) -> bool {
    !(place + 1..steps.len()).any(|later| {
        matches!(steps[later], Step::Retract(target) if target == place) && in_force(steps, later)
    })
}

/// What stands at a note or insert: nothing, or the step whose text it has.
fn standing(steps: &[Step], place: usize) -> Option<usize> {
    let last = (place + 1..steps.len()).rev().find(|later| {
        let names = match steps[*later] {
            Step::Retract(target) | Step::Amend(target) => target == place,
            _ => false,
        };
        names && in_force(steps, *later)
    });
    match last.map(|last| (last, &steps[last])) {
        None => Some(place),
        Some((last, Step::Amend(_))) => Some(last),
        Some(_) => None,
    }
}

/// The places in the order of the effective chart: a list into which each insert
/// is put right behind what it names.
fn laid_out(steps: &[Step]) -> Vec<usize> {
    let mut order = Vec::new();
    for (place, step) in steps.iter().enumerate() {
        match step {
            Step::Note => order.push(place),
            Step::Insert(None) => order.insert(0, place),
            Step::Insert(Some(after)) => {
                let found = order.iter().position(|one| one == after);
                order.insert(found.expect("it stands there") + 1, place);
            }
            _ => {}
        }
    }
    order
}

fn model(steps: &[Step]) -> String {
    let words = laid_out(steps).into_iter().filter_map(|place| {
        let text = standing(steps, place)?;
        Some(if text == place {
            id(place)
        } else {
            format!("{}:{}", id(place), id(text))
        })
    });
    words.collect::<Vec<_>>().join(" ")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn random_corrections_lead_where_the_rules_lead(
        numbers in proptest::collection::vec(any::<(u8, u16)>(), 0..24),
    ) {
        let steps = steps(&numbers);
        prop_assert_eq!(shown(&charted(&steps).effective()), model(&steps));
    }

    #[test]
    fn an_entry_keeps_its_position_whatever_is_corrected(
        numbers in proptest::collection::vec(any::<(u8, u16)>(), 0..24),
    ) {
        let steps = steps(&numbers);
        for entry in charted(&steps).effective() {
            prop_assert_eq!(entry.id.as_str(), format!("e{}", entry.seq.0 - 1));
            let inserted = matches!(steps[entry.seq.0 as usize - 1], Step::Insert(_));
            prop_assert_eq!(entry.inserted, inserted);
        }
    }

    #[test]
    fn a_retract_that_is_taken_back_leaves_the_chart_as_it_was(
        numbers in proptest::collection::vec(any::<(u8, u16)>(), 1..20),
        pick in any::<prop::sample::Index>(),
    ) {
        let mut steps = steps(&numbers);
        let before = shown(&charted(&steps).effective());
        steps.push(Step::Retract(pick.index(steps.len())));
        steps.push(Step::Retract(steps.len() - 1));
        prop_assert_eq!(shown(&charted(&steps).effective()), before);
    }
}
