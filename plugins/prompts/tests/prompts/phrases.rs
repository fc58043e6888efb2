//! The table of phrases, whatever the match.

use rallytide_plugin_kit::{PerTeam, Team};
use rallytide_prompts::english::ENGLISH;
use rallytide_prompts::language::{Filling, MOST_WORDS, PlaceValue, Span, Tense};
use rallytide_prompts::names::NAME_WORDS;
use rallytide_prompts::phrases::Phrase;
use rallytide_prompts::sources::Figure;

fn ways() -> Vec<(Phrase, &'static str)> {
    let all = Phrase::ALL.iter();
    all.flat_map(|phrase| (ENGLISH.ways)(*phrase).iter().map(|way| (*phrase, *way)))
        .collect()
}

/// The figure that a phrase has places for.
fn figure(phrase: Phrase) -> Figure {
    match phrase.kind() {
        "compare" => Figure::Share {
            part: 120,
            whole: 240,
        },
        _ => Figure::Count(120),
    }
}

/// What any named place can hold, at its longest.
fn places() -> Vec<(&'static str, PlaceValue)> {
    let name = || PlaceValue::Name(["Cccc"; NAME_WORDS].join(" "));
    vec![
        ("points", PlaceValue::Score(10, 12)),
        ("low", PlaceValue::Score(10, 12)),
        ("games", PlaceValue::Score(3, 2)),
        ("scores", PlaceValue::Scores(vec![(11, 9); 5])),
        ("game", PlaceValue::Number(5)),
        ("number", PlaceValue::Number(55)),
        ("own", PlaceValue::Number(3)),
        ("others", PlaceValue::Number(55)),
        ("player", name()),
        ("server", name()),
        ("span", PlaceValue::Span(Span::LastGame)),
    ]
}

#[test]
fn every_phrase_has_a_way_to_say_it_short_enough_with_the_longest_names() {
    let names = PerTeam {
        a: "Aaaa and Aaaa".to_owned(),
        b: "Bbbb and Bbbb".to_owned(),
    };
    for phrase in Phrase::ALL {
        assert!(!(ENGLISH.ways)(*phrase).is_empty(), "{phrase:?}");
    }
    for (phrase, way) in ways() {
        let filling = Filling {
            names: &names,
            team: Team::B,
            figures: &[Some(figure(phrase)); 2],
            places: &places(),
            tense: Tense::SoFar,
        };
        let said = ENGLISH.say(way, &filling);
        assert!(
            said.is_some(),
            "{phrase:?} takes more than {MOST_WORDS} words: {way}"
        );
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
fn words_go_with_one_team_or_two_players_and_with_a_match_that_is_over() {
    let names = PerTeam {
        a: "Reed and Lund".to_owned(),
        b: "Dunes".to_owned(),
    };
    let say = |team, tense| {
        let filling = Filling {
            names: &names,
            team,
            figures: &[Some(Figure::Share { part: 0, whole: 12 })],
            places: &[],
            tense,
        };
        ENGLISH
            .say("{team} {won} {0}, {team} {has}.", &filling)
            .unwrap()
    };
    assert_eq!(
        say(Team::A, Tense::SoFar),
        "Reed and Lund have won none of 12, Reed and Lund have."
    );
    assert_eq!(
        say(Team::B, Tense::SoFar),
        "Dunes has won none of 12, Dunes has."
    );
    assert_eq!(
        say(Team::B, Tense::Over),
        "Dunes won none of 12, Dunes has."
    );
}

#[test]
fn what_has_no_filling_is_not_said() {
    let names = PerTeam {
        a: "Reed".to_owned(),
        b: "Lund".to_owned(),
    };
    let filling = Filling {
        names: &names,
        team: Team::A,
        figures: &[None, Some(Figure::Percent(40))],
        places: &[],
        tense: Tense::SoFar,
    };
    for way in ["{0}.", "{1}.", "{2}.", "{player}."] {
        assert_eq!(ENGLISH.say(way, &filling), None, "{way}");
    }
}
