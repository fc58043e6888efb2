//! The two teams, and a value for each of them.

use crate::Team;

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
