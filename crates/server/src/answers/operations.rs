//! How the host is doing.

use serde::Serialize;

/// `GET /health`.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct Health {
    pub(crate) status: HealthStatus,
    /// The version of the program.
    pub(crate) version: &'static str,
}

/// Whether the host does what it is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) enum HealthStatus {
    /// It answers.
    Ok,
}
