//! The trait the rest of the host talks to, and the values that cross it.
//!
//! An engine other than the embedded one implements [`Bus`] and hands out
//! tickets from a [`Progress`](crate::Progress) it keeps per topic.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::SystemTime;

use jiff::Timestamp;

use crate::{BusError, Damage, Ticket, TopicName};

/// Where the time a record was received comes from; the tests pass their own.
pub type Clock = Arc<dyn Fn() -> Timestamp + Send + Sync>;

/// The clock of the machine.
pub fn system_clock() -> Clock {
    Arc::new(now)
}

/// The time by the clock of the machine. A clock that stands outside the years
/// a log can write gives the nearest time that it can: no task ends for it.
pub fn now() -> Timestamp {
    nearest(SystemTime::now())
}

fn nearest(time: SystemTime) -> Timestamp {
    let otherwise = if time < SystemTime::UNIX_EPOCH {
        Timestamp::MIN
    } else {
        Timestamp::MAX
    };
    Timestamp::try_from(time).unwrap_or(otherwise)
}

/// Durable, ordered, append-only logs, one a topic.
///
/// `append` and `durable` never wait for the disk and may be called from async
/// code. Everything else reads or writes files and blocks meanwhile: call it
/// from a blocking task.
pub trait Bus: Send + Sync {
    /// The topics there are, sorted by name, open or not.
    ///
    /// # Errors
    /// If the store cannot be listed.
    fn topics(&self) -> Result<Vec<TopicName>, BusError>;

    /// Makes a new log that begins with `head` and opens it for appending. The
    /// log is durable when this returns.
    ///
    /// `head` is one JSON object without line breaks and without a field `crc`.
    ///
    /// # Errors
    /// [`BusError::Exists`] if there is such a log already, [`BusError::Unfit`]
    /// if `head` is not as described, or what the disk said.
    fn create(&self, topic: &TopicName, head: &str) -> Result<(), BusError>;

    /// Reads and verifies a log and opens it for appending. Every record
    /// returned is durable. Opening an open log again is allowed: it waits for
    /// what was appended before, and returns that too. What is damaged is left
    /// out and reported, see [`Damage`]; a torn tail is reported by the first
    /// opening only.
    ///
    /// # Errors
    /// [`BusError::NotFound`], [`BusError::DamagedHead`], [`BusError::Stalled`]
    /// if it is open and waits for the disk, or what the disk said.
    fn open(&self, topic: &TopicName) -> Result<Opened, BusError>;

    /// Appends one record and gives it the next sequence number at once. It is
    /// durable when the ticket completes; tickets of a topic complete in order.
    ///
    /// `record` is one JSON object without line breaks and without the fields
    /// `seq`, `received` and `crc`, which the log adds. It is stored verbatim.
    ///
    /// # Errors
    /// Nothing has been stored, and no number used, if this fails:
    /// [`BusError::Unfit`]; [`BusError::NotOpen`]; [`BusError::Overloaded`] if
    /// the disk does not keep up (wait for the newest ticket, then try again);
    /// [`BusError::Closed`] after a failed write; [`BusError::Stopped`].
    fn append(&self, topic: &TopicName, record: &str) -> Result<Appended, BusError>;

    /// A ticket for a record appended before: a client that sends the same
    /// record twice may be told of success only when the first copy is durable.
    ///
    /// # Errors
    /// [`BusError::NotOpen`], or [`BusError::NoRecord`] if there is no record
    /// with this number yet.
    fn durable(&self, topic: &TopicName, seq: u64) -> Result<Ticket, BusError>;

    /// Waits for everything appended to a topic and lets go of its file. The
    /// log can be opened again. Closing one that is not open does nothing.
    ///
    /// # Errors
    /// If what was appended could not be made durable. The file is let go of
    /// all the same. What waited for a full disk is given up, and the log can be
    /// opened again; after any other failure the topic can still be read, but
    /// takes no more records until the host is restarted.
    fn close(&self, topic: &TopicName) -> Result<(), BusError>;

    /// Takes a log that cannot be read out of the way, so that another can be
    /// made under its name; says where it is now. Nothing of it is lost.
    ///
    /// # Errors
    /// [`BusError::Exists`] if the log is open, or what the disk said.
    fn set_aside(&self, topic: &TopicName) -> Result<PathBuf, BusError>;

    /// The open logs that the disk does not take records for, sorted by name:
    /// those that wait ([`BusError::Stalled`]) and those that have ended.
    fn troubles(&self) -> Vec<Trouble>;
}

/// An open log that is not written at the moment.
#[derive(Clone, Debug)]
pub struct Trouble {
    /// The log.
    pub topic: TopicName,
    /// Why: [`BusError::Stalled`] as long as it may go on by itself.
    pub cause: BusError,
    /// How many records wait for the disk; 0 once the log has ended.
    pub waiting: usize,
}

/// What an opened log holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opened {
    /// The head as it was given to [`Bus::create`].
    pub head: String,
    /// The intact records, in order.
    pub records: Vec<Stored>,
    /// What was found damaged, in file order; empty for a sound log.
    pub damage: Vec<Damage>,
}

/// A record as it stands in the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stored {
    /// Its sequence number, from 1 on.
    pub seq: u64,
    /// When the host received it, to the millisecond.
    pub received: Timestamp,
    /// The record as it was given to [`Bus::append`], without what the log added.
    pub text: String,
}

/// What [`Bus::append`] answers.
#[derive(Debug)]
pub struct Appended {
    /// The sequence number given.
    pub seq: u64,
    /// The time written beside it, to the millisecond.
    pub received: Timestamp,
    /// Completes when the record is durable.
    pub ticket: Ticket,
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    #[test]
    fn a_clock_out_of_range_gives_the_nearest_time() {
        // 10000-01-01T00:00:00Z, by `date -u -d @253402300800` of GNU coreutils, and a
        // millisecond.
        let year_10_000 = SystemTime::UNIX_EPOCH + Duration::from_millis(253_402_300_800_001);
        assert_eq!(nearest(year_10_000), Timestamp::MAX);
        let second = SystemTime::UNIX_EPOCH + Duration::from_secs(1);
        assert_eq!(nearest(second), Timestamp::from_second(1).unwrap());
    }
}
