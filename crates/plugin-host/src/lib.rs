//! The plugin host: loads, limits and runs indicator plugins over a chart, in
//! the order of what they read, and reports their faults.
//!
//! A [`PluginLoader`] makes [`PluginCode`] of files, a [`PluginSet`] puts plugins
//! together, a [`Run`] takes a plugin set over one chart, entry by entry.
//!
//! Invariants: a plugin sees the chart, the score, its settings and the readings
//! it asked for, and nothing else; whatever it does, it cannot stop, delay
//! beyond its fuel and a generous clock, or change what another plugin says;
//! everything that decides about it is counted, so the same chart gives the same
//! readings everywhere.
//!
//! This is the only crate that names the WebAssembly engine, and none of the
//! engine's types shows. It knows nothing about sockets, about where plugins
//! lie or when they change, or about what an indicator means.

mod answer;
mod backstop;
mod batch;
mod compiled;
mod current_readings;
mod description;
mod fault;
mod file_form;
mod handed_entries;
mod health;
mod imports;
mod interface;
mod intricacy;
pub mod limits;
mod loader;
mod log;
mod manifest;
mod plugin_instance;
mod plugin_set;
mod refused;
mod run;
mod settings;
mod shown;
mod step;
mod translate;
mod trusted;
mod type_sections;
mod wasm_instance;

pub use backstop::TimeLimits;
pub use compiled::CacheUse;
pub use fault::{HostFault, PluginFault, PluginFaultKind};
pub use health::{PluginHealth, PluginState};
pub use loader::{LoaderConfig, PluginCode, PluginLoader};
pub use log::{LogLine, Severity};
pub use manifest::Manifest;
pub use plugin_set::{AssembleError, CircleLink, MissingSource, PluginSet, Suspended, SwitchedOff};
pub use refused::{PluginRefused, RefusedReason};
pub use run::Run;
pub use settings::{
    PluginSettings, SettingForm, SettingOffer, SettingRefused, SettingValue, Settings,
};
pub use step::{Step, StepOutcome};
