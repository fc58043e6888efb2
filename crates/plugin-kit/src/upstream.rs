//! The readings of other plugins that a plugin reads, as they stand.

use crate::{Key, Reading, Team, about, key};

/// The current readings of the indicators in the manifest's `reads`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Upstream {
    /// Sorted by key, each with the call by which it last changed.
    readings: Vec<(u32, Reading)>,
    gone: Vec<Key>,
    call: u32,
}

impl Upstream {
    /// The current reading of `indicator` about the match.
    #[must_use]
    pub fn of_match(&self, indicator: &'static str) -> Option<&Reading> {
        self.reading(&key(indicator))
    }

    /// The current reading of `indicator` about a team.
    #[must_use]
    pub fn of_team(&self, indicator: &'static str, team: Team) -> Option<&Reading> {
        self.reading(&about(indicator, team))
    }

    /// The current reading under `key`.
    #[must_use]
    pub fn reading(&self, key: &Key) -> Option<&Reading> {
        let place = self.place(key).ok()?;
        Some(&self.readings[place].1)
    }

    /// All current readings, sorted by key.
    pub fn all(&self) -> impl Iterator<Item = &Reading> {
        self.readings.iter().map(|(_, reading)| reading)
    }

    /// Those that are new or have changed since the last call, this entry
    /// included.
    pub fn changed(&self) -> impl Iterator<Item = &Reading> {
        let changed = self.readings.iter().filter(|(call, _)| *call == self.call);
        changed.map(|(_, reading)| reading)
    }

    /// The keys of those that are no more since the last call.
    #[must_use]
    pub fn gone(&self) -> &[Key] {
        &self.gone
    }

    /// A call begins: nothing has changed by it yet.
    pub(crate) fn next_call(&mut self) {
        self.call += 1;
        self.gone.clear();
    }

    pub(crate) fn set(&mut self, reading: Reading) {
        match self.place(&reading.key) {
            Ok(place) => self.readings[place] = (self.call, reading),
            Err(place) => self.readings.insert(place, (self.call, reading)),
        }
    }

    pub(crate) fn withdraw(&mut self, key: Key) {
        if let Ok(place) = self.place(&key) {
            self.readings.remove(place);
        }
        self.gone.push(key);
    }

    fn place(&self, key: &Key) -> Result<usize, usize> {
        self.readings
            .binary_search_by(|(_, reading)| reading.key.cmp(key))
    }
}

impl FromIterator<Reading> for Upstream {
    fn from_iter<I: IntoIterator<Item = Reading>>(readings: I) -> Self {
        let mut upstream = Self::default();
        for reading in readings {
            upstream.set(reading);
        }
        upstream
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Value;

    fn count(key: Key, count: u32) -> Reading {
        Reading::plain(key, Value::Count(count))
    }

    #[test]
    fn the_current_reading_stays_and_only_what_a_call_changed_is_changed() {
        let mut upstream: Upstream = [count(about("x", Team::B), 1), count(key("x"), 1)]
            .into_iter()
            .collect();
        assert_eq!(upstream.changed().count(), 2, "all are new at the start");
        upstream.next_call();
        assert_eq!(upstream.changed().count(), 0);
        upstream.set(count(key("x"), 2));
        assert_eq!(upstream.changed().count(), 1);
        assert_eq!(upstream.of_match("x").unwrap().value, Value::Count(2));
        assert_eq!(
            upstream.of_team("x", Team::B).unwrap().value,
            Value::Count(1)
        );
        assert_eq!(upstream.of_team("x", Team::A), None);
    }

    #[test]
    fn a_reading_that_is_withdrawn_is_gone_for_one_call() {
        let mut upstream: Upstream = [count(key("x"), 1)].into_iter().collect();
        upstream.next_call();
        upstream.withdraw(key("x"));
        assert_eq!(upstream.of_match("x"), None);
        assert_eq!(upstream.gone(), [key("x")]);
        upstream.next_call();
        assert!(upstream.gone().is_empty());
    }
}
