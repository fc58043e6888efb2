//! Whatever happens and whatever the readings: what a prompt has to be.

use std::collections::BTreeSet;

use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use rallytide_plugin_kit::testing::header;
use rallytide_plugin_kit::{
    Contact, Cues, Discipline, Entry, MatchHeader, Play, RallyEnd, Reading, Reason, Shot, Stroke,
    Team, TeamSheet, TimeOut, Value, about, key,
};
use rallytide_prompts::phrases::Phrase;

use crate::booth::{Booth, Said, initiative, read, share, text_of};

/// One thing that happens.
#[derive(Debug, Clone)]
struct Step {
    what: What,
    /// After so many milliseconds, back and forth.
    later: i32,
    inserted: bool,
    /// Figures that change, by place in [`figure`], and to what.
    figures: Vec<(usize, u32, u32)>,
    /// Who holds the initiative, and whether more than depth speaks against the
    /// other.
    held: (Option<Team>, bool),
    points: (Option<Team>, Option<Team>),
}

#[derive(Debug, Clone, Copy)]
enum What {
    Shot(Option<Contact>),
    Ends(Team),
    Replay,
    TimeOut,
    Note,
}

const COUNTS: [&str; 3] = ["escape.streak", "escape.best", "score.run"];
const SHARES: [&str; 8] = [
    "escape.share",
    "approach.reached",
    "offense.finished",
    "neutral.first",
    "defense.bounced",
    "gift.share",
    "serve.won",
    "sitter.punished",
];
const SLOTTED: [(&str, &str); 5] = [
    ("third.won", "drop"),
    ("third.won", "drive"),
    ("third.won", "lob"),
    ("speedup.won", "sitter"),
    ("speedup.won", "other"),
];
const CHANCES: [&str; 3] = ["win.game", "win.match", "escape.unlikely"];
const OF_MATCH: usize = 4;
const FIGURES: usize = 2 * (COUNTS.len() + SHARES.len() + SLOTTED.len() + CHANCES.len()) + OF_MATCH;

/// A figure of any indicator, with small numbers so that they meet often.
fn figure(place: usize, one: u32, other: u32) -> Reading {
    let (part, whole) = (one.min(other), one.max(other));
    let chance = Value::Chance(f64::from(one % 41) / 40.0);
    match place {
        0 => return read(key("rally.shots"), Value::Count(one)),
        1 => return read(key("rally.longest"), Value::Count(other)),
        2 => return read(key("charting.coverage"), share(part, whole)),
        3 => return read(key("win.swing"), chance),
        _ => {}
    }
    let team = if place.is_multiple_of(2) {
        Team::A
    } else {
        Team::B
    };
    let mut place = (place - OF_MATCH) / 2;
    if place < COUNTS.len() {
        return read(about(COUNTS[place], team), Value::Count(one));
    }
    place -= COUNTS.len();
    if place < SHARES.len() {
        return read(about(SHARES[place], team), share(part, whole));
    }
    place -= SHARES.len();
    if place < SLOTTED.len() {
        let (indicator, slot) = SLOTTED[place];
        return read(about(indicator, team).slot(slot), share(part, whole));
    }
    read(about(CHANCES[place - SLOTTED.len()], team), chance)
}

fn team() -> impl Strategy<Value = Team> {
    prop_oneof![Just(Team::A), Just(Team::B)]
}

fn contact() -> impl Strategy<Value = Option<Contact>> {
    prop_oneof![
        1 => Just(None),
        1 => Just(Some(Contact::Bounce)),
        8 => Just(Some(Contact::Air)),
    ]
}

fn what() -> impl Strategy<Value = What> {
    prop_oneof![
        16 => contact().prop_map(What::Shot),
        4 => team().prop_map(What::Ends),
        1 => Just(What::Replay),
        1 => Just(What::TimeOut),
        1 => Just(What::Note),
    ]
}

