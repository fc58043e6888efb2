//! From recorded entries to the effective chart.
//!
//! Two passes. The first goes from the last entry to the first: a correction
//! can only be corrected by later ones, so when an entry's turn comes it is
//! known which corrections of it are in force, and the latest of them decides.
//! The second lays the entries out: originals in their order, each followed by
//! what was inserted after it, the later insert nearer.

use std::collections::HashMap;
use std::sync::Arc;

use serde_json::{Map, Value};

use crate::entry::{Body, Correction, Entry};
use crate::identity::{At, EntryId, Seq};
use crate::play::{Play, with_identity};

/// An entry of the effective chart: what really happened, as far as is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Effective {
    /// Its own id, or that of the entry that inserted it.
    pub id: EntryId,
    /// Its own time, or that of the entry that inserted it.
    pub at: At,
    /// The position in the file of the entry it goes back to (for an inserted
    /// one, of the inserting entry); amended or not.
    pub seq: Seq,
    /// Whether it was missed and put in later, so that `at` is not when it
    /// happened.
    pub inserted: bool,
    /// What happened.
    pub play: Arc<Play>,
    recorded: Arc<Entry>,
    content: Arc<Entry>,
}

impl Effective {
    /// The entry as JSON: `id`, `at`, then its own fields, unknown ones included.
    #[must_use]
    pub fn to_json(&self) -> Map<String, Value> {
        let empty = Map::new();
        let fields = self.content.play_fields().unwrap_or(&empty);
        with_identity(self.id.as_str(), self.recorded.at_as_written(), fields)
    }

    /// An entry that nothing has corrected; `None` for a correction.
    pub(crate) fn uncorrected(seq: Seq, entry: &Arc<Entry>) -> Option<Self> {
        match &entry.body {
            Body::Play(play) => Some(Self::made(seq, entry, entry, play)),
            Body::Correction(_) => None,
        }
    }

    fn made(seq: Seq, recorded: &Arc<Entry>, content: &Arc<Entry>, play: &Arc<Play>) -> Self {
        Self {
            id: recorded.id.clone(),
            at: recorded.at,
            seq,
            inserted: recorded.is_correction(),
            play: Arc::clone(play),
            recorded: Arc::clone(recorded),
            content: Arc::clone(content),
        }
    }
}

/// An original or inserted entry, and what its corrections left of it.
#[derive(Debug, Clone)]
pub struct CorrectedEntry {
    /// The entry as it was recorded.
    pub recorded: Arc<Entry>,
    /// Its position in the file.
    pub seq: Seq,
    /// What remains of it; `None` where it was retracted.
    pub effective: Option<Effective>,
    /// The correction that decides what it is, if one does.
    pub decided_by: Option<EntryId>,
}

/// Computes the effective chart of `entries`, in the order of the file;
/// `index` gives each id's place. Targets are known to exist and to stand
/// earlier ([`Chart::admit`](crate::Chart::admit) sees to it).
pub(crate) fn effective_chart(
    entries: &[(Seq, Arc<Entry>)],
    index: &HashMap<EntryId, usize>,
) -> Vec<Effective> {
    lay_out(entries, index, &mut |laid| laid.effective)
}

/// The same with what was retracted, and what became of each.
pub(crate) fn laid_out(
    entries: &[(Seq, Arc<Entry>)],
    index: &HashMap<EntryId, usize>,
) -> Vec<CorrectedEntry> {
    lay_out(entries, index, &mut Some)
}

fn lay_out<T>(
    entries: &[(Seq, Arc<Entry>)],
    index: &HashMap<EntryId, usize>,
    keep: &mut dyn FnMut(CorrectedEntry) -> Option<T>,
) -> Vec<T> {
    let deciding = deciding_corrections(entries, index);
    let mut layout = Layout {
        entries,
        deciding: &deciding,
        inserted: HashMap::new(),
        kept: Vec::with_capacity(entries.len()),
        keep,
    };
    for (place, (_, entry)) in entries.iter().enumerate() {
        if let Body::Correction(Correction::Insert { after, .. }) = &entry.body {
            let after = after.as_ref().and_then(|id| index.get(id).copied());
            layout.inserted.entry(after).or_default().push(place);
        }
    }
    layout.put_inserted(None);
    for (place, (_, entry)) in entries.iter().enumerate() {
        if matches!(entry.body, Body::Play(_)) {
            layout.put(place);
            layout.put_inserted(Some(place));
        }
    }
    layout.kept
}

/// For each entry the latest correction of it that is in force.
fn deciding_corrections(
    entries: &[(Seq, Arc<Entry>)],
    index: &HashMap<EntryId, usize>,
) -> Vec<Option<usize>> {
    let mut deciding: Vec<Option<usize>> = vec![None; entries.len()];
    for place in (0..entries.len()).rev() {
        let Body::Correction(Correction::Retract { target } | Correction::Amend { target, .. }) =
            &entries[place].1.body
        else {
            continue;
        };
        let in_force = deciding[place].is_none();
        if let (true, Some(target)) = (in_force, index.get(target)) {
            deciding[*target].get_or_insert(place);
        }
    }
    deciding
}

struct Layout<'a, T> {
    entries: &'a [(Seq, Arc<Entry>)],
    deciding: &'a [Option<usize>],
    inserted: HashMap<Option<usize>, Vec<usize>>,
    kept: Vec<T>,
    keep: &'a mut dyn FnMut(CorrectedEntry) -> Option<T>,
}

impl<T> Layout<'_, T> {
    /// Puts what was inserted after `after`, the latest first, each followed by
    /// what was inserted after it. A stack instead of recursion: a chain of
    /// inserts can be as long as the file.
    fn put_inserted(&mut self, after: Option<usize>) {
        let mut waiting = self.inserted.remove(&after).unwrap_or_default();
        while let Some(place) = waiting.pop() {
            self.put(place);
            waiting.extend(self.inserted.remove(&Some(place)).unwrap_or_default());
        }
    }

    /// Puts the entry at `place` as its corrections leave it.
    fn put(&mut self, place: usize) {
        let (seq, recorded) = &self.entries[place];
        let decided_by = self.deciding[place].map(|correction| &self.entries[correction].1);
        let content = decided_by.unwrap_or(recorded);
        let effective = match &content.body {
            Body::Play(play)
            | Body::Correction(
                Correction::Amend { with: play, .. } | Correction::Insert { play, .. },
            ) => Some(Effective::made(*seq, recorded, content, play)),
            Body::Correction(Correction::Retract { .. }) => None,
        };
        let laid = CorrectedEntry {
            recorded: Arc::clone(recorded),
            seq: *seq,
            effective,
            decided_by: decided_by.map(|correction| correction.id.clone()),
        };
        self.kept.extend((self.keep)(laid));
    }
}
