//! What became of a plugin file.

use std::sync::Arc;

use serde::{Serialize, Serializer};

/// Where the time of an attempt comes from; the tests pass their own.
pub type Clock = Arc<dyn Fn() -> jiff::Timestamp + Send + Sync>;

/// A file that was tried, changed or gone.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct LoadAttempt {
    /// When, on the host's clock.
    #[serde(serialize_with = "with_milliseconds")]
    #[cfg_attr(
        feature = "ts",
        ts(type = "string"),
        schemars(with = "String", extend("format" = "date-time"))
    )]
    pub at: jiff::Timestamp,
    /// The file's name.
    pub file: String,
    /// The plugin in it, once that is known.
    pub plugin: Option<String>,
    /// Its version, once that is known.
    pub version: Option<String>,
    /// What became of it.
    #[serde(flatten)]
    pub outcome: LoadOutcome,
}

/// What became of a file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "outcome", rename_all = "snake_case")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub enum LoadOutcome {
    /// It runs from now on.
    Taken,
    /// It is no plugin that this host can run.
    Refused(Objection),
    /// It is a plugin, but does not fit the others or failed its trial.
    TurnedDown(Objection),
    /// The file is gone, and the plugin with it; a built-in one is back.
    Removed,
}

/// What stands against a file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct Objection {
    /// Why it does not run, in a sentence.
    pub message: String,
    /// What its author can change, where there is something to say.
    pub hint: Option<String>,
}

impl LoadAttempt {
    /// Writes it to the log: a warning where the file does not run.
    pub(crate) fn log(&self) {
        let Self { file, .. } = self;
        let plugin = self.plugin.as_deref().unwrap_or("not known");
        let version = self.version.as_deref().unwrap_or("not known");
        match &self.outcome {
            LoadOutcome::Taken => {
                tracing::info!(file, plugin, version, "a plugin file runs from now on");
            }
            LoadOutcome::Removed => {
                tracing::info!(file, plugin, version, "a plugin file is gone");
            }
            LoadOutcome::Refused(Objection { message, hint }) => {
                let hint = hint.as_deref().unwrap_or("none");
                tracing::warn!(file, reason = message, hint, "a plugin file is refused");
            }
            LoadOutcome::TurnedDown(Objection { message, hint }) => {
                let hint = hint.as_deref().unwrap_or("none");
                tracing::warn!(
                    file,
                    plugin,
                    version,
                    reason = message,
                    hint,
                    "a plugin file is turned down; what ran before goes on"
                );
            }
        }
    }
}

fn with_milliseconds<S: Serializer>(
    at: &jiff::Timestamp,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    serializer.collect_str(&format_args!("{at:.3}"))
}
