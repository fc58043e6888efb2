//! What the desk can do with plugins. Their report is [`crate::PluginReport`].

use serde::Deserialize;

/// Whether a plugin runs.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct Switch {
    pub(crate) on: bool,
}
