//! The current readings of one plugin, and what one entry changes about them.
//!
//! Invariant: a reading stands here only if its plugin runs; what a stopped
//! plugin published is withdrawn at the same entry.

use std::collections::BTreeMap;
use std::sync::Arc;

use rallytide_chart::Seq;

use crate::answer::ReadingChanges;
use crate::fault::PluginFault;
use crate::interface::wit;
use crate::translate;
use rallytide_readings::Name;
use rallytide_readings::{Reading, ReadingKey};

/// All current readings of a plugin, sorted.
#[derive(Debug, Default)]
pub(crate) struct CurrentReadings {
    readings: BTreeMap<ReadingKey, Arc<Reading>>,
}

/// What one entry changed.
#[derive(Debug, Default)]
pub(crate) struct Delta {
    pub(crate) changed: Vec<Arc<Reading>>,
    pub(crate) gone: Vec<ReadingKey>,
    /// Why the plugin was stopped, if it was.
    pub(crate) fault: Option<PluginFault>,
}

impl CurrentReadings {
    pub(crate) fn readings(&self) -> impl Iterator<Item = &Reading> {
        self.readings.values().map(Arc::as_ref)
    }

    pub(crate) fn get(&self, key: &ReadingKey) -> Option<&Arc<Reading>> {
        self.readings.get(key)
    }

    pub(crate) fn len(&self) -> usize {
        self.readings.len()
    }

    /// How many there would be after `changes`.
    pub(crate) fn len_after(&self, changes: &ReadingChanges) -> usize {
        let growth = |(key, content): &(ReadingKey, Option<_>)| {
            isize::from(content.is_some()) - isize::from(self.readings.contains_key(key))
        };
        let growth: isize = changes.iter().map(growth).sum();
        self.len().saturating_add_signed(growth)
    }

    /// Takes over what `plugin` published at the entry `seq`.
    pub(crate) fn apply(&mut self, plugin: &Name, seq: Seq, changes: ReadingChanges) -> Delta {
        let mut delta = Delta::default();
        for (key, content) in changes {
            let Some(content) = content else {
                if self.readings.remove(&key).is_some() {
                    delta.gone.push(key);
                }
                continue;
            };
            let before = self.readings.get_mut(&key);
            let reading = Reading {
                seq: match &before {
                    Some(before) if before.value == content.value => before.seq,
                    _ => seq,
                },
                key,
                value: content.value,
                why: content.why,
                flags: content.flags,
                plugin: plugin.clone(),
            };
            if before.as_ref().is_some_and(|before| ***before == reading) {
                continue;
            }
            let reading = Arc::new(reading);
            delta.changed.push(Arc::clone(&reading));
            match before {
                Some(before) => *before = reading,
                None => {
                    self.readings.insert(reading.key.clone(), reading);
                }
            }
        }
        delta
    }

    /// Withdraws every reading, for this fault.
    pub(crate) fn withdraw(&mut self, fault: PluginFault) -> Delta {
        Delta {
            changed: Vec::new(),
            gone: std::mem::take(&mut self.readings).into_keys().collect(),
            fault: Some(fault),
        }
    }
}

impl Delta {
    /// Whether nothing changed.
    pub(crate) fn is_empty(&self) -> bool {
        self.changed.is_empty() && self.gone.is_empty() && self.fault.is_none()
    }

    /// Hands the changes of `indicators` over, as plugins are handed them.
    pub(crate) fn hand_over(&self, indicators: &[Name], news: &mut Vec<wit::News>) {
        let changed = self.changed.iter();
        let read = changed.filter(|reading| indicators.contains(&reading.key.indicator));
        news.extend(read.map(|reading| wit::News::Reading(translate::reading(reading))));
        let gone = self.gone.iter();
        let read = gone.filter(|key| indicators.contains(&key.indicator));
        news.extend(read.map(|key| wit::News::Gone(translate::key(key))));
    }
}
