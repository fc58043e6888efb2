//! The entries of a match, and what the desk adds to them.

use rallytide_chart::{EntryId, Flag, Seq};
use rallytide_court::{EntryFate, Seat};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// `GET /courts/{court}/entries`: newest first.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct EntryList {
    pub(crate) entries: Vec<ListedEntry>,
}

/// An entry in the order of the effective chart, retracted ones included.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ListedEntry {
    pub(crate) seq: Seq,
    #[cfg_attr(feature = "schema", ts(type = "EntryJson"))]
    pub(crate) entry: Map<String, Value>,
    /// What became of it.
    pub(crate) state: EntryFate,
    /// The correction that decides, where there is one.
    pub(crate) correction: Option<String>,
    /// Who recorded it.
    pub(crate) client: Option<String>,
    /// From which seat; the desk has none.
    pub(crate) seat: Option<Seat>,
    /// The score after it.
    #[cfg_attr(
        feature = "schema",
        ts(type = "Score"),
        schemars(with = "rallytide_scoring::Score")
    )]
    pub(crate) score: Value,
    /// The rally it belongs to, from 1.
    pub(crate) rally: u32,
}

/// Entries of the desk, as on the intake.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct EntriesOfDesk {
    #[cfg_attr(
        feature = "schema",
        ts(type = "EntryJson[]"),
        schemars(with = "Vec<Map<String, Value>>")
    )]
    pub(crate) entries: Vec<Value>,
}

/// What the entries would do.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct Preview {
    pub(crate) score: ScoreChange,
    /// The rallies that would be told otherwise, in order.
    pub(crate) rallies: Vec<RallyChange>,
    pub(crate) readings: ReadingChange,
    pub(crate) refused: Vec<Refusal>,
    pub(crate) flags: Vec<Flag>,
}

/// The score now, and as it would be.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ScoreChange {
    #[cfg_attr(
        feature = "schema",
        ts(type = "Score"),
        schemars(with = "rallytide_scoring::Score")
    )]
    pub(crate) before: Value,
    #[cfg_attr(
        feature = "schema",
        ts(type = "Score"),
        schemars(with = "rallytide_scoring::Score")
    )]
    pub(crate) after: Value,
}

/// A rally now, and as it would be: who won and the call after it.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct RallyChange {
    pub(crate) number: usize,
    pub(crate) before: Option<String>,
    pub(crate) after: Option<String>,
}

/// How many readings would differ.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ReadingChange {
    pub(crate) changed: usize,
}

/// What was recorded and what was refused.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct Taken {
    pub(crate) accepted: Vec<AcceptedEntry>,
    pub(crate) refused: Vec<Refusal>,
}

/// An entry that is durable.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct AcceptedEntry {
    pub(crate) id: EntryId,
    pub(crate) seq: Seq,
    pub(crate) flags: Vec<Flag>,
}

/// An entry that was refused, as on the intake.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct Refusal {
    pub(crate) id: Option<String>,
    pub(crate) code: &'static str,
    pub(crate) message: String,
}
