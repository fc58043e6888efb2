//! Plugins whose readings are missing.

use serde::Serialize;

/// A plugin whose readings are missing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct Unavailable {
    /// Which plugin.
    pub plugin: String,
    /// Why, in one sentence.
    pub message: String,
}
