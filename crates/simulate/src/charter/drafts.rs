//! What a charter is about to type, before it has ids.

use rallytide_chart::{Cue, Depth, Shot, Stroke, Team};

use crate::rally::Ending;

/// Something to be typed at a moment, in milliseconds since 1970.
#[derive(Debug, Clone)]
pub(super) struct Draft {
    pub(super) at: i64,
    pub(super) what: DraftContent,
}

/// What is typed. `place` counts the shots of the rally from 0.
#[derive(Debug, Clone)]
pub(super) enum DraftContent {
    /// The shot at `place`.
    Shot { place: usize, shot: Shot },
    /// A cue about the shot at `place`.
    Cue { place: usize, cue: Cue },
    /// Where a team stands.
    Depth {
        team: Team,
        depth: Depth,
        player: Option<u32>,
    },
    /// The end of the rally.
    End { ending: Ending, player: Option<u32> },
    /// The rally is broken off.
    Replay { reason: &'static str },
    /// The key of a shot is hit once more.
    Again { shot: Shot },
    /// The latest entry with this mark is taken back.
    TakeBack(Mark),
    /// The latest retraction is itself taken back.
    Redo,
    /// The shot at `place` was really this.
    MendShot { place: usize, shot: Shot },
    /// The end was really this.
    MendEnd { ending: Ending },
    /// The shot at `place` was missed.
    PutIn { place: usize, shot: Shot },
}

/// An entry that a slip has to find again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    /// The shot at this place.
    Shot(usize),
    /// The shot hit twice.
    Again,
    /// This cue about the shot at this place.
    Cue(usize, Cue),
    /// The end of the rally.
    End,
    /// A retraction.
    Retraction,
}

/// The stroke that a charter confuses `stroke` with.
pub(super) fn mistaken_for(stroke: Stroke) -> Option<Stroke> {
    Some(match stroke {
        Stroke::Drive | Stroke::Dink => Stroke::Drop,
        Stroke::Drop | Stroke::Reset | Stroke::Lob => Stroke::Dink,
        Stroke::Volley => Stroke::Block,
        Stroke::Block => Stroke::Reset,
        Stroke::Speedup | Stroke::Erne | Stroke::Overhead => Stroke::Volley,
        Stroke::Atp => Stroke::Drive,
        Stroke::Serve | Stroke::Return | Stroke::Other => return None,
    })
}
