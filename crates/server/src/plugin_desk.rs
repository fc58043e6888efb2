//! What the desk can do with plugins. What a plugin is, this crate does not know:
//! the program hands in a [`PluginDesk`].

use std::collections::BTreeMap;

use rallytide_court::PluginOnCourt;
use rallytide_plugin_registry::{LoadAttempt, RegisteredPlugin};
use serde::Serialize;
use serde_json::{Map, Value};

/// `GET /plugins`: every plugin with its state on every court, and every attempt
/// to load one.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct PluginReport {
    /// Every plugin, by its id.
    pub plugins: Vec<RegisteredPlugin>,
    /// How the plugins are on each court that a match is on, by the court's name.
    pub courts: BTreeMap<String, Vec<PluginOnCourt>>,
    /// Every attempt that is still kept, the oldest first.
    pub attempts: Vec<LoadAttempt>,
}

/// The program's side of the plugins.
pub trait PluginDesk: Send + Sync {
    /// Every plugin with its state on every court, and every attempt to load one.
    fn report(&self) -> PluginReport;

    /// Switches a plugin on or off.
    ///
    /// # Errors
    /// Why not.
    fn switch(&self, plugin: &str, on: bool) -> Result<(), PluginRefusal>;

    /// Chooses settings for a plugin, by name; what is not named has its default.
    ///
    /// # Errors
    /// Why not, with what is allowed.
    fn set(&self, plugin: &str, chosen: Map<String, Value>) -> Result<(), PluginRefusal>;
}

/// Why a plugin was not switched or set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PluginRefusal {
    /// There is no such plugin.
    Unknown(String),
    /// It does not fit; the sentence says what does.
    Unfit(String),
}
