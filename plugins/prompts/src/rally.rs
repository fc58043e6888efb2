//! What has happened in one rally, as far as prompts speak of it: whether it is
//! on, and its last shot.

use rallytide_plugin_kit::{Play, Shot, Stroke, Team};

/// The last recorded shot of a rally.
#[derive(Debug, Clone, Copy)]
pub struct LastShot {
    /// The place of its entry.
    pub entry: u32,
    /// Who struck it.
    pub team: Team,
    /// How.
    pub stroke: Stroke,
    /// Which player, where known.
    pub player: Option<u32>,
    /// Its number in the rally, assumed shots included.
    pub number: u32,
}

/// One rally on its way.
#[derive(Debug, Default)]
pub struct Rally {
    last: Option<LastShot>,
    /// A shot was assumed, or the first was no serve.
    has_gap: bool,
}

impl Rally {
    /// Takes an entry within the rally.
    pub fn take(&mut self, entry: u32, play: &Play) {
        if let Play::Shot(shot) = play {
            self.has_gap |= is_gap(shot, self.last.is_none());
            self.last = Some(LastShot {
                entry,
                team: shot.team,
                stroke: shot.stroke,
                player: shot.player,
                number: shot.number,
            });
        }
    }

    /// A shot has been struck.
    #[must_use]
    pub fn is_on(&self) -> bool {
        self.last.is_some()
    }

    /// The latest shot.
    #[must_use]
    pub fn last_shot(&self) -> Option<&LastShot> {
        self.last.as_ref()
    }

    /// Whether every shot of it was recorded, as far as can be seen.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.last.is_some() && !self.has_gap
    }
}

fn is_gap(shot: &Shot, is_first: bool) -> bool {
    shot.missed_before || (is_first && shot.stroke != Stroke::Serve)
}
