//! What was found damaged in a log, and what that means for the file.

use std::fmt;

use crate::Flaw;

/// Something found damaged in a log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Damage {
    /// The line it begins on, the head being line 1.
    pub line: u64,
    /// Its first byte in the file, from 0 on.
    pub offset: u64,
    /// Its length in bytes, line break included.
    pub length: u64,
    /// What is wrong.
    pub flaw: Flaw,
    /// What that means for the file.
    pub place: DamagePlace,
}

/// Where in a log damage was found, which decides what happens to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DamagePlace {
    /// Between intact lines: it stays in the file and is left out of what is read.
    Middle,
    /// After the last intact line: a write cut short. It is set aside and taken
    /// off the file before the next append.
    Tail,
    /// The record itself is sound and is among those read; something before it
    /// is missing.
    Before,
}

impl fmt::Display for Damage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            line,
            offset,
            length,
            flaw,
            place,
        } = self;
        let consequence = match place {
            DamagePlace::Middle => "left out, kept in the file",
            DamagePlace::Tail => "left out, taken off before the next append",
            DamagePlace::Before => "read all the same",
        };
        write!(
            f,
            "line {line} (byte {offset}, {length} long): {flaw}; {consequence}"
        )
    }
}
