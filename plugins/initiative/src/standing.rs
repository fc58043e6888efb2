//! Who holds the initiative, from the rows that were read.
//!
//! Three states, common practice of the trade: a team is on offense, its
//! opponents then on defense, or the rally is neutral. One value says it all.

use rallytide_plugin_kit::{Lean, Reason, Stroke, Team, Value};

use crate::rows::{JudgedShot, Row};

/// Who holds the initiative, how clearly, and why.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Standing {
    /// The team on offense.
    pub toward: Option<Team>,
    /// From 0 (nothing or as much on both sides) to 1 (all on one side).
    pub strength: f64,
    /// The rows read, against whichever team.
    pub rows: Vec<Row>,
    /// Rows speak against both teams.
    pub contested: bool,
    /// Nothing was to be read, and the ball's answer will tell.
    pub carried: bool,
}

impl Standing {
    /// Weighs the rows after the latest shot. `held` is who held the initiative
    /// just before this entry.
    #[must_use]
    pub fn judge(rows: Vec<Row>, last: &JudgedShot, held: Option<Team>) -> Self {
        let against = |team| rows.iter().filter(|row| row.against == team).count();
        let (against_a, against_b) = (against(Team::A), against(Team::B));
        let all = against_a + against_b;
        let carried = all == 0 && is_judged_by_its_answer(last);
        let toward = match against_a.cmp(&against_b) {
            std::cmp::Ordering::Less => Some(Team::A),
            std::cmp::Ordering::Greater => Some(Team::B),
            std::cmp::Ordering::Equal if carried => held,
            std::cmp::Ordering::Equal => None,
        };
        let strength = match all {
            0 => 0.0,
            _ => against_a.abs_diff(against_b) as f64 / all as f64,
        };
        Self {
            toward,
            strength,
            rows,
            contested: against_a > 0 && against_b > 0,
            carried,
        }
    }

    /// The reading's value.
    #[must_use]
    pub fn value(&self) -> Value {
        Value::Lean(Lean {
            toward: self.toward,
            strength: self.strength,
        })
    }

    /// The reading's reasons.
    #[must_use]
    pub fn reasons(&self) -> Vec<Reason> {
        let reason = |row: &Row| Reason {
            code: row.code.into(),
            team: Some(row.against),
            entry: row.entry,
            inferred: row.inferred,
        };
        self.rows.iter().map(reason).collect()
    }

    /// The reading's flags.
    #[must_use]
    pub fn flags(&self) -> Vec<String> {
        let flags = [(self.contested, "contested"), (self.carried, "carried")];
        let set = flags.into_iter().filter(|(is_set, _)| *is_set);
        set.map(|(_, name)| name.to_owned()).collect()
    }
}

/// A soft ball under attack, or a ball of which too little is known.
fn is_judged_by_its_answer(shot: &JudgedShot) -> bool {
    shot.stroke != Stroke::Serve && (shot.contact.is_none() || shot.is_passive())
}
