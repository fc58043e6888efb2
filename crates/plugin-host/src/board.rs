//! The current readings of a run, and what one entry changes about them.
//!
//! Invariant: a reading stands here only if its plugin runs; what a stopped
//! plugin published is withdrawn in the same breath.

use std::collections::BTreeMap;

use rallytide_chart::Seq;

use crate::answer::Changes;
use crate::interface::wit;
use crate::reading::{Reading, ReadingKey};
use crate::translate;
use crate::word::Word;

/// All current readings, sorted.
#[derive(Debug, Default)]
pub(crate) struct Board {
    readings: BTreeMap<ReadingKey, Reading>,
}

/// What one entry changed so far.
#[derive(Debug, Default)]
pub(crate) struct Delta {
    pub(crate) changed: Vec<Reading>,
    pub(crate) gone: Vec<ReadingKey>,
}

impl Board {
    pub(crate) fn readings(&self) -> impl Iterator<Item = &Reading> {
        self.readings.values()
    }

    pub(crate) fn get(&self, key: &ReadingKey) -> Option<&Reading> {
        self.readings.get(key)
    }

    /// How many more there would be after `changes`.
    pub(crate) fn growth(&self, changes: &Changes) -> isize {
        let growth = |(key, said): (&ReadingKey, &Option<_>)| {
            isize::from(said.is_some()) - isize::from(self.readings.contains_key(key))
        };
        changes.iter().map(growth).sum()
    }

    /// Puts up what `plugin` said at the entry `seq`.
    pub(crate) fn apply(&mut self, plugin: &Word, seq: Seq, changes: Changes, delta: &mut Delta) {
        for (key, said) in changes {
            let Some(said) = said else {
                if self.readings.remove(&key).is_some() {
                    delta.gone.push(key);
                }
                continue;
            };
            let before = self.readings.get(&key);
            let reading = Reading {
                seq: match before {
                    Some(before) if before.value == said.value => before.seq,
                    _ => seq,
                },
                key,
                value: said.value,
                why: said.why,
                flags: said.flags,
                plugin: plugin.clone(),
            };
            if before != Some(&reading) {
                delta.changed.push(reading.clone());
                self.readings.insert(reading.key.clone(), reading);
            }
        }
    }

    /// Takes down everything that `plugin` published.
    pub(crate) fn withdraw(&mut self, plugin: &Word, delta: &mut Delta) {
        let withdrawn = self
            .readings
            .extract_if(.., |_, reading| reading.plugin == *plugin);
        delta.gone.extend(withdrawn.map(|(key, _)| key));
    }

    /// All readings of these indicators, as plugins are handed them.
    pub(crate) fn of(&self, indicators: &[Word]) -> Vec<wit::Reading> {
        let read = |reading: &&Reading| indicators.contains(&reading.key.indicator);
        self.readings()
            .filter(read)
            .map(translate::reading)
            .collect()
    }
}

impl Delta {
    /// The changes of these indicators, as plugins are handed them.
    pub(crate) fn of(&self, indicators: &[Word]) -> (Vec<wit::Reading>, Vec<wit::Key>) {
        if indicators.is_empty() {
            return (Vec::new(), Vec::new());
        }
        let changed = self.changed.iter();
        let gone = self.gone.iter();
        (
            changed
                .filter(|reading| indicators.contains(&reading.key.indicator))
                .map(translate::reading)
                .collect(),
            gone.filter(|key| indicators.contains(&key.indicator))
                .map(translate::key)
                .collect(),
        )
    }

    /// Brings the changes into the order of readings.
    pub(crate) fn sort(&mut self) {
        self.changed.sort_unstable_by(|a, b| a.key.cmp(&b.key));
        self.gone.sort_unstable();
    }
}
