//! One open log: the numbers it gives, what waits for the disk, how far it is
//! durable.
//!
//! Two sides meet here. Callers append under the lock of [`Log::state`] and
//! never touch the file; the log thread takes the whole buffer out in one step
//! and never holds that lock while it writes. Lock order: a log's file, its
//! state, the list of the log thread.
//!
//! A disk that takes nothing (it is full, no file can be opened) does not end a
//! log: what was written in part is taken back, the lines go back to the front
//! of the queue, and the log thread tries again. A failed sync does end it.
//!
//! It does not decide when to write; see `log_thread`.

use std::io;
use std::path::PathBuf;
use std::sync::{Arc, Mutex};

use crate::line::{Fields, whole_milliseconds};
use crate::storage::{Appender, Storage};
use crate::{Appended, BusError, Clock, Progress, Ticket, TopicName, Trouble, locked};

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
    state: Mutex<LogState>,
    progress: Progress,
    /// Touched by the log thread only; behind a lock to say so to the compiler.
    file: Mutex<LogFile>,
}

struct LogState {
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
    /// Whether it has been let go of for good.
    ended: bool,
}

/// What the log thread writes in one go.
pub(super) struct Batch {
    lines: Vec<u8>,
    records: usize,
    last_seq: u64,
}

/// What came of writing a log.
pub(super) enum Written {
    /// Everything that waited; it has to be synced now.
    Batch(Batch),
    /// Nothing: the disk takes none of it at the moment.
    Stalled,
    /// Nothing: there was nothing to write, or the log has ended.
    Nothing,
}

impl Log {
    /// A log whose last record is `last_seq` and whose intact lines end at
    /// byte `length`.
    pub(super) fn new(topic: TopicName, path: PathBuf, last_seq: u64, length: u64) -> Self {
        Self {
            topic,
            path,
            state: Mutex::new(LogState {
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
                ended: false,
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

    fn refuse_if_unable(&self, state: &LogState) -> Result<(), BusError> {
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

    fn overloaded(&self, state: &LogState) -> BusError {
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

    /// What keeps the log from being written, if anything.
    pub(super) fn trouble(&self) -> Option<Trouble> {
        let state = locked(&self.state);
        let cause = state.failure.clone().or_else(|| self.progress.stalled())?;
        Some(Trouble {
            topic: self.topic.clone(),
            cause,
            waiting: state.records,
        })
    }

    /// Ends a log that waits for the disk: what waits is given up, and the file
    /// is let go of. Says what its tickets say from now on.
    pub(super) fn give_up(&self, cause: BusError) -> BusError {
        let BusError::Stalled {
            attempt, source, ..
        } = cause
        else {
            return cause;
        };
        let mut file = locked(&self.file);
        file.appender = None;
        file.ended = true;
        let closed = BusError::Closed {
            topic: self.topic.clone(),
            attempt,
            path: self.path.clone(),
            source,
        };
        self.fail(closed.clone());
        closed
    }

    /// Whether [`Log::give_up`] has ended it, so that it can be opened again.
    pub(super) fn is_given_up(&self) -> bool {
        locked(&self.file).ended
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

    /// Takes what waits and hands it to the operating system.
    pub(super) fn write(&self, storage: &dyn Storage) -> Written {
        let mut file = locked(&self.file);
        if file.ended {
            return Written::Nothing;
        }
        let batch = {
            let mut state = locked(&self.state);
            Batch {
                lines: std::mem::take(&mut state.lines),
                records: std::mem::take(&mut state.records),
                last_seq: state.last_seq,
            }
        };
        if batch.lines.is_empty() {
            return Written::Nothing;
        }
        let Err((attempt, error)) = self.try_write(&mut file, storage, &batch.lines) else {
            return Written::Batch(batch);
        };
        if may_pass(attempt, &error) {
            self.take_back(&mut file);
            self.stall(batch, attempt, error);
            return Written::Stalled;
        }
        drop(file);
        self.close_after(attempt, error);
        Written::Nothing
    }

    /// Takes off what a write that failed has left.
    fn take_back(&self, file: &mut LogFile) {
        let Some(appender) = file.appender.as_mut() else {
            return;
        };
        if appender.take_back(self.durable_length()).is_err() {
            // The next attempt then finds a torn tail and takes that off first.
            file.appender = None;
            file.torn = true;
        }
    }

    /// Puts what could not be written back to the front of what waits.
    fn stall(&self, batch: Batch, attempt: &'static str, error: io::Error) {
        let mut state = locked(&self.state);
        let mut lines = batch.lines;
        lines.append(&mut state.lines);
        state.lines = lines;
        state.records += batch.records;
        self.progress.stall(BusError::Stalled {
            topic: self.topic.clone(),
            attempt,
            path: self.path.clone(),
            source: Arc::new(error),
        });
    }

    fn try_write(
        &self,
        file: &mut LogFile,
        storage: &dyn Storage,
        lines: &[u8],
    ) -> Result<(), Failed> {
        if file.torn {
            let sound = self.durable_length();
            storage
                .cut(&self.topic, sound)
                .map_err(|error| (CUT, error))?;
            file.torn = false;
        }
        if file.appender.is_none() {
            let appender = storage.appender(&self.topic);
            file.appender = Some(appender.map_err(|error| (OPEN, error))?);
        }
        let Some(appender) = file.appender.as_mut() else {
            return Ok(());
        };
        appender.write(lines).map_err(|error| (WRITE, error))
    }

    /// Makes what was written durable and completes its tickets; a failure ends
    /// the log.
    pub(super) fn sync(&self, batch: &Batch) {
        let length = self.durable_length() + batch.lines.len() as u64;
        let mut file = locked(&self.file);
        let Some(appender) = file.appender.as_mut() else {
            return;
        };
        let synced = appender.sync().map_err(|error| ("sync", error));
        let looked_at = synced.and_then(|()| {
            let change = appender.change(length);
            change.map_err(|error| ("look after", error))
        });
        drop(file);
        match looked_at {
            Ok(None) => {
                locked(&self.state).durable_length = length;
                self.progress.advance(batch.last_seq);
            }
            Ok(Some(change)) => self.end(BusError::Changed {
                topic: self.topic.clone(),
                path: self.path.clone(),
                source: change,
            }),
            Err((attempt, error)) => self.close_after(attempt, error),
        }
    }

    fn close_after(&self, attempt: &'static str, error: io::Error) {
        self.end(BusError::Closed {
            topic: self.topic.clone(),
            attempt,
            path: self.path.clone(),
            source: Arc::new(error),
        });
    }

    fn end(&self, failure: BusError) {
        locked(&self.file).appender = None;
        self.fail(failure);
    }
}

const OPEN: &str = "open";
const WRITE: &str = "write to";
const CUT: &str = "take the torn tail off";

/// Whether an attempt may succeed later and nothing is lost by trying again:
/// nothing has been written where the file could not be opened, and what a full
/// disk took of a write can be taken back. Never after a failed sync.
fn may_pass(attempt: &'static str, error: &io::Error) -> bool {
    let is_full = matches!(
        error.kind(),
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded
    );
    match attempt {
        OPEN => error.kind() != io::ErrorKind::NotFound,
        WRITE | CUT => is_full || is_out_of_files(error),
        _ => false,
    }
}

/// This program, or the whole system, has as many files open as it may: EMFILE
/// and ENFILE (POSIX), of the same numbers on Linux, macOS and the BSDs.
fn is_out_of_files(error: &io::Error) -> bool {
    cfg!(unix) && matches!(error.raw_os_error(), Some(23 | 24))
}

/// What was attempted, and what came of it.
type Failed = (&'static str, io::Error);
