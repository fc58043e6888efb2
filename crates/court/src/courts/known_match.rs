//! A match as the host knows it, for the desk and for everybody.

use rallytide_chart::Header;
use serde_json::Value;

use crate::live::CourtName;
use crate::places::PlaceNow;

/// A match, for the desk.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownMatch {
    /// Its header, in the words in use.
    pub header: Header,
    /// How far it is.
    pub state: MatchState,
    /// The court it is on.
    pub court: Option<CourtName>,
    /// How many entries were recorded.
    pub entries: usize,
    /// Who has won.
    pub winner: Option<&'static str>,
    /// The score, as JSON, once it has begun or is on a court.
    pub score: Option<Value>,
    /// Its places that other matches fill.
    pub places: Vec<PlaceNow>,
}

/// How far a match is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MatchState {
    /// Nothing but its header is known.
    Planned,
    /// It is on a court.
    On,
    /// It is over, by its score or by the desk.
    Finished,
    /// It was begun, is not over, and is on no court.
    PutAside,
}

impl MatchState {
    /// The state as it is written.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Planned => "planned",
            Self::On => "on",
            Self::Finished => "finished",
            Self::PutAside => "put_aside",
        }
    }
}
