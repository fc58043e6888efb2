//! The entries that were handed over, in order: a reason may name one of those
//! and none that is still to come.

use std::collections::HashMap;

use rallytide_chart::EntryId;

/// Every entry of a run.
#[derive(Debug, Default)]
pub(crate) struct Handed {
    places: HashMap<EntryId, usize>,
}

/// The entries up to one of them.
#[derive(Clone, Copy)]
pub(crate) struct HandedSoFar<'a> {
    all: &'a Handed,
    count: usize,
}

impl Handed {
    /// Adds the next entry of the effective chart, whose ids are all different.
    pub(crate) fn push(&mut self, entry: &EntryId) {
        self.places.insert(entry.clone(), self.places.len() + 1);
    }

    /// How many there are.
    pub(crate) fn count(&self) -> usize {
        self.places.len()
    }

    /// The first `count` entries.
    pub(crate) fn first(&self, count: usize) -> HandedSoFar<'_> {
        HandedSoFar { all: self, count }
    }
}

impl HandedSoFar<'_> {
    /// The entry of this id, if it was handed over.
    pub(crate) fn get(&self, id: &str) -> Option<&EntryId> {
        let (entry, place) = self.all.places.get_key_value(id)?;
        (*place <= self.count).then_some(entry)
    }
}
