//! Readings as an author sees them: reasons and flags stand in every one, even
//! where they are left out on the way because there are none.

use crate::interface::rallytide::plugin::types as wire;
use crate::{Key, Reason, Value};

/// The current value of an indicator.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// What it is a reading of.
    pub key: Key,
    /// What it says.
    pub value: Value,
    /// Why.
    pub why: Vec<Reason>,
    /// Words that qualify it, such as `inferred`.
    pub flags: Vec<String>,
}

/// What one call has changed about a plugin's readings.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// The reading under this key is now this one.
    Set(Reading),
    /// There is no reading under this key any more.
    Gone(Key),
}

impl Reading {
    /// A reading without reasons and flags.
    #[must_use]
    pub fn plain(key: Key, value: Value) -> Self {
        Self {
            key,
            value,
            why: Vec::new(),
            flags: Vec::new(),
        }
    }
}

impl From<wire::Reading> for Reading {
    fn from(sent: wire::Reading) -> Self {
        let (why, flags) = match sent.remarks {
            Some(remarks) => (remarks.why, remarks.flags),
            None => (Vec::new(), Vec::new()),
        };
        Self {
            key: sent.key.into(),
            value: sent.value,
            why,
            flags,
        }
    }
}

impl From<Change> for wire::Change {
    fn from(change: Change) -> Self {
        match change {
            Change::Gone(key) => Self::Gone(key.into()),
            Change::Set(Reading {
                key,
                value,
                why,
                flags,
            }) => Self::Set(wire::Reading {
                key: key.into(),
                value,
                remarks: (!why.is_empty() || !flags.is_empty())
                    .then_some(wire::Remarks { why, flags }),
            }),
        }
    }
}
