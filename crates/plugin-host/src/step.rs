//! One step of a run: the entry that is handed over, and what it changed.

use std::sync::Arc;

use rallytide_chart::{Effective, RallyStep};
use rallytide_readings::{Reading, ReadingKey};
use rallytide_scoring::Score;

use crate::current_readings::Delta;
use crate::fault::PluginFault;

/// An entry as it is handed to a run.
#[derive(Debug, Clone, Copy)]
pub struct Step<'a> {
    /// The entry of the effective chart.
    pub entry: &'a Effective,
    /// The rally reader's word on this entry.
    pub rally: &'a RallyStep,
    /// The score after it.
    pub score: &'a Score,
}

/// What one entry changed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StepOutcome {
    /// The readings that are new or differ in anything, sorted.
    pub changed: Vec<Arc<Reading>>,
    /// The readings that are no more, sorted.
    pub gone: Vec<ReadingKey>,
    /// The plugins that were stopped at this entry.
    pub faults: Vec<PluginFault>,
}

impl StepOutcome {
    /// Brings `current`, the reading of `indicator` about the match before this
    /// entry, to what it is after it.
    pub fn follow(&self, indicator: &str, current: &mut Option<Arc<Reading>>) {
        let about_match = |key: &ReadingKey| {
            *key.indicator == *indicator
                && key.team.is_none()
                && key.player.is_none()
                && key.slot.is_none()
        };
        if self.gone.iter().any(about_match) {
            *current = None;
        }
        if let Some(reading) = self
            .changed
            .iter()
            .find(|reading| about_match(&reading.key))
        {
            *current = Some(reading.clone());
        }
    }

    /// Adds what one plugin changed.
    pub(crate) fn add(&mut self, delta: Delta) {
        self.changed.extend(delta.changed);
        self.gone.extend(delta.gone);
        self.faults.extend(delta.fault);
    }

    /// Brings the changes into the order of readings.
    pub(crate) fn sort(&mut self) {
        self.changed.sort_unstable_by(|a, b| a.key.cmp(&b.key));
        self.gone.sort_unstable();
    }
}
