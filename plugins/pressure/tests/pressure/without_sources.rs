//! What the plugin does where an upstream reading is missing: it does not guess.

use rallytide_initiative::Initiative;
use rallytide_plugin_kit::testing::{Script, Trial};
use rallytide_plugin_kit::{Change, Key, Reading, Team, Value, about, key};
use rallytide_pressure::Pressure;

/// Three rallies of five entries; each counts a drop whose answer bounced, a
/// gift, and for both teams a rally out of pressure.
const MATCH: &str = "a serve | b return | a drop | b dink | a net
                     a serve | b return | a drop | b dink | a net
                     a serve | b return | a drop | b dink | a net";

/// Charts [`MATCH`] and lets `interfere` change what is handed over at an entry,
/// the first being entry 1. Returns how many changes were published in each of
/// the three rallies.
fn published(interfere: impl Fn(usize, &mut Vec<Reading>, &mut Vec<Key>)) -> [usize; 3] {
    let mut initiative = Trial::<Initiative>::start(Vec::new(), Vec::new()).unwrap();
    let mut pressure = Trial::<Pressure>::start(Vec::new(), initiative.readings()).unwrap();
    let mut counts = [0; 3];
    for (place, entry) in Script::default().read(MATCH).into_iter().enumerate() {
        let changes = initiative.entry(entry.clone(), Vec::new());
        let changed = changes.into_iter().map(|change| match change {
            Change::Set(reading) => reading,
            Change::Gone(key) => panic!("{key:?} is gone"),
        });
        let (mut changed, mut gone) = (changed.collect(), Vec::new());
        interfere(place + 1, &mut changed, &mut gone);
        counts[place / 5] += pressure.entry_without(entry, changed, gone).len();
    }
    counts
}

/// What is published where the source of `lost` is stopped at an entry and never
/// comes back.
fn published_without(lost: &[Key], from: usize) -> [usize; 3] {
    published(|place, changed, gone| {
        if place == from {
            *gone = lost.to_vec();
        }
        if place >= from {
            changed.retain(|reading| !lost.contains(&reading.key));
        }
    })
}

#[test]
fn with_its_sources_it_counts_every_rally() {
    assert_eq!(published(|_, _, _| {}), [4, 4, 4]);
}

#[test]
fn a_rally_in_which_a_source_is_missing_and_those_after_it_are_not_counted() {
    for gone in [
        vec![key("initiative")],
        vec![about("depth", Team::A), about("depth", Team::B)],
    ] {
        let counts = published_without(&gone, 8);
        assert_eq!(counts, [4, 0, 0], "{gone:?}");
    }
}

#[test]
fn a_rally_whose_end_the_source_has_not_lived_to_see_is_counted() {
    let counts = published_without(&[key("initiative")], 10);
    assert_eq!(counts, [4, 4, 0]);
}

#[test]
fn a_source_that_is_back_counts_from_the_next_rally_on() {
    let counts = published(|place, changed, gone| {
        if place == 7 {
            changed.retain(|reading| reading.key.team.is_some());
            gone.push(key("initiative"));
        }
    });
    assert_eq!(counts, [4, 0, 4]);
}

#[test]
fn a_reading_of_another_type_says_nothing() {
    for wrong in [key("initiative"), about("depth", Team::B)] {
        let counts = published(|place, changed, _| {
            if place == 7 {
                changed.retain(|reading| reading.key != wrong);
                changed.push(Reading::plain(wrong.clone(), Value::Flag(true)));
            }
        });
        assert_eq!(counts, [4, 0, 4], "{wrong:?}");
    }
}
