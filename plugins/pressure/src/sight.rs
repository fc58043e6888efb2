//! How things stand, as the upstream readings say.
//!
//! As long as one of them is missing (its plugin was stopped), nothing is known:
//! [`Sight::of`] is all or nothing. It judges nothing itself.

use rallytide_plugin_kit::{Depth, Held, PerTeam, Team, Upstream, Value};

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
    /// How things stand, if all readings are there and of their types.
    #[must_use]
    pub fn of(upstream: &Upstream) -> Option<Self> {
        let held = Held::of(upstream.of_match(INITIATIVE)?)?;
        let at_line = |team| match &upstream.of_team(DEPTH, team)?.value {
            Value::Text(depth) => Some(depth == Depth::Line.word()),
            _ => None,
        };
        Some(Self {
            holder: held.by,
            pressed: held.pressed,
            at_line: PerTeam {
                a: at_line(Team::A)?,
                b: at_line(Team::B)?,
            },
        })
    }

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
