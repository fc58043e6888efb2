//! Plugins whose readings are not to be had.

use serde::Serialize;

/// A plugin whose readings are not to be had.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct Unavailable {
    /// Which plugin.
    pub plugin: String,
    /// Why, in one sentence.
    pub message: String,
}
