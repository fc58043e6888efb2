//! What the charters of a court are told of each other.

use std::sync::Arc;

/// Something the charters of a court should know of each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice {
    /// The connection it comes from, which need not hear it.
    pub from: u64,
    /// What it is about, for programs.
    pub code: NoticeCode,
    /// One sentence.
    pub message: Arc<str>,
}

/// What a notice is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoticeCode {
    /// Another charter has said hello.
    CharterArrived,
    /// Another charter has taken the court over.
    TakenOver,
}

impl NoticeCode {
    /// The code as it is written on the wire.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::CharterArrived => "charter_arrived",
            Self::TakenOver => "taken_over",
        }
    }
}
