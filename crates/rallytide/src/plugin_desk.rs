//! The plugins of a running host: the registry and the courts brought together.
//!
//! Every change goes the same way: the registry tries the plugins on the matches
//! that are on, and only then the courts go on with them. One change at a time.

use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use rallytide_court::Courts;
use rallytide_plugin_host::{PluginFault, PluginSet, PluginSettings};
use rallytide_plugin_registry::{PluginRegistry, SwitchError, Watch, WatchError, watch};
use rallytide_server::{PluginDesk, PluginRefusal, PluginReport};
use serde_json::{Map, Value};

/// The registry of plugins and the courts.
pub(crate) struct HostPlugins {
    registry: Mutex<PluginRegistry>,
    courts: Arc<Courts>,
}

impl HostPlugins {
    pub(crate) fn new(registry: PluginRegistry, courts: Arc<Courts>) -> Self {
        Self {
            registry: Mutex::new(registry),
            courts,
        }
    }

    /// Watches the plugin folder and takes what changes in it.
    pub(crate) fn watch(self: &Arc<Self>, folder: &Path) -> Result<Watch, WatchError> {
        let own = Arc::clone(self);
        watch(folder, move || own.look())
    }

    fn look(&self) {
        let mut registry = self.locked();
        match registry.look(&self.trial()) {
            Ok(Some(plugin_set)) => self.courts.change_plugins(&plugin_set),
            Ok(None) => {}
            Err(error) => tracing::error!("{:#}", anyhow::Error::new(error)),
        }
    }

    fn trial(&self) -> impl Fn(&PluginSet) -> Vec<PluginFault> + '_ {
        |plugin_set| self.courts.try_plugins(plugin_set)
    }

    fn locked(&self) -> MutexGuard<'_, PluginRegistry> {
        // The registry replaces what runs in one assignment at the end of a change.
        self.registry.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl PluginDesk for HostPlugins {
    fn report(&self) -> PluginReport {
        let courts = self.courts.all();
        let with_match = courts.iter().filter(|court| court.match_on().is_some());
        let courts = with_match
            .map(|court| (court.name().to_string(), court.plugins()))
            .collect();
        let registry = self.locked();
        PluginReport {
            plugins: registry.plugins(),
            courts,
            attempts: registry.attempts().cloned().collect(),
        }
    }

    fn switch(&self, plugin: &str, on: bool) -> Result<(), PluginRefusal> {
        let mut registry = self.locked();
        let plugin_set = registry
            .switch(plugin, on, &self.trial())
            .map_err(refusal)?;
        if on {
            self.courts.forget_faults(plugin);
        }
        self.courts.change_plugins(&plugin_set);
        Ok(())
    }

    fn set(&self, plugin: &str, chosen: Map<String, Value>) -> Result<(), PluginRefusal> {
        let chosen: PluginSettings =
            serde_json::from_value(Value::Object(chosen)).map_err(|_| {
                PluginRefusal::Unfit("a setting is a number, a text, `true` or `false`".into())
            })?;
        let mut registry = self.locked();
        let plugin_set = registry
            .set(plugin, chosen, &self.trial())
            .map_err(refusal)?;
        self.courts.forget_faults(plugin);
        self.courts.change_plugins(&plugin_set);
        Ok(())
    }
}

fn refusal(error: SwitchError) -> PluginRefusal {
    match error {
        SwitchError::Unknown(_) => PluginRefusal::Unknown(error.to_string()),
        _ => PluginRefusal::Unfit(format!("{:#}", anyhow::Error::new(error))),
    }
}
