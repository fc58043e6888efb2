//! How entries come in: judged, given their position by the log, run through
//! score and plugins, published.
//!
//! Corrections that come together are one run of the chart and one snapshot to
//! viewers, who would have skipped the states between anyway; each of them has
//! its own line in the log, its own position and its own answer.

use rallytide_bus::{Appended, BusError};
use rallytide_chart::{Admission, Entry, EntryId, Flag, Kind, MatchId, Seq};
use serde_json::{Map, Value};

use super::{Accepted, CurrentMatch, LiveCourt, Receipt};
use crate::cannot_do::{CannotDo, LogAttempt};
use crate::derived::EntryEffect;
use crate::seat::{Recorder, Seat, cues_may_send};

/// A correction that is in the log, and whose run is still to come.
struct Waiting {
    /// Which of the outcomes is its own.
    place: usize,
    id: EntryId,
}

impl LiveCourt {
    /// Takes in an entry that `by` sent for the match `match_id`.
    ///
    /// # Errors
    /// Why not; nothing is stored then.
    pub fn submit(
        &self,
        by: &Recorder,
        match_id: &MatchId,
        source: Map<String, Value>,
    ) -> Result<Receipt, CannotDo> {
        let mut state = self.locked();
        let current = self.charted_by(&mut state, by, match_id)?;
        self.take_one(current, source, by)
    }

    /// Takes in entries that `by` sent together, in their order; an outcome for
    /// each.
    pub fn submit_all(
        &self,
        by: &Recorder,
        match_id: &MatchId,
        sources: Vec<Map<String, Value>>,
    ) -> Vec<Result<Receipt, CannotDo>> {
        let mut outcomes = Vec::with_capacity(sources.len());
        let mut sources = sources.into_iter().peekable();
        while let Some(first) = sources.next() {
            let mut together = vec![first];
            while is_correction(&together[0])
                && let Some(next) = sources.next_if(is_correction)
            {
                together.push(next);
            }
            // The lock is let go of between two groups, so that a laptop that
            // brings a whole match holds nobody up for long.
            let mut state = self.locked();
            match self.charted_by(&mut state, by, match_id) {
                Ok(current) => outcomes.extend(self.take_together(current, together, by)),
                Err(refusal) => {
                    outcomes.extend(together.iter().map(|_| Err(refusal.clone())));
                }
            }
        }
        outcomes
    }

