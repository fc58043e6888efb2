//! Lines that could be said, each with its figures and its evidence.
//!
//! Invariant: a line's words are true whenever its figures are those it cites and
//! its [`Life`] lasts. Whether it is said is for [`crate::board`].

use rallytide_plugin_kit::{Reason, Score, Team};

use crate::language::{PlaceValue, Tense};
use crate::names::Names;
use crate::phrases::Phrase;
use crate::sources::{COVERAGE, Cite, Sources};

/// Rallies charted without a gap, of 100, below which the chart has gaps.
const COVERED: u32 = 80;

/// Rallies within which the same thing is not said in other words.
pub const SAME_THING: u32 = 5;

/// How long a line stays true, apart from its figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Life {
    /// Until three more rallies have ended.
    ThreeRallies,
    /// It speaks of the rally that has just ended: until another one has.
    LastRally,
    /// The same, and only while points and server are as they are.
    Standing,
}

/// A line that could be said.
#[derive(Debug, Clone)]
pub struct Line {
    /// What to say.
    pub phrase: Phrase,
    /// Whom it is about.
    pub team: Team,
    /// The figures with a place in the words.
    pub figures: Vec<Cite>,
    /// Figures without one that it rests on.
    pub rests_on: Vec<Cite>,
    /// What stands in the named places.
    pub places: Vec<(&'static str, PlaceValue)>,
    /// Entries that show it, besides the figures.
    pub shown: Vec<Reason>,
    /// How long it stays true.
    pub life: Life,
    /// Rallies within which nothing that has shown it shows another line.
    pub rests: u32,
}

impl Line {
    /// A line about a team.
    #[must_use]
    pub fn new(phrase: Phrase, team: Team, life: Life) -> Self {
        Self {
            phrase,
            team,
            figures: Vec::new(),
            rests_on: Vec::new(),
            places: Vec::new(),
            shown: Vec::new(),
            life,
            rests: SAME_THING,
        }
    }

    /// The same with its next figure.
    #[must_use]
    pub fn figure(mut self, cite: Cite) -> Self {
        self.figures.push(cite);
        self
    }

    /// The same, resting on a figure that is not said.
    #[must_use]
    pub fn rests_on(mut self, cite: Cite) -> Self {
        self.rests_on.push(cite);
        self
    }

    /// The same with something in a named place.
    #[must_use]
    pub fn with(mut self, place: &'static str, said: PlaceValue) -> Self {
        self.places.push((place, said));
        self
    }

    /// The same with a number in a named place.
    #[must_use]
    pub fn number(self, place: &'static str, number: u32) -> Self {
        self.with(place, PlaceValue::Number(number))
    }

    /// The same, shown by an entry.
    #[must_use]
    pub fn shown_by(mut self, entry: u32) -> Self {
        self.shown.push(Reason {
            code: self.phrase.kind().into(),
            team: Some(self.team),
            entry,
            inferred: false,
        });
        self
    }
}

/// What lines are made from.
#[derive(Debug)]
pub struct Scene<'a> {
    /// The latest figures.
    pub sources: &'a Sources,
    /// The score after the entry.
    pub score: &'a Score,
    /// What teams and players are called.
    pub names: &'a Names,
    /// The entry.
    pub entry: u32,
    /// The rally in which a figure is fresh.
    pub serial: u32,
    /// Whether points were given, taken off or set in the match.
    pub is_altered: bool,
    /// Cases from which on a share says something about a team.
    pub least_sample: u32,
}

impl Scene<'_> {
    /// Whether a figure was changed by the rally that has just ended.
    #[must_use]
    pub fn is_fresh(&self, cite: Cite) -> bool {
        self.sources.is_fresh(cite, self.serial)
    }

    /// Whether nearly all rallies were charted shot by shot: of another chart
    /// nothing can be told that counts shots or spells.
    #[must_use]
    pub fn has_shots(&self) -> bool {
        let (part, whole) = self.sources.share(Cite::of_match(COVERAGE));
        whole >= self.least_sample && 100 * part >= COVERED * whole
    }

    /// A team's points, the others' behind them.
    #[must_use]
    pub fn points(&self, team: Team) -> PlaceValue {
        PlaceValue::Score(
            self.score.points.of(team),
            self.score.points.of(team.other()),
        )
    }

    /// Whether what is told goes on.
    #[must_use]
    pub fn tense(&self) -> Tense {
        if self.score.winner.is_some() {
            Tense::Over
        } else {
            Tense::SoFar
        }
    }
}

/// A number of each team.
pub trait OfTeam {
    /// The team's.
    fn of(&self, team: Team) -> u32;
}

impl OfTeam for rallytide_plugin_kit::Pair {
    fn of(&self, team: Team) -> u32 {
        match team {
            Team::A => self.a,
            Team::B => self.b,
        }
    }
}
