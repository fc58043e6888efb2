//! A rally under way: what it started from, where the teams stand, what has
//! been struck so far.

use rallytide_chart::{Contact, CueSet, Depth, Discipline, PairOf, Stroke, Team};

use crate::dice::Dice;
use crate::sides::Side;

/// What a rally starts from.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RallyOpening {
    pub(crate) discipline: Discipline,
    pub(crate) serving: Team,
    pub(crate) server: u32,
    pub(crate) receiver: u32,
}

/// A rally under way.
pub(super) struct RallyInPlay<'a> {
    pub(super) opening: &'a RallyOpening,
    pub(super) sides: &'a PairOf<Side>,
    pub(super) dice: &'a mut Dice,
    pub(super) depths: PairOf<Depth>,
    pub(super) shots: Vec<PlayedShot>,
}

impl RallyInPlay<'_> {
    pub(super) fn is_singles(&self) -> bool {
        self.opening.discipline == Discipline::Singles
    }
}

/// One contact with the ball.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PlayedShot {
    pub(crate) team: Team,
    pub(crate) player: u32,
    pub(crate) stroke: Stroke,
    /// `None` for the serve only.
    pub(crate) contact: Option<Contact>,
    pub(crate) cues: CueSet,
    /// Since the shot before, in milliseconds; 0 for the serve.
    pub(crate) since_last: i64,
    /// Where the teams stood as the ball was struck.
    pub(crate) depths: PairOf<Depth>,
}
