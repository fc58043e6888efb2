//! What can go wrong once plugins run: a plugin's fault, or the host's own.
//!
//! A plugin that does anything it must not is stopped with a [`PluginFault`]: it is
//! told to the streamer, and the others go on. A [`HostFault`] is never the
//! plugin's doing: it means that this program or the machine failed. The third
//! kind, a file that is not taken at all, is [`PluginRefused`](crate::PluginRefused).

use rallytide_chart::{EntryId, Seq};
use serde::Serialize;
use strum::{IntoStaticStr, VariantArray};

use rallytide_readings::Name;

/// Why a plugin was stopped.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, thiserror::Error)]
#[error("the plugin `{plugin}` was stopped {}: {message}", self.place())]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct PluginFault {
    /// Which plugin.
    pub plugin: Name,
    /// What sort of fault.
    pub kind: PluginFaultKind,
    /// What it did, in one sentence.
    pub message: String,
    /// The entry that it was handed; `None`: it was starting the match.
    pub entry: Option<EntryId>,
    /// The position of that entry, 0 at the start.
    pub seq: Seq,
}

impl PluginFault {
    fn place(&self) -> String {
        match &self.entry {
            None => "as it started the match".into(),
            Some(entry) => format!("at entry `{entry}`"),
        }
    }
}

/// The sorts of faults.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, IntoStaticStr, VariantArray,
)]
#[serde(rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub enum PluginFaultKind {
    /// It used up its fuel: most likely a loop without end.
    OutOfFuel,
    /// It held the host up for longer than its clock allows, with fuel left. The
    /// one kind that depends on the machine.
    OutOfTime,
    /// It asked for more memory, or a larger table, than it may have.
    OutOfMemory,
    /// Its calls went too deep.
    StackOverflow,
    /// It panicked; the message says where.
    Panicked,
    /// It did something that WebAssembly forbids, such as reading outside its
    /// memory.
    Trapped,
    /// Its answer was too large to be copied.
    TooMuchCopied,
    /// It wrote too much log.
    TooMuchLogged,
    /// Its answer does not follow the interface: text that is no UTF-8, a list
    /// that lies outside its memory.
    BrokenAnswer,
    /// It published an indicator that its manifest does not declare.
    UndeclaredIndicator,
    /// It published an indicator of another plugin.
    ForeignIndicator,
    /// It published a value that cannot be: not a number, a chance above 1, a
    /// part above its whole, a third player.
    ImpossibleValue,
    /// It published a value of another type than before.
    ChangedType,
    /// It gave an entry as a reason that it was not handed.
    UnknownEntry,
    /// It published too many changes, readings, reasons or flags.
    TooMany,
    /// It published a text that is too long.
    TextTooLong,
    /// It refused its settings.
    SettingsRefused,
}

impl PluginFaultKind {
    /// The kind as it is written.
    #[must_use]
    pub fn word(self) -> &'static str {
        self.into()
    }

    /// What the plugin's author can do about it, where the fault itself does not
    /// say.
    #[must_use]
    pub fn hint(self) -> Option<&'static str> {
        let hint = match self {
            Self::UndeclaredIndicator => {
                "in Rust: add it to `.provides(&[…])` in `manifest`, or mend its name"
            }
            Self::ForeignIndicator => {
                "publish it under a name of your own that begins with your plugin's"
            }
            Self::ChangedType => {
                "within a match an indicator keeps the type of its first value, as in `start`"
            }
            Self::UnknownEntry => {
                "a reason takes the `place` of an entry of this call or an earlier one"
            }
            Self::OutOfFuel => {
                "look for a loop that this entry does not end, or for work that grows with the \
                 match"
            }
            Self::Panicked => {
                "the place is in the plugin's sources; a test that charts the rally shows more"
            }
            _ => return None,
        };
        Some(hint)
    }
}

/// The host, or the machine it runs on, failed; no plugin is to blame.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, thiserror::Error)]
#[error("the plugin host failed to {doing}: {message}")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct HostFault {
    /// What it was doing.
    pub doing: String,
    /// What went wrong.
    pub message: String,
}

impl HostFault {
    pub(crate) fn new(doing: impl Into<String>, message: impl std::fmt::Display) -> Self {
        Self {
            doing: doing.into(),
            message: message.to_string(),
        }
    }
}

/// What a plugin did wrong, before it is known where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Violation {
    pub(crate) kind: PluginFaultKind,
    pub(crate) message: String,
}

impl Violation {
    pub(crate) fn new(kind: PluginFaultKind, message: impl Into<String>) -> Self {
        Self {
            kind,
            message: message.into(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_says_which_plugin_where_and_what() {
        let fault = PluginFault {
            plugin: "tilt".into(),
            kind: PluginFaultKind::OutOfFuel,
            message: "it used up its fuel".into(),
            entry: EntryId::new("r1s2"),
            seq: Seq(7),
        };
        assert_eq!(
            fault.to_string(),
            "the plugin `tilt` was stopped at entry `r1s2`: it used up its fuel"
        );
    }

    #[test]
    fn kinds_are_written_alike_everywhere() {
        for kind in PluginFaultKind::VARIANTS {
            assert_eq!(
                serde_json::to_string(&kind).unwrap(),
                format!("\"{}\"", kind.word())
            );
        }
    }
}
