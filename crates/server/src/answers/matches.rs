//! Matches: planned, imported, begun.

use rallytide_court::MatchPhase;
use serde::Serialize;
use serde_json::{Map, Value};

/// The forms that a match can be taken away in.
#[cfg(feature = "schema")]
pub(crate) const EXPORT_FILES: &[&str] = &[
    "shots.csv",
    "rallies.csv",
    "events.csv",
    "readings.csv",
    "captions.vtt",
    "chapters.vtt",
    "match.html",
];

/// A match with the header it has from now on.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct PlannedMatch {
    pub(crate) id: String,
    #[cfg_attr(feature = "schema", ts(type = "DeskHeader"))]
    pub(crate) header: Map<String, Value>,
}

/// `GET /matches.json`: the matches that have been begun, by id.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct BegunMatches {
    pub(crate) matches: Vec<BegunMatch>,
}

/// A match that has been begun.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct BegunMatch {
    pub(crate) id: String,
    pub(crate) state: MatchPhase,
    #[cfg_attr(feature = "schema", ts(type = "DeskHeader"))]
    pub(crate) header: Map<String, Value>,
}

/// What came of a sheet: matches, or everything that is wrong with it.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ImportAnswer {
    #[cfg_attr(feature = "schema", ts(type = "DeskHeader[]"))]
    pub(crate) matches: Vec<Map<String, Value>>,
    /// Columns that mean nothing here and were left aside, as they were written.
    pub(crate) ignored: Vec<String>,
    pub(crate) problems: Vec<ImportProblem>,
}

/// What is wrong with a line.
#[derive(Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ImportProblem {
    pub(crate) line: u64,
    /// Where one cell is at fault.
    pub(crate) column: Option<String>,
    pub(crate) message: String,
}