fn step() -> impl Strategy<Value = Step> {
    let figures = prop::collection::vec((0..FIGURES, 0_u32..30, 0_u32..30), 0..8);
    let later = prop_oneof![8 => 200_i32..6000, 2 => 6000_i32..20_000, 1 => -9000_i32..0];
    let point = || prop::option::weighted(0.1, team());
    (
        what(),
        later,
        prop::bool::weighted(0.04),
        figures,
        (prop::option::weighted(0.8, team()), any::<bool>()),
        (point(), point()),
    )
        .prop_map(|(what, later, inserted, figures, held, points)| Step {
            what,
            later,
            inserted,
            figures,
            held,
            points,
        })
}

fn headers() -> impl Strategy<Value = MatchHeader> {
    let name = prop::sample::select(vec![
        "Harbour",
        "Reed / Lund",
        "The Harbour Street Monday Club",
        "",
    ]);
    let pair = |name: &str, players: [&str; 2]| TeamSheet {
        name: name.into(),
        players: players.map(str::to_owned).to_vec(),
    };
    (name, any::<bool>()).prop_map(move |(name, singles)| MatchHeader {
        discipline: if singles {
            Discipline::Singles
        } else {
            Discipline::Doubles
        },
        team_a: pair(name, ["Ada Reed", "Bo Lund"]),
        team_b: pair("Marsh / Ford", ["Cy Marsh", "Di Ford"]),
        ..header()
    })
}

/// A match on its way, to make entries of steps.
#[derive(Default)]
struct Course {
    entries: u32,
    at_ms: f64,
    shots: u32,
    latest: u32,
}

impl Course {
    fn entry(&mut self, step: &Step) -> (Entry, Vec<Reading>) {
        self.entries += 1;
        self.at_ms += f64::from(step.later);
        let play = self.play(step.what);
        if let Play::Shot(_) = play {
            self.latest = self.entries;
        }
        let figures = step.figures.iter();
        let mut changed: Vec<Reading> = figures
            .map(|(place, one, other)| figure(*place, *one, *other))
            .collect();
        let (by, pressed) = step.held;
        changed.push(match by {
            Some(by) if self.shots > 0 => {
                let code = if pressed { "air" } else { "depth" };
                let row = Reason {
                    code: code.into(),
                    team: Some(by.other()),
                    entry: self.latest,
                    inferred: false,
                };
                initiative(Some(by), vec![row])
            }
            _ => initiative(None, Vec::new()),
        });
        let entry = Entry {
            place: self.entries,
            at_ms: self.at_ms,
            inserted: step.inserted,
            play,
        };
        (entry, changed)
    }

    fn play(&mut self, what: What) -> Play {
        match what {
            What::Shot(contact) => {
                self.shots += 1;
                let team = if self.shots.is_multiple_of(2) {
                    Team::B
                } else {
                    Team::A
                };
                Play::Shot(Shot {
                    team,
                    stroke: if self.shots == 1 {
                        Stroke::Serve
                    } else {
                        Stroke::Other
                    },
                    number: self.shots,
                    contact,
                    player: None,
                    cues: Cues::empty(),
                    missed_before: false,
                })
            }
            What::Ends(winner) => {
                self.shots = 0;
                Play::RallyEnd(RallyEnd {
                    winner,
                    how: None,
                    by: None,
                    player: None,
                    fault: None,
                })
            }
            What::Replay => {
                self.shots = 0;
                Play::Replay
            }
            What::TimeOut => Play::TimeOut(TimeOut {
                team: Team::A,
                medical: false,
            }),
            What::Note => Play::Note("a word".into()),
        }
    }
}

/// The numbers that a prompt says; the names in these matches have none.
fn numbers_said(text: &str) -> Vec<u32> {
    text.split(|c: char| !c.is_ascii_digit())
        .filter(|digits| !digits.is_empty())
        .map(|digits| digits.parse().unwrap())
        .collect()
}

