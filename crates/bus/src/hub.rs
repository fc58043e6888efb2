//! Passes encoded messages on to any number of readers, in order.
//!
//! The hub keeps the last few messages in a ring. Each reader has a position of
//! its own and takes what it wants when it can, so the publisher never waits, a
//! slow reader costs nothing and holds nobody back: when what it wants has left
//! the ring it is told [`Next::Lagged`], continues with the newest and shows its
//! client a snapshot instead. Between two `Lagged` a reader sees every message
//! exactly once and in order.
//!
//! Readers have positions, messages have sequence numbers. Several messages may
//! carry one number (a correction's snapshot after the update), so a number alone
//! cannot say which of them a client has seen: resuming after a number repeats
//! the later messages of that number rather than risk leaving one out. They must
//! therefore be harmless when seen twice, as messages that state values are.
//!
//! # State and subscription in one step
//!
//! A reader that begins with a snapshot must neither miss the message after it
//! nor get one from before it. The hub does not know the state, so its owner sees
//! to that with one lock of its own: change state and [`Hub::publish`] under it;
//! compute a snapshot and [`Hub::subscribe`], or after `Lagged`
//! [`Subscription::skip_to_newest`], under it too. None of these three waits for
//! anything, so they may be called with a lock held.
//!
//! It knows nothing of what a message says, encodes nothing and stores nothing.

use std::collections::VecDeque;
use std::num::NonZeroUsize;
use std::sync::{Arc, Mutex};

use tokio::sync::watch;

use crate::locked;

/// How many messages a hub keeps where its owner has no other wish: several
/// minutes of a match at a message a shot, and some hundred kilobytes of
/// messages of one kilobyte. It bounds the count, not the bytes: with larger
/// messages it holds more.
pub const DEFAULT_RING: NonZeroUsize = NonZeroUsize::new(256).expect("256 is not zero");

/// The publishing end. When it is dropped, readers get what is left and then
/// [`Next::Closed`].
#[derive(Debug)]
pub struct Hub<M> {
    ring: Arc<Mutex<Ring<M>>>,
    /// Carries no value: it tells readers to look at the ring again.
    wake: watch::Sender<()>,
}

#[derive(Debug)]
struct Ring<M> {
    messages: VecDeque<(u64, M)>,
    capacity: usize,
    /// The position after the newest message.
    next: u64,
    /// The newest sequence number.
    newest_seq: u64,
    /// Of messages with a higher number, all there ever were are in the ring.
    complete_above: u64,
}

impl<M: Clone> Hub<M> {
    /// A hub whose next messages follow a state that is at `seq`, with a ring of
    /// `capacity` messages.
    pub fn new(seq: u64, capacity: NonZeroUsize) -> Self {
        let ring = Ring {
            messages: VecDeque::new(),
            capacity: capacity.get(),
            next: 0,
            newest_seq: seq,
            complete_above: seq,
        };
        Self {
            ring: Arc::new(Mutex::new(ring)),
            wake: watch::Sender::new(()),
        }
    }

    /// Adds a message that belongs to the sequence number `seq`. It must not be
    /// below the one before; if it is, this is a new beginning, as
    /// [`Hub::restart`] is.
    ///
    /// Messages are meant to be encoded once and shared: `M` is an `Arc<str>` or
    /// as cheap to clone.
    pub fn publish(&self, seq: u64, message: M) {
        {
            let mut ring = locked(&self.ring);
            if seq < ring.newest_seq {
                ring.restart(seq);
            }
            ring.push(seq, message);
        }
        self.wake.send_replace(());
    }

    /// Begins anew from a state at `seq`, for instance with another match: no
    /// reader resumes across this, all are told that they lag.
    pub fn restart(&self, seq: u64) {
        locked(&self.ring).restart(seq);
        self.wake.send_replace(());
    }

