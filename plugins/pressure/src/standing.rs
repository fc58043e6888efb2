//! What the upstream readings say, kept from one change to the next.
//!
//! A reading is handed over only when it changes, so the last one is kept. As
//! long as one of them is missing (its plugin was stopped), nothing is known:
//! [`Standing::sight`] is all or nothing. It judges nothing itself.

use rallytide_plugin_kit::{Held, Key, PerTeam, Reading, Team, Value};

/// The indicator that says who holds the initiative, and by which rows.
pub const INITIATIVE: &str = "initiative";

/// The indicator that says where a team stands.
pub const DEPTH: &str = "depth";

/// How things stand after an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Sight {
    /// The team on offense; its opponents are on defense.
    pub holder: Option<Team>,
    /// Whether a row other than `depth` speaks against the team.
    pub pressed: PerTeam<bool>,
    /// Whether the team is at the line.
    pub at_line: PerTeam<bool>,
}

impl Sight {
    /// Nobody holds the initiative, and both teams are at the line.
    #[must_use]
    pub fn is_neutral_at_the_line(self) -> bool {
        self.holder.is_none() && self.at_line.a && self.at_line.b
    }

    /// The team on offense, if a row other than `depth` speaks against the
    /// other.
    #[must_use]
    pub fn attacker(self) -> Option<Team> {
        self.holder.filter(|team| self.pressed[team.other()])
    }
}

/// The last upstream readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Standing {
    held: Option<Held>,
    at_line: PerTeam<Option<bool>>,
}

impl Standing {
    /// Takes a reading that is new or has changed. One of another type than it
    /// should be says nothing.
    pub fn take(&mut self, reading: &Reading) {
        match (reading.key.indicator.as_str(), reading.key.team) {
            (INITIATIVE, None) => self.held = Held::of(reading),
            (DEPTH, Some(team)) => self.at_line[team] = at_line(&reading.value),
            _ => {}
        }
    }

    /// Forgets a reading that is no more.
    pub fn forget(&mut self, key: &Key) {
        match (key.indicator.as_str(), key.team) {
            (INITIATIVE, None) => self.held = None,
            (DEPTH, Some(team)) => self.at_line[team] = None,
            _ => {}
        }
    }

    /// How things stand, if all readings are there.
    #[must_use]
    pub fn sight(&self) -> Option<Sight> {
        let held = self.held?;
        Some(Sight {
            holder: held.by,
            pressed: held.pressed,
            at_line: PerTeam {
                a: self.at_line.a?,
                b: self.at_line.b?,
            },
        })
    }
}

fn at_line(value: &Value) -> Option<bool> {
    match value {
        Value::Text(depth) => Some(depth == "line"),
        _ => None,
    }
}
