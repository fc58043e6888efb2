//! One open log: the numbers it gives, what waits for the disk, how far it is
//! durable.
//!
//! Two sides meet here. Callers append under the lock of [`Log::state`] and
//! never touch the file; the log thread takes the whole buffer out in one step
//! and never holds that lock while it writes. Lock order: a log's state, then
//! the list of the log thread.
//!
//! It does not decide when to write; see `log_thread`.

use std::io;
use std::path::PathBuf;
use std::sync::{Arc, Mutex};

use crate::line::{Fields, whole_milliseconds};
use crate::storage::{Appender, Storage};
use crate::{Appended, BusError, Clock, Progress, Ticket, TopicName, locked};

/// How many records of one topic may wait for the disk; beyond, `append`
/// answers [`BusError::Overloaded`] and stores nothing. The records that the
/// log thread is writing at the moment are not counted.
pub const MAX_QUEUED_RECORDS: usize = 16_384;

/// How many bytes of one topic may wait for the disk, counted in the same way.
/// One record alone may be longer.
pub const MAX_QUEUED_BYTES: usize = 8 * 1024 * 1024;

pub(super) struct Log {
    topic: TopicName,
    path: PathBuf,
    state: Mutex<State>,
    progress: Progress,
    /// Touched by the log thread only; behind a lock to say so to the compiler.
    file: Mutex<LogFile>,
}

struct State {
    last_seq: u64,
    /// The lines that wait for the disk, and how many there are.
    lines: Vec<u8>,
    records: usize,
    durable_length: u64,
    closing: bool,
    failure: Option<BusError>,
}

struct LogFile {
    appender: Option<Box<dyn Appender>>,
    /// Whether the file holds more than its intact lines.
    torn: bool,
}

/// What the log thread writes in one go.
pub(super) struct Batch {
    lines: Vec<u8>,
    last_seq: u64,
}

impl Log {
    /// A log whose last record is `last_seq` and whose intact lines end at
    /// byte `length`.
    pub(super) fn new(topic: TopicName, path: PathBuf, last_seq: u64, length: u64) -> Self {
        Self {
            topic,
            path,
            state: Mutex::new(State {
                last_seq,
                lines: Vec::new(),
                records: 0,
                durable_length: length,
                closing: false,
                failure: None,
            }),
            progress: Progress::new(last_seq),
            file: Mutex::new(LogFile {
                appender: None,
                torn: false,
            }),
        }
    }

    /// The same with a torn tail, to be cut off before the first append.
    pub(super) fn with_torn_tail(self) -> Self {
        locked(&self.file).torn = true;
        self
    }

    pub(super) fn topic(&self) -> &TopicName {
        &self.topic
    }

    /// Appends a record; `enlist` puts this log on the list of the log thread.
    pub(super) fn append(
        &self,
        fields: Fields<'_>,
        clock: &Clock,
        enlist: impl FnOnce() -> Result<(), BusError>,
    ) -> Result<Appended, BusError> {
        let mut state = locked(&self.state);
        self.refuse_if_unable(&state)?;
        // Asked under the lock, so that times stand in the order of the numbers.
        let received = whole_milliseconds(clock());
        let waiting = state.lines.len();
        let seq = state.last_seq + 1;
        fields.write_record(&mut state.lines, seq, received);
        if waiting > 0 && state.lines.len() > MAX_QUEUED_BYTES {
            state.lines.truncate(waiting);
            return Err(self.overloaded(&state));
        }
        // With something waiting, the log thread has this log on its list.
        if waiting == 0
            && let Err(stopped) = enlist()
        {
            state.lines.clear();
            return Err(stopped);
        }
        state.last_seq = seq;
        state.records += 1;
        drop(state);
        Ok(Appended {
            seq,
            received,
            ticket: self.progress.ticket(seq),
        })
    }

    fn refuse_if_unable(&self, state: &State) -> Result<(), BusError> {
        if let Some(failure) = &state.failure {
            return Err(failure.clone());
        }
        if state.closing {
            return Err(BusError::NotOpen {
                topic: self.topic.clone(),
            });
        }
        if state.records >= MAX_QUEUED_RECORDS {
            return Err(self.overloaded(state));
        }
        Ok(())
    }

    fn overloaded(&self, state: &State) -> BusError {
        BusError::Overloaded {
            topic: self.topic.clone(),
            records: state.records,
            bytes: state.lines.len(),
        }
    }

    pub(super) fn ticket(&self, seq: u64) -> Result<Ticket, BusError> {
        let last = locked(&self.state).last_seq;
        if seq == 0 || seq > last {
            return Err(BusError::NoRecord {
                topic: self.topic.clone(),
                seq,
                last,
            });
        }
        Ok(self.progress.ticket(seq))
    }

    pub(super) fn newest_ticket(&self) -> Ticket {
        self.progress.ticket(locked(&self.state).last_seq)
    }

    pub(super) fn durable_length(&self) -> u64 {
        locked(&self.state).durable_length
    }

    /// From now on, appending answers that the log is not open.
    pub(super) fn refuse_more(&self) {
        locked(&self.state).closing = true;
    }

    /// Ends the log: its open tickets fail, it takes nothing more.
    pub(super) fn fail(&self, failure: BusError) {
        let mut state = locked(&self.state);
        state.lines = Vec::new();
        state.records = 0;
        self.progress.fail(failure.clone());
        state.failure.get_or_insert(failure);
    }

    /// Takes what waits and hands it to the operating system. `None` if nothing
    /// was waiting, or if it failed, which ends the log.
    pub(super) fn write(&self, storage: &dyn Storage) -> Option<Batch> {
        let batch = {
            let mut state = locked(&self.state);
            state.records = 0;
            Batch {
                lines: std::mem::take(&mut state.lines),
                last_seq: state.last_seq,
            }
        };
        if batch.lines.is_empty() {
            return None;
        }
        match self.try_write(storage, &batch.lines) {
            Ok(()) => Some(batch),
            Err((attempt, error)) => {
                self.close_after(attempt, error);
                None
            }
        }
    }

    fn try_write(&self, storage: &dyn Storage, lines: &[u8]) -> Result<(), Failed> {
        let mut file = locked(&self.file);
        if file.torn {
            let sound = self.durable_length();
            storage
                .cut(&self.topic, sound)
                .map_err(|error| ("take the torn tail off", error))?;
            file.torn = false;
        }
        if file.appender.is_none() {
            let appender = storage.appender(&self.topic);
            file.appender = Some(appender.map_err(|error| ("open", error))?);
        }
        let Some(appender) = file.appender.as_mut() else {
            return Ok(());
        };
        appender.write(lines).map_err(|error| ("write to", error))
    }

    /// Makes what was written durable and completes its tickets; a failure ends
    /// the log.
    pub(super) fn sync(&self, batch: &Batch) {
        let synced = locked(&self.file)
            .appender
            .as_mut()
            .map_or(Ok(()), |appender| appender.sync());
        if let Err(error) = synced {
            self.close_after("sync", error);
            return;
        }
        locked(&self.state).durable_length += batch.lines.len() as u64;
        self.progress.advance(batch.last_seq);
    }

    fn close_after(&self, attempt: &'static str, error: io::Error) {
        locked(&self.file).appender = None;
        self.fail(BusError::Closed {
            topic: self.topic.clone(),
            attempt,
            path: self.path.clone(),
            source: Arc::new(error),
        });
    }
}

/// What was attempted, and what came of it.
type Failed = (&'static str, io::Error);
