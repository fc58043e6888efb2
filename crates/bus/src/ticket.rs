//! How an engine says "durable up to here", and how a caller waits for it.
//!
//! One [`Progress`] a topic, any number of [`Ticket`]s. A ticket is never left
//! hanging: it completes when its record is durable, fails when the topic has
//! failed, and fails as stopped when the engine is gone.

use tokio::sync::watch;

use crate::BusError;

/// How far a topic is durable; kept by the engine.
#[derive(Debug)]
pub struct Progress {
    state: watch::Sender<Reached>,
}

#[derive(Clone, Debug)]
struct Reached {
    durable: u64,
    /// Why nothing becomes durable at the moment.
    stalled: Option<BusError>,
    failure: Option<BusError>,
}

impl Progress {
    /// A topic that is durable up to and including `seq`.
    pub fn new(seq: u64) -> Self {
        let state = watch::Sender::new(Reached {
            durable: seq,
            stalled: None,
            failure: None,
        });
        Self { state }
    }

    /// Everything up to and including `seq` is durable now. Never goes back;
    /// nothing becomes durable after a failure.
    pub fn advance(&self, seq: u64) {
        self.state.send_if_modified(|reached| {
            let further = reached.failure.is_none() && seq > reached.durable;
            if further {
                reached.durable = seq;
                reached.stalled = None;
            }
            further
        });
    }

    /// Nothing becomes durable for now; what waits goes on waiting.
    pub fn stall(&self, cause: BusError) {
        self.state.send_if_modified(|reached| {
            let first = reached.stalled.is_none();
            reached.stalled = Some(cause);
            first
        });
    }

    /// Why nothing becomes durable at the moment, if so.
    pub(crate) fn stalled(&self) -> Option<BusError> {
        self.state.borrow().stalled.clone()
    }

    /// Nothing more will become durable. The first failure is the one kept.
    pub fn fail(&self, failure: BusError) {
        self.state.send_if_modified(|reached| {
            let first = reached.failure.is_none();
            if first {
                reached.failure = Some(failure);
            }
            first
        });
    }

    /// A ticket for the record `seq`.
    pub fn ticket(&self, seq: u64) -> Ticket {
        Ticket {
            seq,
            state: self.state.subscribe(),
        }
    }
}

/// A claim on the durability of one record.
#[derive(Clone, Debug)]
#[must_use = "a record is durable only when its ticket says so"]
pub struct Ticket {
    seq: u64,
    state: watch::Receiver<Reached>,
}

impl Ticket {
    /// The record it is for.
    pub fn seq(&self) -> u64 {
        self.seq
    }

    /// Whether the record is durable by now; does not wait.
    ///
    /// # Errors
    /// If it never will be.
    #[cfg(test)]
    pub(crate) fn is_durable(&self) -> Result<bool, BusError> {
        // Asked first, so that the last word of an engine now gone is heard.
        let engine_gone = self.state.has_changed().is_err();
        match outcome(&self.state.borrow(), self.seq) {
            Some(outcome) => outcome.map(|()| true),
            None if engine_gone => Err(BusError::Stopped),
            None => Ok(false),
        }
    }

    /// Waits until the record is durable.
    ///
    /// # Errors
    /// If it never will be: [`BusError::Closed`] or [`BusError::Stopped`].
    pub async fn durable(mut self) -> Result<(), BusError> {
        let seq = self.seq;
        let decided = self
            .state
            .wait_for(|reached| outcome(reached, seq).is_some());
        match decided.await {
            Ok(reached) => outcome(&reached, seq).unwrap_or(Ok(())),
            Err(_) => Err(BusError::Stopped),
        }
    }

    /// As [`Ticket::durable`], blocking, but does not sit out a disk that takes nothing.
    ///
    /// # Errors
    /// As [`Ticket::durable`], and [`BusError::Stalled`].
    pub fn wait_or_stall(mut self) -> Result<(), BusError> {
        let seq = self.seq;
        let decision = |reached: &Reached| {
            let stalled = || reached.stalled.clone().map(Err);
            outcome(reached, seq).or_else(stalled)
        };
        let decided = self.state.wait_for(|reached| decision(reached).is_some());
        match pollster::block_on(decided) {
            Ok(reached) => decision(&reached).unwrap_or(Ok(())),
            Err(_) => Err(BusError::Stopped),
        }
    }

    /// As [`Ticket::durable`], for code that is not async; blocks the thread.
    ///
    /// # Errors
    /// As [`Ticket::durable`].
    pub fn wait(self) -> Result<(), BusError> {
        pollster::block_on(self.durable())
    }
}

/// The decision on a record, once there is one. What became durable before a
/// failure stays durable.
fn outcome(reached: &Reached, seq: u64) -> Option<Result<(), BusError>> {
    if reached.durable >= seq {
        return Some(Ok(()));
    }
    reached.failure.clone().map(Err)
}

#[cfg(test)]
mod tests {
    use std::thread;

    use super::*;

    #[test]
    fn a_ticket_completes_at_its_number_and_not_before() {
        let progress = Progress::new(3);
        let (third, fifth) = (progress.ticket(3), progress.ticket(5));
        assert!(third.is_durable().unwrap());
        progress.advance(4);
        assert!(!fifth.is_durable().unwrap());
        progress.advance(6);
        assert!(fifth.is_durable().unwrap());
        fifth.wait().unwrap();
    }

    #[test]
    fn a_failure_ends_what_was_open_and_keeps_what_was_durable() {
        let progress = Progress::new(0);
        progress.advance(1);
        progress.fail(BusError::Stopped);
        progress.advance(9);
        progress.ticket(1).wait().unwrap();
        assert!(matches!(progress.ticket(2).wait(), Err(BusError::Stopped)));
    }

    #[test]
    fn a_ticket_does_not_hang_when_the_engine_is_gone() {
        let progress = Progress::new(0);
        let ticket = progress.ticket(1);
        drop(progress);
        assert!(matches!(ticket.is_durable(), Err(BusError::Stopped)));
        assert!(matches!(ticket.wait(), Err(BusError::Stopped)));
    }

    #[test]
    fn a_blocked_thread_wakes_when_another_advances() {
        let progress = Progress::new(0);
        let ticket = progress.ticket(1);
        let waiting = thread::spawn(move || ticket.wait());
        progress.advance(1);
        waiting.join().unwrap().unwrap();
    }
}
