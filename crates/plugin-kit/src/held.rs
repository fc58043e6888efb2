//! Who holds the initiative, for plugins that read the indicator `initiative`.

use crate::{Lean, PerTeam, Reading, Team, Value};

/// What the reading `initiative` says after an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Held {
    /// The team on offense; its opponents are on defense.
    pub by: Option<Team>,
    /// Whether a row other than `depth` speaks against the team: to stand deep
    /// alone is no pressure.
    pub pressed: PerTeam<bool>,
}

impl Held {
    /// What the reading says; none if it does not lean.
    #[must_use]
    pub fn of(reading: &Reading) -> Option<Self> {
        let Value::Lean(Lean { toward, .. }) = reading.value else {
            return None;
        };
        let mut pressed = PerTeam::default();
        for row in reading.why.iter().filter(|row| row.code != "depth") {
            if let Some(team) = row.team {
                pressed[team] = true;
            }
        }
        Some(Self {
            by: toward,
            pressed,
        })
    }
}
