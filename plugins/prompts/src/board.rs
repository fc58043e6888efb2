//! What is on the board: which of the lines is said, and for how long.
//!
//! Invariants: at most [`MOST_CURRENT`] prompts are current; each is true as long
//! as it is; two new ones are at least the pause apart; no words are said twice in
//! a match, and no figures twice within [`SAME_FIGURES`] rallies.

use std::collections::BTreeSet;

use rallytide_plugin_kit::{PerTeam, Reading, Readings, Reason, Score, Team, Value, key};

use crate::clock::Clock;
use crate::language::{Filling, Language, has_place};
use crate::lines::{Life, Line};
use crate::phrases::{Kind, Phrase};
use crate::rally::Held;
use crate::sources::{Cite, Figure, Sources};

/// Prompts that are current at most.
pub const MOST_CURRENT: usize = 3;
/// Rallies within which the same figures are not told again.
pub const SAME_FIGURES: u32 = 8;
/// Rallies after whose end a prompt has had its time.
const LASTS: u32 = 3;
/// What is lighter than this is not said.
const QUIET: i32 = 30;
/// So much lighter that it is not said whatever it weighs.
const UNSAID: i32 = 1000;
/// Rallies within which a caution, which is about the chart and not about play,
/// is not said again.
const CAUTION_RESTS: u32 = 40;
/// Rallies within which a need is not offered again: it is much the same each time.
const NEED_RESTS: u32 = 4;
/// How much lighter a line is if something of its kind was said at most so many
/// rallies ago.
const LATELY: [(u32, i32); 3] = [(3, 40), (8, 22), (15, 10)];
/// The same for game and match points, each of which everybody sees.
const POINTS_LATELY: [(u32, i32); 1] = [(2, 60)];
/// How much heavier a line about numbers is if nothing has been said for at least
/// so many rallies.
const LULL: [(u32, i32); 4] = [(5, 12), (3, 6), (2, 0), (0, -8)];
/// How much heavier it is where play has stopped.
const STOP: i32 = 6;

const INDICATOR: &str = "prompt";

/// Where in the match a line is said.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    /// The entry.
    pub entry: u32,
    /// The recorder's clock there.
    pub at_ms: f64,
    /// The rally that is on, else the last one, from 1.
    pub rally: u32,
    /// Rallies that have ended.
    pub ended: u32,
    /// Play has stopped for more than a serve, or for good: there is time for
    /// numbers.
    pub stops: bool,
}

/// How things stand, to see whether prompts are still true.
#[derive(Debug, Clone, Copy)]
pub struct Now<'a> {
    /// The figures.
    pub sources: &'a Sources,
    /// The score.
    pub score: &'a Score,
    /// Who holds the initiative.
    pub held: &'a Held,
    /// Rallies that have ended.
    pub ended: u32,
}

#[derive(Debug)]
struct Prompt {
    reading: Reading,
    cites: Vec<(Cite, Figure)>,
    life: Life,
    rally: u32,
    ended: u32,
}

impl Prompt {
    fn is_true(&self, now: Now) -> bool {
        let lives = match self.life {
            Life::Figures => now.ended - self.ended < LASTS,
            Life::LastRally => now.ended == self.ended,
            Life::Pressed(team) => now.held.on_defense() == Some(team),
            Life::GamePoint(team) => now.score.game_point == Some(team),
            Life::MatchPoint(team) => now.score.match_point == Some(team),
        };
        let mut cites = self.cites.iter();
        lives && cites.all(|(cite, figure)| now.sources.figure(*cite) == Some(*figure))
    }
}

/// What has been said.
pub struct Board {
    language: &'static Language,
    names: PerTeam<String>,
    current: Vec<Prompt>,
    clock: Clock,
    in_rally: (u32, u32),
    words: BTreeSet<String>,
    figures: Vec<(Cite, Figure, u32)>,
    kinds: Vec<(Kind, u32)>,
    /// Rallies that had ended when something was last said.
    latest: u32,
    turns: Vec<(Phrase, usize)>,
}

