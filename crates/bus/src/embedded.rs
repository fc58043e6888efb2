//! The engine that comes with the host: one file a topic, one thread that
//! writes them all.
//!
//! A call to `append` gives the record its number, puts the line into the
//! topic's buffer and returns. The log thread takes every buffer that holds
//! something, writes each, syncs each file once, completes the tickets, and
//! begins again at once with what came in meanwhile: while the disk is fast a
//! record is synced alone, while it is slow many share a sync, and no timer
//! adds to either.
//!
//! Invariants: one engine a folder (a lock says so); the numbers of a topic have
//! no gap; after a failed sync a topic takes nothing more, because what is on the
//! disk is unknown then, and a second sync of the same file could report success
//! for what the first one lost. A disk that is full only makes a topic wait.

mod log;
mod log_thread;
#[cfg(test)]
mod tests;

use std::fs::{File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::thread::{self, JoinHandle};

use crate::line::Fields;
use crate::recovery::recover;
use crate::storage::{Folder, Storage};
use crate::{Appended, Bus, BusError, Clock, Opened, Ticket, TopicName, Trouble, locked};
use log::Log;
pub use log::{MAX_QUEUED_BYTES, MAX_QUEUED_RECORDS};
use log_thread::Shared;

/// The file whose lock says that a folder is in use, where the folder itself
/// cannot be locked.
const LOCK_FILE: &str = "bus.lock";

/// Logs in a folder of this machine. Dropping it, or [`EmbeddedBus::shutdown`],
/// writes out what is queued and ends the log thread.
pub struct EmbeddedBus {
    storage: Arc<dyn Storage>,
    clock: Clock,
    shared: Arc<Shared>,
    /// Held while a log is made, opened or closed, and while the engine stops,
    /// so that none of these meet.
    lifecycle: Mutex<Lifecycle>,
}

struct Lifecycle {
    log_thread: Option<JoinHandle<()>>,
    folder_lock: Option<File>,
}

impl EmbeddedBus {
    /// Takes a folder, which must exist, and starts the log thread.
    ///
    /// # Errors
    /// [`BusError::NoFolder`]; [`BusError::Locked`] if another engine has the
    /// folder; [`BusError::Disk`] if it cannot be read or written.
    pub fn start(folder: &Path, clock: Clock) -> Result<Self, BusError> {
        let folder_lock = lock_folder(folder)?;
        let storage = Folder::new(folder).map_err(|error| BusError::Disk {
            attempt: "sync the data folder",
            path: folder.to_owned(),
            source: Arc::new(error),
        })?;
        Self::start_on(Arc::new(storage), clock, Some(folder_lock))
    }

    fn start_on(
        storage: Arc<dyn Storage>,
        clock: Clock,
        folder_lock: Option<File>,
    ) -> Result<Self, BusError> {
        let shared = Arc::new(Shared::default());
        let log_thread = thread::Builder::new()
            .name("bus-log".to_owned())
            .spawn({
                let shared = Arc::clone(&shared);
                let storage = Arc::clone(&storage);
                move || log_thread::run(&shared, &*storage)
            })
            .map_err(|error| BusError::Disk {
                attempt: "start the log thread for",
                path: storage.folder(),
                source: Arc::new(error),
            })?;
        Ok(Self {
            storage,
            clock,
            shared,
            lifecycle: Mutex::new(Lifecycle {
                log_thread: Some(log_thread),
                folder_lock,
            }),
        })
    }

    /// Writes out what is queued, ends the log thread and lets go of the
    /// folder. Blocks until the disk has taken everything; whether a record
    /// made it, its ticket says. Every call after this answers
    /// [`BusError::Stopped`]; a second call does nothing.
    pub fn shutdown(&self) {
        let mut lifecycle = locked(&self.lifecycle);
        self.shared.stop();
        if let Some(log_thread) = lifecycle.log_thread.take() {
            // A panic of the log thread has failed every open ticket already.
            let _ = log_thread.join();
        }
        lifecycle.folder_lock = None;
    }

    fn log(&self, topic: &TopicName) -> Result<Arc<Log>, BusError> {
        if let Some(log) = self.shared.log(topic) {
            return Ok(log);
        }
        self.refuse_when_stopped()?;
        Err(BusError::NotOpen {
            topic: topic.clone(),
        })
    }

    fn refuse_when_stopped(&self) -> Result<(), BusError> {
        if self.shared.is_stopping() {
            return Err(BusError::Stopped);
        }
        Ok(())
    }

    fn disk_error(&self, attempt: &'static str, topic: &TopicName, error: io::Error) -> BusError {
        BusError::Disk {
            attempt,
            path: self.storage.path(topic),
            source: Arc::new(error),
        }
    }

    /// What a log holds, up to `limit` bytes, and how long the file is.
    fn read(&self, topic: &TopicName, limit: Option<u64>) -> Result<(Opened, Ends), BusError> {
        let mut bytes = self
            .storage
            .read(topic)
            .map_err(|error| match error.kind() {
                io::ErrorKind::NotFound => BusError::NotFound {
                    topic: topic.clone(),
                    path: self.storage.path(topic),
                },
                _ => self.disk_error("read the log", topic, error),
            })?;
        if let Some(limit) = limit {
            bytes.truncate(usize::try_from(limit).unwrap_or(usize::MAX));
        }
        let recovered = recover(&bytes).map_err(|flaw| BusError::DamagedHead {
            path: self.storage.path(topic),
            source: flaw,
        })?;
        let ends = Ends {
            last_seq: recovered.last_seq(),
            sound: recovered.end,
            file: bytes.len() as u64,
        };
        let opened = Opened {
            head: recovered.head,
            records: recovered.records,
            damage: recovered.damage,
        };
        Ok((opened, ends))
    }
}

/// Where a log ends.
struct Ends {
    /// The number of the last record.
    last_seq: u64,
    /// The end of the last intact line.
    sound: u64,
    /// The end of the file.
    file: u64,
}

impl Bus for EmbeddedBus {
    fn topics(&self) -> Result<Vec<TopicName>, BusError> {
        let mut topics = self.storage.topics().map_err(|error| BusError::Disk {
            attempt: "list the logs of",
            path: self.storage.folder(),
            source: Arc::new(error),
        })?;
        topics.sort();
        Ok(topics)
    }

    fn create(&self, topic: &TopicName, head: &str) -> Result<(), BusError> {
        let _lifecycle = locked(&self.lifecycle);
        self.refuse_when_stopped()?;
        let fields = Fields::of_head(head).map_err(|unfit| BusError::Unfit {
            topic: topic.clone(),
            source: unfit,
        })?;
        let mut line = Vec::new();
        fields.write_head(&mut line);
        self.storage
            .create(topic, &line)
            .map_err(|error| match error.kind() {
                io::ErrorKind::AlreadyExists => BusError::Exists {
                    topic: topic.clone(),
                    path: self.storage.path(topic),
                },
                _ => self.disk_error("create the log", topic, error),
            })?;
        let path = self.storage.path(topic);
        let log = Log::new(topic.clone(), path, 0, line.len() as u64);
        self.shared.add(Arc::new(log));
        Ok(())
    }

    fn open(&self, topic: &TopicName) -> Result<Opened, BusError> {
        let _lifecycle = locked(&self.lifecycle);
        self.refuse_when_stopped()?;
        if let Some(log) = self.shared.log(topic) {
            // After a failure, what is durable can still be read.
            if let Err(stalled @ BusError::Stalled { .. }) = log.newest_ticket().wait_or_stall() {
                return Err(stalled);
            }
            return Ok(self.read(topic, Some(log.durable_length()))?.0);
        }
        let (opened, ends) = self.read(topic, None)?;
        let path = self.storage.path(topic);
        let mut log = Log::new(topic.clone(), path, ends.last_seq, ends.sound);
        if ends.file > ends.sound {
            log = log.with_torn_tail();
        }
        self.shared.add(Arc::new(log));
        Ok(opened)
    }

    fn append(&self, topic: &TopicName, record: &str) -> Result<Appended, BusError> {
        let fields = Fields::of_record(record).map_err(|unfit| BusError::Unfit {
            topic: topic.clone(),
            source: unfit,
        })?;
        let log = self.log(topic)?;
        log.append(fields, &self.clock, || self.shared.enlist(&log))
    }

    fn durable(&self, topic: &TopicName, seq: u64) -> Result<Ticket, BusError> {
        self.log(topic)?.ticket(seq)
    }

    fn close(&self, topic: &TopicName) -> Result<(), BusError> {
        let _lifecycle = locked(&self.lifecycle);
        let Some(log) = self.shared.log(topic) else {
            return Ok(());
        };
        log.refuse_more();
        let settled = log.newest_ticket().wait_or_stall();
        let settled = settled.map_err(|error| log.give_up(error));
        if settled.is_ok() || log.is_given_up() {
            self.shared.remove(topic);
        }
        settled
    }

    fn set_aside(&self, topic: &TopicName) -> Result<PathBuf, BusError> {
        let _lifecycle = locked(&self.lifecycle);
        self.refuse_when_stopped()?;
        if self.shared.log(topic).is_some() {
            return Err(BusError::Exists {
                topic: topic.clone(),
                path: self.storage.path(topic),
            });
        }
        self.storage
            .set_aside(topic)
            .map_err(|error| self.disk_error("set aside the log", topic, error))
    }

    fn troubles(&self) -> Vec<Trouble> {
        let mut troubles = self.shared.troubles();
        troubles.sort_by(|one, other| one.topic.cmp(&other.topic));
        troubles
    }
}

impl Drop for EmbeddedBus {
    fn drop(&mut self) {
        self.shutdown();
    }
}

/// Takes the folder itself, which nobody deletes while it holds matches. Where a
/// folder cannot be locked (Windows, some network drives), a file in it has to
/// do.
fn lock_folder(folder: &Path) -> Result<File, BusError> {
    let path = folder.join(LOCK_FILE);
    let refused = |error: io::Error| BusError::Disk {
        attempt: "lock the data folder with",
        path: path.clone(),
        source: Arc::new(error),
    };
    let taken = || BusError::Locked {
        folder: folder.to_owned(),
    };
    if !folder.try_exists().map_err(refused)? {
        return Err(BusError::NoFolder {
            folder: folder.to_owned(),
        });
    }
    if cfg!(unix)
        && folder.is_dir()
        && let Ok(file) = File::open(folder)
    {
        match file.try_lock() {
            Ok(()) => return Ok(file),
            Err(TryLockError::WouldBlock) => return Err(taken()),
            // This file system locks files only.
            Err(TryLockError::Error(_)) => {}
        }
    }
    let file = OpenOptions::new()
        .write(true)
        .create(true)
        .truncate(false)
        .open(&path)
        .map_err(refused)?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(taken()),
        Err(TryLockError::Error(error)) => Err(refused(error)),
    }
}