    /// The match that is meant, if `by` may chart it.
    fn charted_by<'a>(
        &self,
        state: &'a mut super::CourtState,
        by: &Recorder,
        match_id: &MatchId,
    ) -> Result<&'a mut CurrentMatch, CannotDo> {
        let current = self.current(state, match_id)?;
        self.charters
            .may_chart(by.seat.unwrap_or_default(), &by.client)?;
        Ok(current)
    }

    /// Judges one entry and takes it.
    pub(super) fn take_one(
        &self,
        current: &mut CurrentMatch,
        source: Map<String, Value>,
        by: &Recorder,
    ) -> Result<Receipt, CannotDo> {
        let mut outcomes = self.take_together(current, vec![source], by);
        outcomes.pop().expect("every entry has an outcome")
    }

    /// Judges entries and takes them: one that is no correction, or any number
    /// of corrections.
    fn take_together(
        &self,
        current: &mut CurrentMatch,
        sources: Vec<Map<String, Value>>,
        by: &Recorder,
    ) -> Vec<Result<Receipt, CannotDo>> {
        let was_over = current.charted.score().is_over();
        let mut waiting = Vec::new();
        let mut outcomes = Vec::with_capacity(sources.len());
        for source in sources {
            let taken = self.take(current, source, by, &mut waiting, outcomes.len());
            outcomes.push(taken);
        }
        if !waiting.is_empty() {
            let ids: Vec<EntryId> = waiting.iter().map(|one| one.id.clone()).collect();
            let (change, flags) = current.charted.correct(&ids);
            self.publish(current, change);
            for (one, flags) in waiting.into_iter().zip(flags) {
                if let Ok(receipt) = &mut outcomes[one.place] {
                    receipt.accepted.flags = flags;
                }
            }
        }
        if current.charted.score().is_over() != was_over {
            let match_id = &current.charted.chart().header().id;
            let now = if was_over { "goes on" } else { "is over" };
            tracing::info!(court = %self.name, %match_id, "the match {now}");
        }
        outcomes
    }

    /// Judges an entry and stores it; a correction then waits for its run.
    fn take(
        &self,
        current: &mut CurrentMatch,
        source: Map<String, Value>,
        by: &Recorder,
        waiting: &mut Vec<Waiting>,
        place: usize,
    ) -> Result<Receipt, CannotDo> {
        let format = current.charted.chart().header().format;
        let entry = Entry::from_json(source, &format)?;
        if let Admission::Repeat(seq) = admit(current, &entry, by)? {
            let ticket = self.bus.durable(&current.topic, seq.0);
            return Ok(Receipt {
                accepted: accepted(entry.id, seq, Vec::new()),
                ticket: ticket.map_err(not_stored)?,
            });
        }
        let Appended {
            seq,
            received,
            ticket,
        } = (self.bus)
            .append(&current.topic, &record_text(&entry, by))
            .map_err(not_stored)?;
        let (id, at, client) = (entry.id.clone(), entry.at, &by.client);
        current.received = Some(received);
        let received = received.as_millisecond();
        (self.charters).recorded(by, at.milliseconds(), received);
        let flags = if entry.is_correction() {
            tracing::info!(court = %self.name, entry = %id, %client, "a correction was made");
            let id = id.clone();
            current
                .charted
                .take_correction(Seq(seq), entry, Some(by.clone()));
            waiting.push(Waiting { place, id });
            Vec::new()
        } else {
            let mut change = current.charted.take(Seq(seq), entry, Some(by.clone()));
            let flags = std::mem::take(&mut change.flags);
            self.publish(current, change);
            flags
        };
        Ok(Receipt {
            accepted: accepted(id, Seq(seq), flags),
            ticket,
        })
    }

    /// Shows viewers what an entry or some corrections did.
    fn publish(&self, current: &mut CurrentMatch, mut change: EntryEffect) {
        if change.plugin_stopped && self.faults.judge(&mut current.charted) {
            change.message = current.charted.changed("plugins");
        }
        self.show(current, change.message);
    }
}

/// Judges whether an entry may come in next. An id that is known comes first:
/// the same entry again is accepted again, whatever has changed since.
fn admit(current: &CurrentMatch, entry: &Entry, by: &Recorder) -> Result<Admission, CannotDo> {
    let charted = &current.charted;
    let chart = charted.chart();
    if by.seat == Some(Seat::Cues) && chart.entry(entry.id.as_str()).is_none() {
        cues_may_send(entry, chart, |id| charted.recorder(id)).map_err(|rule| {
            CannotDo::NotThisSeat {
                entry: entry.id.clone(),
                rule,
            }
        })?;
    }
    Ok(charted.judge(entry)?)
}

fn accepted(id: EntryId, seq: Seq, flags: Vec<Flag>) -> Accepted {
    Accepted { id, seq, flags }
}

/// Whether what was sent says that it is a correction.
fn is_correction(source: &Map<String, Value>) -> bool {
    Entry::kind_said(source).is_some_and(Kind::is_correction)
}

/// An entry as the log takes it: its own fields, then who recorded it.
fn record_text(entry: &Entry, by: &Recorder) -> String {
    let mut record = entry.to_json().clone();
    record.insert("client".into(), (*by.client).into());
    if let Some(seat) = by.seat {
        record.insert("seat".into(), seat.word().into());
    }
    Value::Object(record).to_string()
}

fn not_stored(error: BusError) -> CannotDo {
    tracing::error!(%error, "an entry could not be stored");
    LogAttempt::StoreEntry.failed()(error)
}
