//! The entries that were handed over, in order: a reason may name one of those
//! and none that is still to come.

use rallytide_chart::EntryId;

/// Every entry of a run. Plugins call an entry by its place, from 1.
#[derive(Debug, Default)]
pub(crate) struct HandedEntries {
    entries: Vec<EntryId>,
}

/// The entries up to one of them.
#[derive(Clone, Copy)]
pub(crate) struct EntriesSoFar<'a>(&'a [EntryId]);

impl HandedEntries {
    /// Adds the next entry of the effective chart.
    pub(crate) fn push(&mut self, entry: &EntryId) {
        self.entries.push(entry.clone());
    }

    /// How many there are.
    pub(crate) fn count(&self) -> usize {
        self.entries.len()
    }

    /// The first `count` entries.
    pub(crate) fn first(&self, count: usize) -> EntriesSoFar<'_> {
        EntriesSoFar(&self.entries[..count])
    }
}

impl EntriesSoFar<'_> {
    /// The entry at this place, if it was handed over.
    pub(crate) fn get(&self, place: u32) -> Option<&EntryId> {
        self.0.get(usize::try_from(place).ok()?.checked_sub(1)?)
    }

    /// The place of the latest entry.
    pub(crate) fn latest(&self) -> u32 {
        u32::try_from(self.0.len()).unwrap_or(u32::MAX)
    }

    /// The place of the entry of this id, which is looked for from the latest on
    /// backwards: it is of the current rally.
    pub(crate) fn place(&self, id: &EntryId) -> Option<u32> {
        let before = self.0.iter().rposition(|entry| entry == id)?;
        u32::try_from(before + 1).ok()
    }
}