impl Board {
    /// An empty board.
    #[must_use]
    pub fn new(language: &'static Language, names: PerTeam<String>, pause_ms: f64) -> Self {
        Self {
            language,
            names,
            current: Vec::new(),
            clock: Clock::new(pause_ms),
            in_rally: (0, 0),
            words: BTreeSet::new(),
            figures: Vec::new(),
            kinds: Vec::new(),
            latest: 0,
            turns: Vec::new(),
        }
    }

    /// The recorder's clock goes on.
    pub fn tick(&mut self, at_ms: f64) {
        self.clock.tick(at_ms);
    }

    /// Takes back what is no longer true.
    pub fn review(&mut self, now: Now) {
        self.current.retain(|prompt| prompt.is_true(now));
    }

    /// Takes back what was said in a rally that does not count.
    pub fn take_back(&mut self, rally: u32) {
        self.current.retain(|prompt| prompt.rally != rally);
    }

    /// States what is on the board.
    pub fn state(&self, readings: &mut Readings) {
        for prompt in &self.current {
            readings.keep(&prompt.reading);
        }
    }

    /// Whether something new may be said by now: before that, looking for something
    /// is in vain.
    #[must_use]
    pub fn may_speak(&self, at_ms: f64) -> bool {
        self.clock.is_pause_over(at_ms)
    }

    /// Says the weightiest of the lines that is worth it, if the pause is over.
    /// Whether one was said.
    pub fn say(&mut self, lines: Vec<Line>, sources: &Sources, place: Place) -> bool {
        if lines.is_empty() || !self.may_speak(place.at_ms) {
            return false;
        }
        let mut lines: Vec<(i32, Line)> = lines
            .into_iter()
            .map(|line| (self.weight(&line, place), line))
            .filter(|(weight, _)| *weight >= QUIET)
            .collect();
        lines.sort_by_key(|(weight, _)| std::cmp::Reverse(*weight));
        for (_, line) in lines {
            if let Some(text) = self.words_for(&line, sources, place.ended) {
                self.put_up(&line, text, sources, place);
                return true;
            }
        }
        false
    }

    /// What a line weighs after what has been heard lately.
    fn weight(&self, line: &Line, place: Place) -> i32 {
        let kind = line.phrase.kind();
        let quiet_for = place.ended - self.latest;
        let lull = LULL.iter().find(|(least, _)| quiet_for >= *least);
        let lull = lull.map_or(0, |(_, heavier)| *heavier);
        let time = match (kind.is_about_numbers(), place.stops) {
            (false, _) => 0,
            (true, true) => lull.max(STOP),
            (true, false) => lull,
        };
        line.weight + time - self.lately(kind, place.ended)
    }

    /// How much lighter a kind is for having been heard lately.
    fn lately(&self, kind: Kind, ended: u32) -> i32 {
        let said = self.kinds.iter().find(|(one, _)| *one == kind);
        let Some(ago) = said.map(|(_, then)| ended - then) else {
            return 0;
        };
        let steps: &[(u32, i32)] = match kind {
            Kind::Caution => &[(CAUTION_RESTS, UNSAID)],
            Kind::Need => &[(NEED_RESTS, UNSAID)],
            Kind::Point => &POINTS_LATELY,
            _ => &LATELY,
        };
        let step = steps.iter().find(|(within, _)| ago <= *within);
        step.map_or(0, |(_, lighter)| *lighter)
    }

    /// The way to say a line whose turn it is, among those that are new.
    fn words_for(&self, line: &Line, sources: &Sources, ended: u32) -> Option<Words> {
        let cites = line.figures.iter();
        let figures: Vec<Option<Figure>> = cites.map(|cite| sources.figure(*cite)).collect();
        let filling = Filling {
            names: &self.names,
            team: line.team,
            figures: &figures,
            stroke: line.stroke,
        };
        let ways = (self.language.ways)(line.phrase);
        let turn = self.turn(line.phrase);
        (0..ways.len()).find_map(|step| {
            let way = ways[(turn + step) % ways.len()];
            let said = line.figures.iter().zip(&figures).enumerate();
            let cites: Vec<(Cite, Figure)> = said
                .filter(|(place, _)| has_place(way, *place))
                .filter_map(|(_, (cite, figure))| Some((*cite, (*figure)?)))
                .collect();
            let is_stale = !cites.is_empty()
                && cites
                    .iter()
                    .all(|(cite, figure)| self.was_told(*cite, *figure, ended));
            if is_stale {
                return None;
            }
            let text = self.language.say(way, &filling)?;
            (!self.words.contains(&text)).then_some(Words { text, cites })
        })
    }