    /// Adds a reader: one that resumes after the sequence number `after`, or one
    /// that begins now.
    pub fn subscribe(&self, after: Option<u64>) -> Subscribed<M> {
        // Before the ring is read, so that no later message goes unnoticed.
        let wake = self.wake.subscribe();
        let ring = locked(&self.ring);
        let resumed_at = after.and_then(|seq| ring.position_after(seq));
        let subscription = Subscription {
            ring: Arc::clone(&self.ring),
            wake,
            position: resumed_at.unwrap_or(ring.next),
        };
        match resumed_at {
            Some(_) => Subscribed::Resumed(subscription),
            None => Subscribed::Behind(subscription),
        }
    }

    /// How many readers there are.
    #[cfg(test)]
    fn readers(&self) -> usize {
        self.wake.receiver_count()
    }
}

impl<M> Ring<M> {
    fn push(&mut self, seq: u64, message: M) {
        if self.messages.len() == self.capacity
            && let Some((dropped, _)) = self.messages.pop_front()
        {
            self.complete_above = self.complete_above.max(dropped);
        }
        self.messages.push_back((seq, message));
        self.newest_seq = seq;
        self.next += 1;
    }

    fn restart(&mut self, seq: u64) {
        self.messages.clear();
        // A position that holds no message: also a reader that had seen
        // everything finds that something is missing.
        self.next += 1;
        self.newest_seq = seq;
        self.complete_above = seq;
    }

    /// The position of the oldest message in the ring.
    fn oldest(&self) -> u64 {
        self.next - self.messages.len() as u64
    }

    /// Where a reader that has seen something of `seq` goes on, if everything
    /// from there on is in the ring.
    fn position_after(&self, seq: u64) -> Option<u64> {
        if seq <= self.complete_above || seq > self.newest_seq {
            return None;
        }
        let below = self.messages.partition_point(|&(number, _)| number < seq);
        let first_seen = self.messages.get(below).is_some_and(|m| m.0 == seq);
        Some(self.oldest() + below as u64 + u64::from(first_seen))
    }
}

/// How a subscription begins.
#[derive(Debug)]
pub enum Subscribed<M> {
    /// Everything after the number asked for is still there and comes next.
    Resumed(Subscription<M>),
    /// It is not, or no number was asked for: what is published from now on
    /// comes next, the client needs a snapshot first.
    Behind(Subscription<M>),
}

/// What a reader gets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Next<M> {
    /// The next message.
    Message(M),
    /// Messages have been left out, and the subscription stands behind the
    /// newest one now. The client needs a snapshot, taken together with
    /// [`Subscription::skip_to_newest`].
    Lagged,
    /// The hub is gone, there will be no more.
    Closed,
}

/// One reader.
#[derive(Debug)]
pub struct Subscription<M> {
    ring: Arc<Mutex<Ring<M>>>,
    wake: watch::Receiver<()>,
    position: u64,
}

impl<M: Clone> Subscription<M> {
    /// Waits for the next message. Nothing is lost if the future is dropped
    /// before it is ready.
    pub async fn next(&mut self) -> Next<M> {
        loop {
            // Marked as seen before the ring is read, so that a message that
            // comes in between ends the wait below.
            self.wake.mark_unchanged();
            if let Some(next) = self.try_next() {
                return next;
            }
            if self.wake.changed().await.is_err() {
                // Not while there is a wake-up unseen, so the look above was the last.
                return Next::Closed;
            }
        }
    }

    /// The next message or `Lagged` if there is one already; for sending several
    /// in one go.
    pub fn try_next(&mut self) -> Option<Next<M>> {
        let ring = locked(&self.ring);
        if self.position >= ring.next {
            return None;
        }
        let message = self
            .position
            .checked_sub(ring.oldest())
            .and_then(|index| ring.messages.get(usize::try_from(index).ok()?));
        Some(if let Some((_, message)) = message {
            self.position += 1;
            Next::Message(message.clone())
        } else {
            self.position = ring.next;
            Next::Lagged
        })
    }

    /// Leaves out what has been published until now. To be called under the same
    /// lock of the owner under which a snapshot is taken, see the module's text.
    pub fn skip_to_newest(&mut self) {
        self.position = locked(&self.ring).next;
    }
}

#[cfg(test)]
mod tests;
