//! What the plugin does where an upstream reading is missing: it does not guess.

use rallytide_initiative::Initiative;
use rallytide_plugin_kit::testing::{Script, Trial, header, opening_score};
use rallytide_plugin_kit::{
    Change, Key, Moment, Opening, Plugin, Publisher, Reading, Team, Value, about, key,
};
use rallytide_pressure::Pressure;

/// Three rallies of five entries; each counts a drop whose answer bounced, a
/// gift, and for both teams a rally out of pressure.
const MATCH: &str = "a serve | b return | a drop | b dink | a net
                     a serve | b return | a drop | b dink | a net
                     a serve | b return | a drop | b dink | a net";

/// Charts [`MATCH`] and lets `interfere` change what is handed over at an entry,
/// the first being entry 1. Returns how many changes were published in each of
/// the three rallies.
fn published(interfere: impl Fn(usize, &mut Moment)) -> [usize; 3] {
    let mut initiative = Trial::<Initiative>::start(Vec::new(), Vec::new()).unwrap();
    let opening = Opening {
        header: header(),
        settings: Vec::new(),
        score: opening_score(),
        readings: initiative.readings(),
    };
    let mut pressure = Pressure::start(&opening, &mut Publisher::default()).unwrap();
    let mut counts = [0; 3];
    for (place, entry) in Script::default().read(MATCH).into_iter().enumerate() {
        let changes = initiative.entry(entry.clone(), Vec::new());
        let changed = changes.into_iter().map(|change| match change {
            Change::Set(reading) => reading,
            Change::Gone(key) => panic!("{key:?} is gone"),
        });
        let mut moment = Moment {
            entry,
            score: opening_score(),
            changed: changed.collect(),
            gone: Vec::new(),
        };
        interfere(place + 1, &mut moment);
        let mut publish = Publisher::default();
        pressure.step(&moment, &mut publish);
        counts[place / 5] += publish.into_changes().len();
    }
    counts
}

/// The source of `gone` is stopped at an entry and never comes back.
fn stopped(at: usize, gone: &[Key], moment: &mut Moment, place: usize) {
    if place == at {
        moment.gone = gone.to_vec();
    }
    if place >= at {
        moment
            .changed
            .retain(|reading| !gone.contains(&reading.key));
    }
}

#[test]
fn with_its_sources_it_counts_every_rally() {
    assert_eq!(published(|_, _| {}), [4, 4, 4]);
}

#[test]
fn a_rally_in_which_a_source_is_missing_and_those_after_it_are_not_counted() {
    for gone in [
        vec![key("initiative")],
        vec![about("depth", Team::A), about("depth", Team::B)],
    ] {
        let counts = published(|place, moment| stopped(8, &gone, moment, place));
        assert_eq!(counts, [4, 0, 0], "{gone:?}");
    }
}

#[test]
fn a_rally_whose_end_the_source_has_not_lived_to_see_is_counted() {
    let gone = [key("initiative")];
    let counts = published(|place, moment| stopped(10, &gone, moment, place));
    assert_eq!(counts, [4, 4, 0]);
}

#[test]
fn a_source_that_is_back_counts_from_the_next_rally_on() {
    let counts = published(|place, moment| {
        if place == 7 {
            moment.changed.retain(|reading| reading.key.team.is_some());
            moment.gone.push(key("initiative"));
        }
    });
    assert_eq!(counts, [4, 0, 4]);
}

#[test]
fn a_reading_of_another_type_says_nothing() {
    for wrong in [key("initiative"), about("depth", Team::B)] {
        let counts = published(|place, moment| {
            if place == 7 {
                moment.changed.retain(|reading| reading.key != wrong);
                moment.changed.push(Reading {
                    key: wrong.clone(),
                    value: Value::Flag(true),
                    why: Vec::new(),
                    flags: Vec::new(),
                });
            }
        });
        assert_eq!(counts, [4, 0, 4], "{wrong:?}");
    }
}
