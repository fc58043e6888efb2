//! What a plugin publishes during one call.

use crate::interface::rallytide::plugin::types as wire;
use crate::{Change, Key, Reason, Team, Value};

/// Collects the changes of one call.
#[derive(Debug, Default)]
pub struct Publisher {
    changes: Vec<wire::Change>,
}

impl Publisher {
    /// Publishes a reading without reasons and flags.
    pub fn set(&mut self, key: Key, value: Value) {
        self.explain(key, value, Vec::new(), Vec::new());
    }

    /// Publishes a reading with why it is so and what else is to be said.
    pub fn explain(&mut self, key: Key, value: Value, why: Vec<Reason>, flags: Vec<String>) {
        let is_plain = why.is_empty() && flags.is_empty();
        self.changes.push(wire::Change::Set(wire::Reading {
            key,
            value,
            remarks: (!is_plain).then_some(wire::Remarks { why, flags }),
        }));
    }

    /// Takes a reading back.
    pub fn gone(&mut self, key: Key) {
        self.changes.push(wire::Change::Gone(key));
    }

    /// What was published, in order.
    #[must_use]
    pub fn into_changes(self) -> Vec<Change> {
        self.changes.into_iter().map(Change::from).collect()
    }

    /// The same, as it is sent to the host.
    pub(crate) fn into_wire(self) -> Vec<wire::Change> {
        self.changes
    }
}

/// The key of a reading about the match.
#[must_use]
pub fn key(indicator: &str) -> Key {
    Key {
        indicator: indicator.into(),
        team: None,
        player: None,
        slot: None,
    }
}

/// The key of a reading about a team.
#[must_use]
pub fn about(indicator: &str, team: Team) -> Key {
    Key {
        team: Some(team),
        ..key(indicator)
    }
}

impl Key {
    /// The same key with a slot.
    #[must_use]
    pub fn slot(self, slot: &str) -> Self {
        Self {
            slot: Some(slot.into()),
            ..self
        }
    }
}

impl Team {
    /// Both teams.
    pub const BOTH: [Self; 2] = [Self::A, Self::B];

    /// The opponents.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::A => Self::B,
            Self::B => Self::A,
        }
    }
}

/// A value for each team.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PerTeam<T> {
    /// Team a's.
    pub a: T,
    /// Team b's.
    pub b: T,
}

impl<T> std::ops::Index<Team> for PerTeam<T> {
    type Output = T;

    fn index(&self, team: Team) -> &T {
        match team {
            Team::A => &self.a,
            Team::B => &self.b,
        }
    }
}

impl<T> std::ops::IndexMut<Team> for PerTeam<T> {
    fn index_mut(&mut self, team: Team) -> &mut T {
        match team {
            Team::A => &mut self.a,
            Team::B => &mut self.b,
        }
    }
}
