//! Counting shares (a part of a whole), for each team and for slots within a team.

use crate::{Readings, Share, Team, Value, about};

/// A part of a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Tally {
    /// Cases in which it was so.
    pub part: u32,
    /// All cases.
    pub whole: u32,
}

impl Tally {
    /// Counts a case.
    pub fn count(&mut self, so: bool) {
        self.whole += 1;
        self.part += u32::from(so);
    }

    /// The tally as a reading's value.
    #[must_use]
    pub fn value(self) -> Value {
        Value::Share(Share {
            part: self.part,
            whole: self.whole,
        })
    }
}

/// The tallies of one indicator: one a team, or one a slot of a team.
#[derive(Debug, Clone)]
pub struct Shares {
    indicator: &'static str,
    tallies: Vec<(Team, Option<&'static str>, Tally)>,
}

impl Shares {
    /// An indicator with one tally a team, 0 of 0 at the start.
    #[must_use]
    pub fn by_team(indicator: &'static str) -> Self {
        let tallies = Team::BOTH.map(|team| (team, None, Tally::default()));
        Self {
            indicator,
            tallies: tallies.into(),
        }
    }

    /// An indicator with slots, each of which appears with its first case.
    #[must_use]
    pub fn by_slot(indicator: &'static str) -> Self {
        Self {
            indicator,
            tallies: Vec::new(),
        }
    }

    /// Counts a case of a team.
    pub fn count(&mut self, team: Team, so: bool) {
        self.tally(team, None).count(so);
    }

    /// Counts a case of a team's slot.
    pub fn count_slot(&mut self, team: Team, slot: &'static str, so: bool) {
        self.tally(team, Some(slot)).count(so);
    }

    /// States every tally.
    pub fn state(&self, readings: &mut Readings) {
        for (team, slot, tally) in &self.tallies {
            let key = about(self.indicator, *team);
            let key = match slot {
                Some(slot) => key.slot(*slot),
                None => key,
            };
            readings.set(key, tally.value());
        }
    }

    fn tally(&mut self, team: Team, slot: Option<&'static str>) -> &mut Tally {
        let known = self
            .tallies
            .iter()
            .position(|one| (one.0, one.1) == (team, slot));
        let place = known.unwrap_or_else(|| {
            self.tallies.push((team, slot, Tally::default()));
            self.tallies.len() - 1
        });
        &mut self.tallies[place].2
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_team_without_cases_stands_at_nothing_of_nothing_and_a_slot_appears_with_its_first() {
        let mut by_team = Shares::by_team("x");
        let mut by_slot = Shares::by_slot("y");
        by_team.count(Team::B, true);
        by_slot.count_slot(Team::A, "drop", false);
        by_slot.count_slot(Team::A, "drop", true);
        let mut readings = Readings::default();
        by_team.state(&mut readings);
        by_slot.state(&mut readings);
        readings.changes();
        let shares: Vec<(&str, Value)> = readings
            .current()
            .iter()
            .map(|reading| (&*reading.key.indicator, reading.value.clone()))
            .collect();
        let share = |part, whole| Value::Share(Share { part, whole });
        assert_eq!(
            shares,
            [("x", share(0, 0)), ("x", share(1, 1)), ("y", share(1, 2))]
        );
    }
}
