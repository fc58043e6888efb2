//! What the charters of a court are told of each other and of the desk.

use std::sync::Arc;

use crate::seat::Seat;

/// Something the charters of a court should know of each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice {
    /// The connection it comes from, which need not hear it; none for the desk.
    pub from: Option<u64>,
    /// The seat it concerns; none where it concerns all.
    pub seat: Option<Seat>,
    /// What it is about, for programs.
    pub code: NoticeCode,
    /// One sentence.
    pub message: Arc<str>,
}

/// What a notice is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoticeCode {
    /// Another charter has said hello for this seat.
    CharterArrived,
    /// Another charter has taken this seat over.
    TakenOver,
    /// Match, names, play or chart are no longer what they were, by the desk or by
    /// another charter. What they are now is looked up when it is told, so that
    /// a charter who misses a notice misses nothing.
    CourtChanged,
}

impl Notice {
    /// The court is no longer as it was.
    #[must_use]
    pub fn court_changed(from: Option<u64>) -> Self {
        Self {
            from,
            seat: None,
            code: NoticeCode::CourtChanged,
            message: "the court is no longer as it was".into(),
        }
    }
}

impl NoticeCode {
    /// The code as it is written on the wire.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::CharterArrived => "charter_arrived",
            Self::TakenOver => "taken_over",
            Self::CourtChanged => "court_changed",
        }
    }
}
