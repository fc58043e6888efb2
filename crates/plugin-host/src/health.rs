//! How each plugin of a run is, for the desk and for authors.
//!
//! All but the times is counted: the same chart gives the same numbers. The
//! times are for people and are never part of a reading.

use serde::Serialize;

use crate::fault::{HostFault, PluginFault};
use crate::loader::PluginCode;
use crate::log::LogLine;
use crate::plugin_set::MissingSource;
use rallytide_readings::Name;

/// How a plugin is.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct PluginHealth {
    /// Its id.
    pub plugin: Name,
    /// Its version, as its author counts.
    pub version: String,
    /// The file it was loaded from.
    pub file: String,
    /// The SHA-256 of that file, in hexadecimal digits.
    pub sha256: String,
    /// Whether it runs, and why not.
    #[serde(flatten)]
    pub state: PluginState,
    /// How often it was called in this run, its start included.
    pub calls: u64,
    /// The fuel of all calls. It may mean something else under another version
    /// of the engine.
    pub fuel: u64,
    /// The fuel of the dearest call.
    pub most_fuel: u64,
    /// The time of all calls, in microseconds of the host's clock.
    pub time_us: u64,
    /// The time of the longest call, in microseconds.
    pub most_time_us: u64,
    /// Its linear memory after the last call, in bytes.
    pub memory_bytes: usize,
    /// How many readings of it are current.
    pub readings: usize,
    /// What it wrote last.
    pub log: Vec<LogLine>,
    /// How many lines it wrote that were not kept.
    pub log_dropped: u64,
}

/// Whether a plugin runs.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "state", rename_all = "snake_case")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub enum PluginState {
    /// It runs.
    Running,
    /// It was at fault.
    Stopped {
        /// What it did.
        fault: PluginFault,
    },
    /// The host failed to run it.
    Failed {
        /// What went wrong.
        fault: HostFault,
    },
    /// It is not to run on this match.
    SwitchedOff {
        /// Why, in one sentence.
        why: String,
    },
    /// It waits for a source.
    Suspended {
        /// What it waits for.
        missing: Vec<MissingSource>,
    },
}

impl PluginHealth {
    /// A plugin that has not been called and waits for nothing.
    pub(crate) fn waiting(code: &PluginCode) -> Self {
        Self {
            plugin: code.id().clone(),
            version: code.manifest().version.clone(),
            file: code.file().to_owned(),
            sha256: code.sha256().to_owned(),
            state: PluginState::Suspended {
                missing: Vec::new(),
            },
            calls: 0,
            fuel: 0,
            most_fuel: 0,
            time_us: 0,
            most_time_us: 0,
            memory_bytes: 0,
            readings: 0,
            log: Vec::new(),
            log_dropped: 0,
        }
    }
}
