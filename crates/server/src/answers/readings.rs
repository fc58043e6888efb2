//! The current readings of one indicator, for programs and streaming programs
//! that show one number.

use serde::{Deserialize, Serialize};
use serde_json::Value;

/// `GET /courts/{court}/now/reading/{indicator}`: as in the snapshot.
#[derive(Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct IndicatorReadings {
    /// All that are current, sorted.
    #[cfg_attr(
        feature = "schema",
        ts(type = "Reading[]"),
        schemars(with = "Vec<rallytide_readings::Reading>")
    )]
    pub(crate) readings: Vec<Value>,
}

/// Which of the readings are asked for; what is left out does not matter.
#[derive(Debug, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ReadingQuery {
    pub(crate) team: Option<String>,
    pub(crate) player: Option<u32>,
    pub(crate) slot: Option<String>,
}
