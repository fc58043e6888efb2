//! The plugin host: loads, limits and runs indicator plugins over a chart, in
//! the order of what they read, and reports their faults.
//!
//! A [`Workshop`] makes [`PluginCode`] of files, an [`Ensemble`] puts plugins
//! together, a [`Run`] takes an ensemble over one chart, entry by entry.
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
mod board;
mod compiled;
mod description;
mod ensemble;
mod fault;
mod file_form;
mod handed;
mod health;
mod instance;
mod interface;
mod intricacy;
pub mod limits;
mod log;
mod manifest;
mod pass;
mod player;
mod reading;
mod refused;
mod run;
mod settings;
mod translate;
mod trusted;
mod word;
mod workshop;

pub use backstop::TimeLimits;
pub use compiled::CacheUse;
pub use ensemble::{AssembleError, CircleLink, Ensemble, MissingSource, Suspended, SwitchedOff};
pub use fault::{Fault, FaultKind, HostFault};
pub use health::{PluginHealth, PluginState};
pub use log::{LogLine, Severity};
pub use manifest::Manifest;
pub use reading::{Reading, ReadingKey, Reason, Value};
pub use refused::{PluginRefused, RefusedReason};
pub use run::{Run, Step, StepOutcome};
pub use settings::{
    PluginSettings, SettingForm, SettingOffer, SettingRefused, SettingValue, Settings,
    resolve_settings,
};
pub use word::Word;
pub use workshop::{PluginCode, Workshop, WorkshopConfig};
