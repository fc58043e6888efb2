//! A match as the host knows it, for the desk and for everybody.

use rallytide_chart::Header;
use serde::Serialize;
use serde_json::Value;

use crate::live::CourtName;
use crate::places::PlaceNow;

/// A match, for the desk.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownMatch {
    /// Its header, in the words in use.
    pub header: Header,
    /// How far it is.
    pub state: MatchPhase,
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub enum MatchPhase {
    /// Nothing but its header is known.
    Planned,
    /// It is on a court.
    On,
    /// It is over, by its score or by the desk.
    Finished,
    /// It was begun, is not over, and is on no court.
    PutAside,
}
