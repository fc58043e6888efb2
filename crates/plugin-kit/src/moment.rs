//! One step of the match, whole: score and upstream readings stand in it even
//! where the host left them out because they had not changed.

use crate::{Cue, Cues, Entry, Play, PlayKind, Score, Upstream};

/// One step of the match, as a plugin is handed it.
#[derive(Debug, Clone, PartialEq)]
pub struct Moment {
    /// What happened.
    pub entry: Entry,
    /// The score after this entry.
    pub score: Score,
    /// The readings of the indicators in the manifest's `reads`, as they stand
    /// after this entry.
    pub upstream: Upstream,
}

impl Play {
    /// What kind of play this is.
    #[must_use]
    pub fn kind(&self) -> PlayKind {
        match self {
            Self::Shot(_) => PlayKind::Shot,
            Self::Cue(_) => PlayKind::Cue,
            Self::Depth(_) => PlayKind::Depth,
            Self::RallyEnd(_) => PlayKind::RallyEnd,
            Self::Replay => PlayKind::Replay,
            Self::TimeOut(_) => PlayKind::TimeOut,
            Self::Penalty(_) => PlayKind::Penalty,
            Self::ScoreFix(_) => PlayKind::ScoreFix,
            Self::Lineup(_) => PlayKind::Lineup,
            Self::Retire(_) => PlayKind::Retire,
            Self::Note(_) => PlayKind::Note,
        }
    }
}

impl From<Cue> for Cues {
    fn from(cue: Cue) -> Self {
        match cue {
            Cue::OffBalance => Self::OFF_BALANCE,
            Cue::Awkward => Self::AWKWARD,
            Cue::Attackable => Self::ATTACKABLE,
            Cue::NetCord => Self::NET_CORD,
        }
    }
}
