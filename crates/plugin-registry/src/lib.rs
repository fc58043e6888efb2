//! The plugin registry: which plugins run, from which files, and what became of
//! every file that was tried.
//!
//! The built-in plugins are in it from the start; a file in the plugin folder is
//! added, or replaces the one with its id. A file takes over only after a trial
//! run without a fault of its own; until then, and if it fails, the version before
//! it runs on. Plugins can be switched off, and their settings chosen. The latest
//! attempts to load a file are kept, each with its outcome.
//!
//! This crate reads plugin files and watches their folder. It runs nothing: the
//! trial is the caller's, so it knows nothing about matches, courts or sockets.

mod attempt;
mod registry;
mod watch;

pub use attempt::{Clock, LoadAttempt, LoadOutcome, Objection};
pub use registry::{PluginRegistry, RegisteredPlugin, RegistryError, SwitchError, TrialRun};
pub use watch::{Watch, WatchError, watch};
