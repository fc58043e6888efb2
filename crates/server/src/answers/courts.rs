//! The courts, and what is done with what is on them.

use serde::{Deserialize, Serialize};

/// `GET /courts`.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct CourtList {
    /// By name.
    pub(crate) courts: Vec<ListedCourt>,
}

/// A court and what is on it.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ListedCourt {
    pub(crate) court: String,
    #[serde(rename = "match")]
    pub(crate) on: Option<ListedMatch>,
}

/// A match by id and title.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ListedMatch {
    pub(crate) id: String,
    /// For people; may be empty.
    pub(crate) title: String,
}

/// Which match to put on a court.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct PutMatch {
    #[serde(rename = "match")]
    pub(crate) id: String,
    /// Also where another match is being played.
    #[serde(default)]
    pub(crate) replace: bool,
    /// Where it is on another court, it leaves that one.
    #[serde(default, rename = "move")]
    pub(crate) moves: bool,
}

/// Whether play is paused.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct Pause {
    pub(crate) paused: bool,
}

/// Whether the match is over by the desk's word.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct Finish {
    pub(crate) finished: bool,
    /// The team that stops, `a` or `b`: the other one wins.
    pub(crate) retired: Option<String>,
}
