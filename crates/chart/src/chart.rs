//! A chart: the header and every entry taken in so far, in order.
//!
//! Invariant: ids are unique, and every `target`, `after` and `shot` names an
//! entry that stands earlier, so that the effective chart can be computed
//! without failing. The one rule on acceptance that needs the score
//! (`match_over`) is not judged here.

use std::collections::HashMap;
use std::sync::Arc;

use crate::corrections::{CorrectedEntry, Effective, effective_chart, laid_out};
use crate::entry::{Body, Correction, Entry};
use crate::header::Header;
use crate::identity::{EntryId, Seq};
use crate::play::{CueMark, Play};
use crate::refusal::{FieldPath, Refusal, RefusalReason, Subject};

/// Everything recorded about one match.
#[derive(Debug, Clone)]
pub struct Chart {
    header: Arc<Header>,
    entries: Vec<(Seq, Arc<Entry>)>,
    index: HashMap<EntryId, usize>,
    corrections: u64,
}

/// What [`Chart::admit`] says of an entry that may come in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Admission {
    /// It is new.
    New,
    /// The same entry came before, at this position.
    Repeat(Seq),
}

impl Chart {
    /// A chart without entries.
    #[must_use]
    pub fn new(header: Header) -> Self {
        Self {
            header: Arc::new(header),
            entries: Vec::new(),
            index: HashMap::new(),
            corrections: 0,
        }
    }

    /// The match header.
    #[must_use]
    pub fn header(&self) -> &Arc<Header> {
        &self.header
    }

    /// The entries in order, with their positions.
    #[must_use]
    pub fn entries(&self) -> &[(Seq, Arc<Entry>)] {
        &self.entries
    }

    /// The position of the last entry, 0 if there is none.
    #[must_use]
    pub fn last_seq(&self) -> Seq {
        self.entries.last().map_or(Seq(0), |(seq, _)| *seq)
    }

    /// The entry with this id.
    #[must_use]
    pub fn entry(&self, id: &str) -> Option<&Arc<Entry>> {
        self.index.get(id).map(|place| &self.entries[*place].1)
    }

    /// How many of the entries are corrections: the chart's revision.
    #[must_use]
    pub fn revision(&self) -> u64 {
        self.corrections
    }

    /// Judges whether `entry` may come in next.
    ///
    /// # Errors
    /// `id_conflict`, `unknown_shot` or `bad_correction`, with a sentence.
    pub fn admit(&self, entry: &Entry) -> Result<Admission, Refusal> {
        if let Some(place) = self.index.get(&entry.id) {
            let (seq, known) = &self.entries[*place];
            if known.to_json() == entry.to_json() {
                return Ok(Admission::Repeat(*seq));
            }
            let taken = RefusalReason::IdTaken { seq: *seq };
            return Err(Subject::from(&entry.id).refused(taken));
        }
        match &entry.body {
            Body::Play(play) => self.admit_play(entry, play, &FieldPath::default())?,
            Body::Correction(correction) => self.admit_correction(entry, correction)?,
        }
        Ok(Admission::New)
    }

    /// Takes in an entry that [`Chart::admit`] found new, at the next position.
    pub fn push(&mut self, entry: Entry) -> Seq {
        let seq = Seq(self.last_seq().0 + 1);
        self.push_at(seq, entry);
        seq
    }

    /// Takes in an entry that [`Chart::admit`] found new, at the position that
    /// its file gives.
    pub fn push_at(&mut self, seq: Seq, entry: Entry) {
        self.index.insert(entry.id.clone(), self.entries.len());
        self.corrections += u64::from(entry.is_correction());
        self.entries.push((seq, Arc::new(entry)));
    }

    /// What remains after all corrections.
    #[must_use]
    pub fn effective(&self) -> Vec<Effective> {
        effective_chart(&self.entries, &self.index)
    }

    /// Every original and inserted entry in the order of the effective chart,
    /// those that were retracted included, each with what became of it.
    #[must_use]
    pub fn laid_out(&self) -> Vec<CorrectedEntry> {
        laid_out(&self.entries, &self.index)
    }

    /// The same chart under a header that says the match in other words; that
    /// only words differ is for the caller to see to
    /// ([`Header::fixed_difference`]).
    #[must_use]
    pub fn with_header(&self, header: Header) -> Self {
        Self {
            header: Arc::new(header),
            ..self.clone()
        }
    }

    /// The last entry as an effective one, if it is no correction: then, and
    /// only then, the effective chart has grown by it at its end.
    #[must_use]
    pub fn latest_effective(&self) -> Option<Effective> {
        let (seq, entry) = self.entries.last()?;
        Effective::uncorrected(*seq, entry)
    }

    /// Judges what an entry says; `at` is where it says it.
    fn admit_play(&self, entry: &Entry, play: &Play, at: &FieldPath) -> Result<(), Refusal> {
        let Play::Cue(CueMark { shot: Some(id), .. }) = play else {
            return Ok(());
        };
        if self.entry(id.as_str()).is_some() {
            return Ok(());
        }
        Err(
            Subject::from(&entry.id).refused(RefusalReason::UnknownShot {
                field: at.inside("shot"),
                id: id.clone(),
            }),
        )
    }

    fn admit_correction(&self, entry: &Entry, correction: &Correction) -> Result<(), Refusal> {
        match correction {
            Correction::Retract { target } => self.corrected(entry, "target", target).map(|_| ()),
            Correction::Amend { target, with } => {
                let found = self.corrected(entry, "target", target)?;
                original_or_inserted(entry, "target", found)?;
                self.admit_play(entry, with, &"with".into())
            }
            Correction::Insert { after, play } => {
                if let Some(after) = after {
                    let found = self.corrected(entry, "after", after)?;
                    original_or_inserted(entry, "after", found)?;
                }
                self.admit_play(entry, play, &"entry".into())
            }
        }
    }

    /// The earlier entry that `field` of a correction names.
    fn corrected(&self, entry: &Entry, field: &str, id: &EntryId) -> Result<&Entry, Refusal> {
        self.entry(id.as_str()).map(Arc::as_ref).ok_or_else(|| {
            Subject::from(&entry.id).refused(RefusalReason::UnknownTarget {
                field: field.into(),
                id: id.clone(),
            })
        })
    }
}

fn original_or_inserted(entry: &Entry, field: &str, found: &Entry) -> Result<(), Refusal> {
    match &found.body {
        Body::Play(_) | Body::Correction(Correction::Insert { .. }) => Ok(()),
        Body::Correction(_) => Err(Subject::from(&entry.id).refused(
            RefusalReason::TargetIsCorrection {
                field: field.into(),
                id: found.id.clone(),
            },
        )),
    }
}
