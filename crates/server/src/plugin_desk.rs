//! What the desk can do with plugins. What a plugin is, this crate does not know:
//! the program hands in a [`PluginDesk`].

use serde_json::{Map, Value};

/// The program's side of the plugins.
pub trait PluginDesk: Send + Sync {
    /// Every plugin with its state on every court, and every attempt to load one.
    fn report(&self) -> Value;

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
