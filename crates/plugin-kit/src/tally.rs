//! Counting "so many of so many", for each team and for slots within a team.

use crate::{Key, Publisher, Share, Team, Value, about};

/// So many of so many.
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
    /// An indicator with one tally a team, published as 0 of 0 at the start.
    #[must_use]
    pub fn by_team(indicator: &'static str, publish: &mut Publisher) -> Self {
        let mut shares = Self::by_slot(indicator);
        for team in Team::BOTH {
            shares.tallies.push((team, None, Tally::default()));
            publish.set(about(indicator, team), Tally::default().value());
        }
        shares
    }

    /// An indicator with slots, each of which appears with its first case.
    #[must_use]
    pub fn by_slot(indicator: &'static str) -> Self {
        Self {
            indicator,
            tallies: Vec::new(),
        }
    }

    /// Counts a case of a team and publishes the tally.
    pub fn count(&mut self, team: Team, so: bool, publish: &mut Publisher) {
        self.count_at(team, None, so, publish);
    }

    /// Counts a case of a team's slot and publishes the tally.
    pub fn count_slot(
        &mut self,
        team: Team,
        slot: &'static str,
        so: bool,
        publish: &mut Publisher,
    ) {
        self.count_at(team, Some(slot), so, publish);
    }

    fn count_at(
        &mut self,
        team: Team,
        slot: Option<&'static str>,
        so: bool,
        publish: &mut Publisher,
    ) {
        let known = self
            .tallies
            .iter()
            .position(|one| (one.0, one.1) == (team, slot));
        let place = known.unwrap_or_else(|| {
            self.tallies.push((team, slot, Tally::default()));
            self.tallies.len() - 1
        });
        self.tallies[place].2.count(so);
        let value = self.tallies[place].2.value();
        publish.set(self.key(team, slot), value);
    }

    fn key(&self, team: Team, slot: Option<&'static str>) -> Key {
        let key = about(self.indicator, team);
        match slot {
            Some(slot) => key.slot(slot),
            None => key,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Change;

    #[test]
    fn a_team_without_cases_stands_at_nothing_of_nothing_and_a_slot_appears_with_its_first() {
        let mut publish = Publisher::default();
        let mut by_team = Shares::by_team("x", &mut publish);
        let mut by_slot = Shares::by_slot("y");
        assert_eq!(publish.into_changes().len(), 2);
        let mut publish = Publisher::default();
        by_team.count(Team::B, true, &mut publish);
        by_slot.count_slot(Team::A, "drop", false, &mut publish);
        by_slot.count_slot(Team::A, "drop", true, &mut publish);
        let values: Vec<Value> = publish
            .into_changes()
            .into_iter()
            .map(|change| match change {
                Change::Set(reading) => reading.value,
                Change::Gone(key) => panic!("{key:?} is gone"),
            })
            .collect();
        let share = |part, whole| Value::Share(Share { part, whole });
        assert_eq!(values, [share(1, 1), share(0, 1), share(1, 2)]);
    }
}
