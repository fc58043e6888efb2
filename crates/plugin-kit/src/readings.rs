//! What a plugin states after each call, and what has changed by it.
//!
//! A plugin states all its readings each time; what is stated as it was before is
//! not sent again, and what is no longer stated is taken back. Stated in the same
//! order as before, which is the rule, a reading is compared with one other.

use std::collections::BTreeSet;

use crate::{Change, Key, Reading, Reason, Value};

/// All current readings of a plugin.
#[derive(Debug, Default)]
pub struct Readings {
    /// Up to `stated` what has been stated in this round, behind it what is left
    /// of the round before.
    current: Vec<Reading>,
    stated: usize,
    /// A reading was stated in this round that was not there before.
    is_longer: bool,
    changes: Vec<Change>,
}

impl Readings {
    /// States a reading without reasons and flags.
    pub fn set(&mut self, key: Key, value: Value) {
        self.explain(key, value, Vec::new(), Vec::new());
    }

    /// States a reading with its reasons and flags.
    pub fn explain(&mut self, key: Key, value: Value, why: Vec<Reason>, flags: Vec<String>) {
        self.take(Reading {
            key,
            value,
            why,
            flags,
        });
    }

    /// States a reading that the plugin keeps: nothing is copied where it is as it
    /// was before.
    pub fn keep(&mut self, reading: &Reading) {
        match self.current.get(self.stated) {
            Some(before) if before == reading => self.stated += 1,
            _ => self.take(reading.clone()),
        }
    }

    fn take(&mut self, reading: Reading) {
        let is_next = |before: &Reading| before.key == reading.key;
        if self.current.get(self.stated).is_some_and(is_next) {
            self.put(self.stated, reading);
        } else if self.stated == self.current.len() {
            self.insert(reading);
        } else {
            match self.current.iter().position(is_next) {
                None => self.insert(reading),
                Some(place) if place < self.stated => return self.put(place, reading),
                Some(place) => {
                    self.current[self.stated..=place].rotate_right(1);
                    self.put(self.stated, reading);
                }
            }
        }
        self.stated += 1;
    }

    fn insert(&mut self, reading: Reading) {
        self.changes.push(Change::Set(reading.clone()));
        self.current.insert(self.stated, reading);
        self.is_longer = true;
    }

    fn put(&mut self, place: usize, reading: Reading) {
        if self.current[place] != reading {
            self.changes.push(Change::Set(reading.clone()));
            self.current[place] = reading;
        }
    }

    /// Ends a round: what has changed since the one before. A reading that was not
    /// stated is gone; of two under one key the latter counts.
    pub fn changes(&mut self) -> Vec<Change> {
        let left = self.current.drain(self.stated..);
        self.changes
            .extend(left.map(|reading| Change::Gone(reading.key)));
        self.stated = 0;
        if std::mem::take(&mut self.is_longer) {
            self.forget_the_former_of_two();
        }
        std::mem::take(&mut self.changes)
    }

    fn forget_the_former_of_two(&mut self) {
        let mut latter = BTreeSet::new();
        let readings = self.current.iter().rev();
        let mut keeps: Vec<bool> = readings
            .map(|reading| latter.insert(&reading.key))
            .collect();
        self.current.retain(|_| keeps.pop() == Some(true));
    }

    /// The readings as they were stated last.
    pub(crate) fn current(&self) -> &[Reading] {
        &self.current
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::key;

    /// A round in which each of these is stated with its count.
    fn round(readings: &mut Readings, stated: &[(&'static str, u32)]) -> Vec<String> {
        for (indicator, count) in stated {
            readings.set(key(*indicator), Value::Count(*count));
        }
        let changes = readings.changes().into_iter();
        changes
            .map(|change| match change {
                Change::Set(reading) => format!("{} {:?}", reading.key.indicator, reading.value),
                Change::Gone(key) => format!("{} gone", key.indicator),
            })
            .collect()
    }

    #[test]
    fn what_is_as_it_was_is_not_sent_again_in_whatever_order_it_is_stated() {
        let mut readings = Readings::default();
        let all = [("x", 1), ("y", 1), ("z", 1)];
        assert_eq!(round(&mut readings, &all).len(), 3);
        assert!(round(&mut readings, &all).is_empty());
        assert!(round(&mut readings, &[("z", 1), ("x", 1), ("y", 1)]).is_empty());
        assert_eq!(
            round(&mut readings, &[("y", 2), ("x", 1), ("z", 1)]),
            ["y Value::Count(2)"]
        );
    }

    #[test]
    fn what_is_not_stated_any_more_is_gone_and_new_again_when_it_comes_back() {
        let mut readings = Readings::default();
        round(&mut readings, &[("x", 1), ("y", 1)]);
        assert_eq!(round(&mut readings, &[("y", 1)]), ["x gone"]);
        assert_eq!(
            round(&mut readings, &[("x", 1), ("y", 1)]),
            ["x Value::Count(1)"]
        );
        assert_eq!(round(&mut readings, &[]), ["x gone", "y gone"]);
    }

    #[test]
    fn of_two_under_one_key_the_latter_counts() {
        let mut readings = Readings::default();
        for latter in [2, 2, 3] {
            let changes = round(&mut readings, &[("x", 1), ("y", 1), ("x", latter)]);
            assert_eq!(changes.last(), Some(&format!("x Value::Count({latter})")));
            let mut current = readings.current().iter();
            let value = current.find(|one| one.key == key("x")).unwrap();
            assert_eq!(value.value, Value::Count(latter));
            assert_eq!(readings.current().len(), 2);
        }
    }

    #[test]
    fn a_reading_that_is_kept_is_sent_once() {
        let mut readings = Readings::default();
        let kept = Reading {
            key: key("x"),
            value: Value::Text("words".into()),
            why: Vec::new(),
            flags: vec!["so".into()],
        };
        readings.keep(&kept);
        assert_eq!(readings.changes(), [Change::Set(kept.clone())]);
        readings.keep(&kept);
        assert_eq!(readings.changes(), []);
    }
}