/// The numbers of the readings that a prompt cites, as they stand.
fn numbers_cited(booth: &Booth, prompt: &Reading) -> BTreeSet<u32> {
    let mut numbers = BTreeSet::new();
    for reason in &prompt.why {
        if let Some(reading) = booth.cited(reason) {
            match &reading.value {
                Value::Count(count) => numbers.extend([*count]),
                Value::Share(share) => numbers.extend([share.part, share.whole]),
                Value::Chance(chance) => numbers.extend([(chance * 100.0).round() as u32]),
                _ => {}
            }
        }
    }
    numbers
}

#[track_caller]
fn is_well_formed(booth: &Booth, prompt: &Reading) {
    let text = text_of(prompt);
    assert!(text.split_whitespace().count() <= 14, "{text}");
    assert!(!text.contains('%'), "{text}");
    let assumes = text
        .to_lowercase()
        .contains("as this match has gone so far");
    let is_chance = |reason: &Reason| reason.code.starts_with("win.");
    assert_eq!(prompt.why.iter().any(is_chance), assumes, "{text}");
    assert!(assumes || !text.contains("percent"), "{text}");
    let cited = numbers_cited(booth, prompt);
    for number in numbers_said(text) {
        assert!(
            cited.contains(&number),
            "{number} of `{text}` is not among {cited:?}"
        );
    }
    assert!(!prompt.why.is_empty(), "{text}");
    for reason in &prompt.why {
        assert!(
            booth.entries.contains(&reason.entry),
            "{reason:?} of `{text}`"
        );
    }
}

fn are_far_enough_apart(said: &[Said]) {
    for pair in said.windows(2) {
        let apart = (pair[1].at_ms - pair[0].at_ms).abs();
        assert!(apart >= 8000.0, "{apart} ms between {pair:?}");
    }
}

fn walk(header: MatchHeader, steps: &[Step]) -> Booth {
    let mut booth = Booth::on(header, Vec::new());
    let mut course = Course::default();
    for step in steps {
        let (game, of_match) = step.points;
        booth.score().game_point = game;
        booth.score().match_point = of_match;
        let before = booth.said.len();
        let (entry, changed) = course.entry(step);
        booth.hand_over(entry, changed);
        assert!(booth.current().len() <= 3);
        for prompt in booth.current() {
            is_well_formed(&booth, &prompt);
        }
        let new = &booth.said[before..];
        assert!(new.len() <= 1);
        for said in new {
            assert!(!step.inserted);
            let within = course.shots > 0;
            assert_eq!(within, said.kind() == "need", "{said:?} at {step:?}");
        }
    }
    booth
}

proptest! {
    #[test]
    fn a_prompt_is_short_true_shown_and_never_said_twice(
        header in headers(),
        steps in prop::collection::vec(step(), 1..300),
    ) {
        let booth = walk(header, &steps);
        are_far_enough_apart(&booth.said);
        let texts: BTreeSet<&str> = booth.said.iter().map(Said::text).collect();
        prop_assert_eq!(texts.len(), booth.said.len(), "the same was said twice");
    }

    #[test]
    fn the_same_match_is_spoken_of_in_the_same_words(
        steps in prop::collection::vec(step(), 1..60),
    ) {
        prop_assert_eq!(walk(header(), &steps).said, walk(header(), &steps).said);
    }
}

/// The properties above are about something: all kinds are heard.
#[test]
fn every_kind_of_prompt_comes_up_in_random_matches() {
    let mut runner = TestRunner::deterministic();
    let matches = prop::collection::vec(step(), 200);
    let mut heard = BTreeSet::new();
    for number in 0..80 {
        let mut steps = matches.new_tree(&mut runner).unwrap().current();
        if number % 2 == 0 {
            // Among many new figures what happened in the rally is seldom heard.
            for step in &mut steps {
                step.figures.truncate(1);
            }
        }
        let booth = walk(header(), &steps);
        heard.extend(booth.said.iter().map(|said| said.kind().to_owned()));
    }
    let kinds = Phrase::ALL
        .iter()
        .map(|phrase| phrase.kind().name().to_owned());
    assert_eq!(heard, kinds.collect());
}
