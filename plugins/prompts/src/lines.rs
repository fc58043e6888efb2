//! Lines that could be said, each with its figures, its evidence and its weight.
//!
//! Invariant: a line's words are true whenever its figures are those it cites and
//! its [`Life`] lasts. Whether it is said is for [`crate::board`].

use rallytide_plugin_kit::{Reason, Team};

use crate::phrases::Phrase;
use crate::sources::{COVERAGE, Cite, Sources};

/// Rallies charted without a gap, of 100, below which the chart has gaps.
const COVERED: u32 = 80;

/// How long a line stays true, apart from its figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Life {
    /// As long as its figures are what they are.
    Figures,
    /// It speaks of the rally that has just ended: until another one has.
    LastRally,
    /// While the team is pressed in this rally.
    Pressed(Team),
    /// While the team has game point.
    GamePoint(Team),
    /// While the team has match point.
    MatchPoint(Team),
}

/// A line that could be said.
#[derive(Debug, Clone)]
pub struct Line {
    /// What to say.
    pub phrase: Phrase,
    /// Whom it is about.
    pub team: Team,
    /// Whether the reasons speak of the team; else they are the match's.
    pub of_match: bool,
    /// The slot of a stroke, for its name.
    pub stroke: &'static str,
    /// The figures with a place in the words.
    pub figures: Vec<Cite>,
    /// Figures without one that it rests on.
    pub rests_on: Vec<Cite>,
    /// Rows and shots that show it, besides the figures.
    pub shown: Vec<Reason>,
    /// How much it wants to be said.
    pub weight: i32,
    /// How long it stays true.
    pub life: Life,
}

impl Line {
    /// A line about a team that stays true as long as its figures.
    #[must_use]
    pub fn new(phrase: Phrase, team: Team, weight: i32) -> Self {
        Self {
            phrase,
            team,
            of_match: false,
            stroke: "",
            figures: Vec::new(),
            rests_on: Vec::new(),
            shown: Vec::new(),
            weight,
            life: Life::Figures,
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

    /// The same, shown by an entry, if there is one.
    #[must_use]
    pub fn shown_by(mut self, entry: Option<u32>) -> Self {
        self.shown.extend(entry.map(|entry| Reason {
            code: self.phrase.kind().name().into(),
            team: (!self.of_match).then_some(self.team),
            entry,
            inferred: false,
        }));
        self
    }

    /// The same for as long as this.
    #[must_use]
    pub fn lasting(self, life: Life) -> Self {
        Self { life, ..self }
    }

    /// The same about the match, whatever team it was handed.
    #[must_use]
    pub fn of_match(self) -> Self {
        Self {
            of_match: true,
            ..self
        }
    }
}

/// What lines are made from.
#[derive(Debug)]
pub struct Scene<'a> {
    /// The latest figures.
    pub sources: &'a Sources,
    /// The rally in which a figure is fresh; none: any figure will do, because
    /// there is time to look back.
    pub fresh_in: Option<u32>,
    /// Cases from which on a share says something about a team.
    pub least_sample: u32,
}

impl Scene<'_> {
    /// Whether a figure is worth a line now.
    #[must_use]
    pub fn is_fresh(&self, cite: Cite) -> bool {
        self.fresh_in
            .is_none_or(|rally| self.sources.is_fresh(cite, rally))
    }

    /// Whether so many rallies were charted with gaps that what counts shots and
    /// spells cannot be told as the match's.
    #[must_use]
    pub fn has_gaps(&self) -> bool {
        let coverage = Cite::of_match(COVERAGE);
        let (part, whole) = self.sources.share(coverage);
        self.is_sample(coverage) && 100 * part < COVERED * whole
    }

    /// Whether a share has enough cases to say something about a team.
    #[must_use]
    pub fn is_sample(&self, cite: Cite) -> bool {
        self.sources.share(cite).1 >= self.least_sample
    }
}
