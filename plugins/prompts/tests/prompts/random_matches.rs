//! Whatever happens and whatever the readings: what a prompt has to be.

use std::collections::BTreeSet;

use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use rallytide_plugin_kit::testing::header;
use rallytide_plugin_kit::{
    Cues, Discipline, Ending, Entry, MatchHeader, Play, RallyEnd, Reading, Shot, Stroke, Team,
    TeamSheet, TimeOut, Value, about, key,
};
use rallytide_prompts::phrases::Phrase;

use crate::booth::{Booth, Said, read, share, text_of};

/// One thing that happens.
#[derive(Debug, Clone)]
struct Step {
    what: What,
    inserted: bool,
    /// Figures that change, by place in [`figure`], and to what.
    figures: Vec<(usize, u32, u32)>,
    game_point: Option<Team>,
}

#[derive(Debug, Clone, Copy)]
enum What {
    Shot(Stroke),
    Ends(Team, Option<Ending>),
    GameEnds(Team),
    Replay,
    TimeOut(Team),
    Note,
}

const COUNTS: [&str; 3] = ["escape.streak", "escape.best", "score.run"];
const SHARES: [&str; 6] = [
    "escape.share",
    "neutral.first",
    "gift.share",
    "pressed.won",
    "serve.won",
    "sitter.punished",
];
const SLOTTED: [(&str, &str); 3] = [
    ("third.won", "drop"),
    ("third.won", "drive"),
    ("third.won", "lob"),
];
const CHANCES: [&str; 2] = ["win.match", "escape.unlikely"];
const OF_MATCH: usize = 2;
const FIGURES: usize = 2 * (COUNTS.len() + SHARES.len() + SLOTTED.len() + CHANCES.len()) + OF_MATCH;

/// A figure of any indicator, with small numbers so that they meet often.
fn figure(place: usize, one: u32, other: u32) -> Reading {
    let (part, whole) = (one.min(other), one.max(other));
    let chance = Value::Chance(f64::from(one % 41) / 40.0);
    match place {
        0 => return read(key("rally.longest"), Value::Count(other)),
        1 => return read(key("charting.coverage"), share(whole, whole)),
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

fn what() -> impl Strategy<Value = What> {
    let stroke = prop_oneof![
        6 => Just(Stroke::Serve),
        1 => Just(Stroke::Erne),
        1 => Just(Stroke::Atp),
    ];
    let how = prop_oneof![
        2 => Just(None),
        1 => Just(Some(Ending::Ace)),
        1 => Just(Some(Ending::Winner)),
    ];
    prop_oneof![
        6 => stroke.prop_map(What::Shot),
        12 => (team(), how).prop_map(|(team, how)| What::Ends(team, how)),
        1 => team().prop_map(What::GameEnds),
        1 => Just(What::Replay),
        1 => team().prop_map(What::TimeOut),
        1 => Just(What::Note),
    ]
}

fn step() -> impl Strategy<Value = Step> {
    let figures = prop::collection::vec((0..FIGURES, 0_u32..30, 0_u32..30), 0..8);
    (
        what(),
        prop::bool::weighted(0.04),
        figures,
        prop::option::weighted(0.2, team()),
    )
        .prop_map(|(what, inserted, figures, game_point)| Step {
            what,
            inserted,
            figures,
            game_point,
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
    shots: u32,
}

impl Course {
    fn entry(&mut self, step: &Step) -> (Entry, Vec<Reading>) {
        self.entries += 1;
        let play = self.play(step.what);
        let figures = step.figures.iter();
        let changed = figures
            .map(|(place, one, other)| figure(*place, *one, *other))
            .collect();
        let entry = Entry {
            place: self.entries,
            at_ms: f64::from(self.entries) * 1000.0,
            inserted: step.inserted,
            play,
        };
        (entry, changed)
    }

    fn play(&mut self, what: What) -> Play {
        match what {
            What::Shot(stroke) => {
                self.shots += 1;
                Play::Shot(Shot {
                    team: Team::A,
                    stroke,
                    number: self.shots,
                    contact: None,
                    player: Some(0),
                    cues: Cues::empty(),
                    missed_before: false,
                })
            }
            What::Ends(winner, how) => self.ends(winner, how),
            What::GameEnds(winner) => self.ends(winner, None),
            What::Replay => {
                self.shots = 0;
                Play::Replay
            }
            What::TimeOut(team) => Play::TimeOut(TimeOut {
                team,
                medical: false,
            }),
            What::Note => Play::Note("a word".into()),
        }
    }

    fn ends(&mut self, winner: Team, how: Option<Ending>) -> Play {
        self.shots = 0;
        Play::RallyEnd(RallyEnd {
            winner,
            how,
            by: how.map(|_| winner),
            player: None,
            fault: None,
        })
    }
}

#[track_caller]
fn is_well_formed(booth: &Booth, prompt: &Reading) {
    let text = text_of(prompt);
    assert!(text.split_whitespace().count() <= 20, "{text}");
    assert!(!text.contains('%') && !text.contains("percent"), "{text}");
    assert!(text.ends_with('.'), "{text}");
    assert!(!prompt.why.is_empty(), "{text}");
    for reason in &prompt.why {
        assert!(
            booth.entries.contains(&reason.entry),
            "{reason:?} of `{text}`"
        );
        // What is said of a figure is said of it as it stands.
        if reason.code.contains('.') {
            assert!(booth.cited(reason).is_some(), "{reason:?} of `{text}`");
        }
    }
}

/// The score that goes with a step.
fn score(booth: &mut Booth, step: &Step) {
    let score = booth.score();
    score.game_point = step.game_point;
    match step.what {
        What::Ends(team, _) => {
            let own = match team {
                Team::A => &mut score.points.a,
                Team::B => &mut score.points.b,
            };
            *own += 1;
        }
        What::GameEnds(Team::A) => {
            booth.game_over(11, 7);
        }
        What::GameEnds(Team::B) => {
            booth.game_over(3, 11);
        }
        _ => {}
    }
}

fn walk(header: MatchHeader, steps: &[Step]) -> Booth {
    let mut booth = Booth::on(header, Vec::new());
    let mut course = Course::default();
    for step in steps {
        score(&mut booth, step);
        let before = booth.said.len();
        let (entry, changed) = course.entry(step);
        booth.hand_over(entry, changed);
        assert!(booth.current().len() <= 3);
        for prompt in booth.current() {
            is_well_formed(&booth, &prompt);
        }
        let new = &booth.said[before..];
        let ends_game = matches!(step.what, What::GameEnds(_));
        assert!(new.len() <= if ends_game { 3 } else { 1 });
        if !new.is_empty() {
            assert!(!step.inserted);
            assert_eq!(course.shots, 0, "in the middle of a rally: {new:?}");
        }
    }
    booth
}

proptest! {
    #[test]
    fn a_prompt_is_short_shown_and_never_said_twice(
        header in headers(),
        steps in prop::collection::vec(step(), 1..300),
    ) {
        let booth = walk(header, &steps);
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

/// The properties above are about something: all kinds are heard but those that
/// the end of a match brings.
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
    let kinds = Phrase::ALL.iter().map(|phrase| phrase.kind().to_owned());
    let kinds = kinds.filter(|kind| !["match", "total"].contains(&kind.as_str()));
    assert_eq!(heard, kinds.collect());
}