    fn was_told(&self, cite: Cite, figure: Figure, ended: u32) -> bool {
        let mut told = self.figures.iter();
        told.any(|(one, then, when)| {
            *one == cite && *then == figure && ended - when <= SAME_FIGURES
        })
    }

    fn turn(&self, phrase: Phrase) -> usize {
        if phrase.kind() == Kind::Point {
            // Plain words are for when the chance was told before.
            return 0;
        }
        let turn = self.turns.iter().find(|(one, _)| *one == phrase);
        turn.map_or(0, |(_, turn)| *turn)
    }

    fn put_up(&mut self, line: &Line, words: Words, sources: &Sources, place: Place) {
        let kind = line.phrase.kind();
        let slot = self.next_slot(place.rally, kind);
        let Words { text, mut cites } = words;
        self.remember(line.phrase, &text, &cites, place);
        let rests_on = line.rests_on.iter().filter_map(|cite| {
            let figure = sources.figure(*cite)?;
            Some((*cite, figure))
        });
        cites.extend(rests_on);
        let why = reasons(line, &cites, sources, place.entry);
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
            rally: place.rally,
            ended: place.ended,
        });
    }

    /// Sorts after every slot before it: the rally, the place in it, the kind.
    fn next_slot(&mut self, rally: u32, kind: Kind) -> String {
        let (last, count) = self.in_rally;
        let count = if last == rally { count + 1 } else { 1 };
        self.in_rally = (rally, count);
        format!("r{rally:04}.{count:02}.{}", kind.name())
    }

    fn remember(&mut self, phrase: Phrase, text: &str, cites: &[(Cite, Figure)], place: Place) {
        let ended = place.ended;
        self.latest = ended;
        self.clock.said(place.at_ms);
        self.words.insert(text.to_owned());
        self.figures
            .retain(|(.., when)| ended - when <= SAME_FIGURES);
        let told = cites.iter().map(|(cite, figure)| (*cite, *figure, ended));
        self.figures.extend(told);
        match self
            .kinds
            .iter_mut()
            .find(|(kind, _)| *kind == phrase.kind())
        {
            Some((_, when)) => *when = ended,
            None => self.kinds.push((phrase.kind(), ended)),
        }
        match self.turns.iter_mut().find(|(one, _)| *one == phrase) {
            Some((_, turn)) => *turn += 1,
            None => self.turns.push((phrase, 1)),
        }
    }
}

struct Words {
    text: String,
    /// The figures that are said.
    cites: Vec<(Cite, Figure)>,
}

/// Rows and shots that show it, and each figure under its name, in order. There is
/// always one.
fn reasons(line: &Line, cites: &[(Cite, Figure)], sources: &Sources, entry: u32) -> Vec<Reason> {
    let reason = |code: String, team, shown: Option<u32>| Reason {
        code,
        team,
        entry: shown.unwrap_or(entry),
        inferred: false,
    };
    let mut why = line.shown.clone();
    let figures = cites.iter();
    why.extend(figures.map(|(cite, _)| reason(cite.name(), cite.team, sources.entry(*cite))));
    if why.is_empty() {
        let team = (!line.of_match).then_some(line.team);
        why.push(reason(line.phrase.kind().name().into(), team, None));
    }
    why.sort_by(|one, other| order(one).cmp(&order(other)));
    why.dedup();
    why
}

fn order(reason: &Reason) -> (&str, u8, u32) {
    let team = match reason.team {
        None => 0,
        Some(Team::A) => 1,
        Some(Team::B) => 2,
    };
    (&reason.code, team, reason.entry)
}
