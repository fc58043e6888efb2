//! The table of phrases, whatever the match.

use rallytide_plugin_kit::{PerTeam, Team};
use rallytide_prompts::language::{Filling, MOST_WORDS, has_place};
use rallytide_prompts::names::NAME_WORDS;
use rallytide_prompts::phrases::{ENGLISH, Kind, Phrase};
use rallytide_prompts::sources::{Figure, SLOTS};

fn ways() -> Vec<(Phrase, &'static str)> {
    let all = Phrase::ALL.iter();
    all.flat_map(|phrase| (ENGLISH.ways)(*phrase).iter().map(|way| (*phrase, *way)))
        .collect()
}

/// The longest figure that a phrase has places for.
fn longest(phrase: Phrase) -> Figure {
    match phrase.kind() {
        Kind::Run | Kind::Long | Kind::Unusual => Figure::Count(120),
        Kind::Escape if phrase != Phrase::Caught => Figure::Count(120),
        Kind::Point | Kind::Chance => Figure::Percent(57),
        _ => Figure::Share {
            part: 120,
            whole: 240,
        },
    }
}

#[test]
fn every_way_to_say_something_is_one_breath_with_the_longest_names_and_figures() {
    let name = |word: &str| [word; NAME_WORDS].join(" ");
    let names = PerTeam {
        a: name("Aaaa"),
        b: name("Bbbb"),
    };
    for (phrase, way) in ways() {
        for slot in SLOTS {
            let filling = Filling {
                names: &names,
                team: Team::B,
                figures: &[Some(longest(phrase)); 2],
                stroke: slot,
            };
            let said = ENGLISH.say(way, &filling);
            assert!(
                said.is_some(),
                "{phrase:?} is no breath of {MOST_WORDS} words: {way}"
            );
        }
    }
}

#[test]
fn no_way_to_say_something_holds_a_number_of_its_own() {
    for (phrase, way) in ways() {
        let words = way.replace("{0}", "").replace("{1}", "");
        assert!(
            !words.contains(|c: char| c.is_ascii_digit()),
            "{phrase:?}: {way}"
        );
        assert!(!words.contains('%'), "{phrase:?}: {way}");
    }
}

#[test]
fn every_way_to_say_something_is_a_sentence_of_its_own() {
    let ways = ways();
    for (place, (phrase, way)) in ways.iter().enumerate() {
        assert!(way.ends_with('.'), "{phrase:?}: {way}");
        let first = way.chars().next().unwrap();
        assert!(
            first.is_ascii_uppercase() || first == '{',
            "{phrase:?}: {way}"
        );
        assert!(
            ways[..place].iter().all(|(_, other)| other != way),
            "twice: {way}"
        );
    }
}

#[test]
fn a_second_figure_is_never_said_without_the_first() {
    for (_, way) in ways() {
        assert!(has_place(way, 0) || !has_place(way, 1), "{way}");
    }
}

#[test]
fn a_share_of_two_cases_and_a_certainty_are_not_told() {
    let names = PerTeam {
        a: "Reed".to_owned(),
        b: "Lund".to_owned(),
    };
    let told = |figure| {
        let filling = Filling {
            names: &names,
            team: Team::A,
            figures: &[Some(figure)],
            stroke: "",
        };
        ENGLISH.say("{team}: {0}.", &filling)
    };
    let share = |part, whole| Figure::Share { part, whole };
    assert_eq!(told(share(2, 2)), None);
    assert_eq!(told(share(2, 3)).unwrap(), "Reed: 2 of 3.");
    assert_eq!(told(Figure::Percent(100)), None);
    assert_eq!(told(Figure::Percent(0)), None);
    assert_eq!(told(Figure::Percent(99)).unwrap(), "Reed: 99 percent.");
}
