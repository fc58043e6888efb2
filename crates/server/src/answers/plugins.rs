//! What the desk can do with plugins. Their report is the program's: see
//! [`crate::PluginDesk`].

use serde::Deserialize;

/// Whether a plugin runs.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct Switch {
    pub(crate) on: bool,
}
