//! The plugins of a running host: the shelf and the courts brought together.
//!
//! Every change goes the same way: the shelf tries the plugins on the matches
//! that are on, and only then the courts go on with them. One change at a time.

use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use rallytide_court::Courts;
use rallytide_plugin_host::{Ensemble, Fault, PluginSettings};
use rallytide_server::{DeskRefusal, PluginDesk};
use rallytide_shelf::{Shelf, SwitchError, Watch, WatchError, watch};
use serde_json::{Map, Value, json};

/// Shelf and courts.
pub(crate) struct HostPlugins {
    shelf: Mutex<Shelf>,
    courts: Arc<Courts>,
}

impl HostPlugins {
    pub(crate) fn new(shelf: Shelf, courts: Arc<Courts>) -> Self {
        Self {
            shelf: Mutex::new(shelf),
            courts,
        }
    }

    /// Watches the plugin folder and takes what changes in it.
    pub(crate) fn watch(self: &Arc<Self>, folder: &Path) -> Result<Watch, WatchError> {
        let own = Arc::clone(self);
        watch(folder, move || own.look())
    }

    fn look(&self) {
        let mut shelf = self.locked();
        match shelf.look(&self.trial()) {
            Ok(Some(ensemble)) => self.courts.change_plugins(&ensemble),
            Ok(None) => {}
            Err(error) => tracing::error!("{:#}", anyhow::Error::new(error)),
        }
    }

    fn trial(&self) -> impl Fn(&Ensemble) -> Vec<Fault> + '_ {
        |ensemble| self.courts.try_plugins(ensemble)
    }

    fn locked(&self) -> MutexGuard<'_, Shelf> {
        // The shelf replaces what runs in one assignment at the end of a change.
        self.shelf.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl PluginDesk for HostPlugins {
    fn report(&self) -> Value {
        let courts: Map<String, Value> = self
            .courts
            .all()
            .iter()
            .filter(|court| court.match_on().is_some())
            .map(|court| (court.name().to_string(), json!(court.plugins())))
            .collect();
        let shelf = self.locked();
        let attempts: Vec<_> = shelf.attempts().collect();
        json!({"plugins": shelf.plugins(), "courts": courts, "attempts": attempts})
    }

    fn switch(&self, plugin: &str, on: bool) -> Result<(), DeskRefusal> {
        let mut shelf = self.locked();
        let ensemble = shelf.switch(plugin, on, &self.trial()).map_err(refusal)?;
        if on {
            self.courts.forget_faults(plugin);
        }
        self.courts.change_plugins(&ensemble);
        Ok(())
    }

    fn set(&self, plugin: &str, chosen: Map<String, Value>) -> Result<(), DeskRefusal> {
        let chosen: PluginSettings =
            serde_json::from_value(Value::Object(chosen)).map_err(|_| {
                DeskRefusal::Unfit("a setting is a number, a text, `true` or `false`".into())
            })?;
        let mut shelf = self.locked();
        let ensemble = shelf.set(plugin, chosen, &self.trial()).map_err(refusal)?;
        self.courts.forget_faults(plugin);
        self.courts.change_plugins(&ensemble);
        Ok(())
    }
}

fn refusal(error: SwitchError) -> DeskRefusal {
    match error {
        SwitchError::Unknown(_) => DeskRefusal::Unknown(error.to_string()),
        _ => DeskRefusal::Unfit(format!("{:#}", anyhow::Error::new(error))),
    }
}
