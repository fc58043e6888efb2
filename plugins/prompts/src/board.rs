//! What is on the board: which of the lines is said, and for how long.
//!
//! Invariants: at most [`MOST_CURRENT`] prompts are current; each is true as long
//! as it is; no words are said twice in a match, and nothing that is shown by the
//! same twice within the rallies that the line rests.

use std::collections::{BTreeMap, BTreeSet};

use rallytide_plugin_kit::{PerTeam, Reading, Readings, Reason, Score, Team, Value, key};

use crate::language::{Filling, Language};
use crate::lines::{Life, Line, Scene};
use crate::phrases::Phrase;
use crate::sources::{Cite, Figure, Sources};

/// Prompts that are current at most.
pub const MOST_CURRENT: usize = 3;
/// Rallies after whose end a prompt has had its time.
const LASTS: u32 = 3;

const INDICATOR: &str = "prompt";

/// What has to be as it was for a prompt that speaks of the score.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct ScoreStamp {
    points: (u32, u32),
    game: u32,
    serving: Team,
    server_player: u32,
}

impl ScoreStamp {
    fn of(score: &Score) -> Self {
        Self {
            points: (score.points.a, score.points.b),
            game: score.game,
            serving: score.serving,
            server_player: score.server_player,
        }
    }
}

#[derive(Debug)]
struct Prompt {
    reading: Reading,
    cites: Vec<(Cite, Figure)>,
    life: Life,
    /// Rallies that had ended.
    ended: u32,
    standing: ScoreStamp,
}

impl Prompt {
    fn is_true(&self, sources: &Sources, score: &Score, ended: u32) -> bool {
        let lives = match self.life {
            Life::ThreeRallies => ended - self.ended < LASTS,
            Life::LastRally => ended == self.ended,
            Life::Standing => ended == self.ended && self.standing == ScoreStamp::of(score),
        };
        let mut cites = self.cites.iter();
        lives && cites.all(|(cite, figure)| sources.figure(*cite) == Some(*figure))
    }
}

/// What has been said.
pub struct Board {
    language: &'static Language,
    names: PerTeam<String>,
    current: Vec<Prompt>,
    /// The rally of the latest prompt, and how many were said in it.
    in_rally: (u32, u32),
    words: BTreeSet<String>,
    /// What has shown a prompt, and when it last did: rallies that had ended.
    shown: BTreeMap<(String, u8), u32>,
    turns: BTreeMap<Phrase, usize>,
}

impl Board {
    /// An empty board.
    #[must_use]
    pub fn new(language: &'static Language, names: PerTeam<String>) -> Self {
        Self {
            language,
            names,
            current: Vec::new(),
            in_rally: (0, 0),
            words: BTreeSet::new(),
            shown: BTreeMap::new(),
            turns: BTreeMap::new(),
        }
    }

    /// Takes back what is no longer true.
    pub fn review(&mut self, sources: &Sources, score: &Score, ended: u32) {
        self.current
            .retain(|prompt| prompt.is_true(sources, score, ended));
    }

    /// States what is on the board.
    pub fn state(&self, readings: &mut Readings) {
        for prompt in &self.current {
            readings.keep(&prompt.reading);
        }
    }

    /// Rallies that have ended since something was said; at the start, all.
    #[must_use]
    pub fn quiet_for(&self, ended: u32) -> u32 {
        ended - self.in_rally.0
    }

    /// Whether something was said since this many rallies have ended.
    #[must_use]
    pub fn has_said(&self, ended: u32) -> bool {
        self.in_rally.0 == ended && self.in_rally.1 > 0
    }

    /// Says the first of the lines that is not, in effect, said already.
    pub fn say(&mut self, lines: Vec<Line>, scene: &Scene, ended: u32) {
        for line in lines {
            if let Some((text, cites)) = self.words_for(&line, scene) {
                let why = reasons(&line, &cites, scene);
                if !self.was_shown(&why, ended, line.rests) {
                    self.put_up(&line, text, (cites, why), scene, ended);
                    return;
                }
            }
        }
    }

    /// The way to say a line whose turn it is, among those that are new.
    fn words_for(&self, line: &Line, scene: &Scene) -> Option<(String, Vec<(Cite, Figure)>)> {
        let figure = |cite: &Cite| scene.sources.figure(*cite);
        let figures: Vec<Option<Figure>> = line.figures.iter().map(figure).collect();
        let filling = Filling {
            names: &self.names,
            team: line.team,
            figures: &figures,
            places: &line.places,
            tense: scene.tense(),
        };
        let ways = (self.language.ways)(line.phrase);
        let turn = self.turns.get(&line.phrase).copied().unwrap_or(0);
        let text = (0..ways.len()).find_map(|step| {
            let text = self
                .language
                .say(ways[(turn + step) % ways.len()], &filling)?;
            (!self.words.contains(&text)).then_some(text)
        })?;
        let cites = line.figures.iter().chain(&line.rests_on);
        let cites = cites.filter_map(|cite| Some((*cite, figure(cite)?)));
        Some((text, cites.collect()))
    }

    /// Whether any of it has shown a prompt within the last rallies.
    fn was_shown(&self, why: &[Reason], ended: u32, rests: u32) -> bool {
        why.iter().any(|reason| {
            let then = self.shown.get(&subject(reason));
            then.is_some_and(|then| ended - then <= rests)
        })
    }

    fn put_up(
        &mut self,
        line: &Line,
        text: String,
        (cites, why): (Vec<(Cite, Figure)>, Vec<Reason>),
        scene: &Scene,
        ended: u32,
    ) {
        let slot = self.next_slot(ended, line.phrase);
        self.words.insert(text.clone());
        *self.turns.entry(line.phrase).or_default() += 1;
        self.shown
            .extend(why.iter().map(|reason| (subject(reason), ended)));
        if self.current.len() == MOST_CURRENT {
            self.current.remove(0);
        }
        self.current.push(Prompt {
            reading: Reading {
                key: key(INDICATOR).slot(slot),
                value: Value::Text(text),
                why,
                flags: Vec::new(),
            },
            cites,
            life: line.life,
            ended,
            standing: ScoreStamp::of(scene.score),
        });
    }

    /// Sorts after every slot before it: the rally, the place in it, the kind.
    fn next_slot(&mut self, rally: u32, phrase: Phrase) -> String {
        let (last, count) = self.in_rally;
        let count = if last == rally { count + 1 } else { 1 };
        self.in_rally = (rally, count);
        format!("r{rally:04}.{count:02}.{}", phrase.kind())
    }
}

/// What a reason is about.
fn subject(reason: &Reason) -> (String, u8) {
    (reason.code.clone(), place(reason.team))
}

/// Entries that show it, and each figure under its name, in order. There is always
/// one.
fn reasons(line: &Line, cites: &[(Cite, Figure)], scene: &Scene) -> Vec<Reason> {
    let mut why = line.shown.clone();
    why.extend(cites.iter().map(|(cite, _)| Reason {
        code: cite.name(),
        team: cite.team,
        entry: scene.sources.entry(*cite).unwrap_or(scene.entry),
        inferred: false,
    }));
    why.sort_by(|one, other| order(one).cmp(&order(other)));
    why.dedup();
    why
}

fn order(reason: &Reason) -> (&str, u8, u32) {
    (&reason.code, place(reason.team), reason.entry)
}

fn place(team: Option<Team>) -> u8 {
    match team {
        None => 0,
        Some(Team::A) => 1,
        Some(Team::B) => 2,
    }
}
