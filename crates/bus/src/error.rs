//! What can go wrong with a log, each saying what was attempted and where.
//!
//! Errors are cloneable, because one failed write answers many tickets; the
//! cause stays reachable through `source` and is not repeated in the text.

use std::io;
use std::path::PathBuf;
use std::sync::Arc;

use crate::{Flaw, TopicName, UnfitLine};

/// Why a log could not be listed, made, opened or appended to.
#[derive(Clone, Debug, thiserror::Error)]
#[non_exhaustive]
pub enum BusError {
    /// The data folder does not exist.
    #[error("there is no data folder `{}`", folder.display())]
    NoFolder {
        /// The folder asked for.
        folder: PathBuf,
    },
    /// Another host has the data folder.
    #[error("the data folder `{}` is in use by another host", folder.display())]
    Locked {
        /// The folder asked for.
        folder: PathBuf,
    },
    /// The disk refused something.
    #[error("could not {attempt} `{}`", path.display())]
    Disk {
        /// What was attempted: "read the log".
        attempt: &'static str,
        /// The file or folder it was attempted on.
        path: PathBuf,
        /// What the operating system said.
        source: Arc<io::Error>,
    },
    /// A new log would have replaced one.
    #[error("there is a log `{topic}` already, `{}`", path.display())]
    Exists {
        /// The topic asked for.
        topic: TopicName,
        /// Its file.
        path: PathBuf,
    },
    /// There is no such log.
    #[error("there is no log `{topic}`, looked for `{}`", path.display())]
    NotFound {
        /// The topic asked for.
        topic: TopicName,
        /// The file looked for.
        path: PathBuf,
    },
    /// The log has to be opened or created first.
    #[error("the log `{topic}` is not open")]
    NotOpen {
        /// The topic asked for.
        topic: TopicName,
    },
    /// The first line is damaged, so nothing says what the log is about.
    #[error("the first line of the log `{}` is damaged", path.display())]
    DamagedHead {
        /// The file.
        path: PathBuf,
        /// What is wrong with the line.
        source: Flaw,
    },
    /// The text given cannot be a line of a log.
    #[error("this text cannot be stored in the log `{topic}`")]
    Unfit {
        /// The topic it was meant for.
        topic: TopicName,
        /// What is wrong with the text.
        source: UnfitLine,
    },
    /// More is waiting for the disk than the queue may hold.
    #[error("the log `{topic}` is overloaded: {records} records, {bytes} bytes wait for the disk")]
    Overloaded {
        /// The topic asked for.
        topic: TopicName,
        /// How many records wait.
        records: usize,
        /// How many bytes wait.
        bytes: usize,
    },
    /// A write failed, now or earlier; what is on disk after that is unknown,
    /// so the log takes no more.
    #[error("the log `{topic}` takes no more records: could not {attempt} `{}`", path.display())]
    Closed {
        /// The topic.
        topic: TopicName,
        /// What failed: "write to".
        attempt: &'static str,
        /// The file.
        path: PathBuf,
        /// What the operating system said at the first failure.
        source: Arc<io::Error>,
    },
    /// The disk takes nothing at the moment. What waits is kept and written as
    /// soon as the disk takes it again.
    #[error("the log `{topic}` waits for the disk: could not {attempt} `{}`", path.display())]
    Stalled {
        /// The topic.
        topic: TopicName,
        /// What failed: "write to".
        attempt: &'static str,
        /// The file.
        path: PathBuf,
        /// What the operating system said.
        source: Arc<io::Error>,
    },
    /// Another program has deleted, replaced or changed the file, so nothing
    /// written to it may be called durable.
    #[error("the log `{topic}` takes no more records: another program has changed `{}`", path.display())]
    Changed {
        /// The topic.
        topic: TopicName,
        /// The file.
        path: PathBuf,
        /// What was found.
        source: FileChange,
    },
    /// There is no record with this number.
    #[error("the log `{topic}` has no record {seq}, the last one is {last}")]
    NoRecord {
        /// The topic.
        topic: TopicName,
        /// The number asked for.
        seq: u64,
        /// The last number given, 0 if none.
        last: u64,
    },
    /// The bus has been shut down.
    #[error("the event log has stopped")]
    Stopped,
}

/// What another program has done to the file of an open log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FileChange {
    /// The name is gone.
    #[error("it was deleted or moved")]
    Gone,
    /// The name is another file's.
    #[error("another file stands in its place")]
    Replaced,
    /// It is shorter or longer than what was written.
    #[error("it is {found} bytes long instead of {expected}")]
    Length {
        /// Its length now.
        found: u64,
        /// The length of what was written.
        expected: u64,
    },
}

impl BusError {
    /// What the person at the host can do about it, one sentence, if there is
    /// something.
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::NoFolder { .. } => Some("create the folder, or name another one"),
            Self::Locked { .. } => {
                Some("stop the other host, or give this one a data folder of its own")
            }
            Self::Disk { source, .. } => match source.kind() {
                io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
                    Some("let this user read and write there, or name another data folder")
                }
                io::ErrorKind::StorageFull => Some("free some disk space"),
                _ => None,
            },
            Self::Exists { .. } => Some("choose another name, or open the existing log"),
            Self::DamagedHead { .. } => {
                Some("put back a copy of the file, or move it out of the data folder")
            }
            Self::Stalled { .. } => {
                Some("free some disk space, or let the host open more files; it goes on by itself")
            }
            Self::Changed { .. } => Some(
                "keep other programs out of the data folder, put the file back, then restart \
                 the host",
            ),
            Self::Closed { source, .. } if source.kind() == io::ErrorKind::StorageFull => {
                Some("free some disk space, then restart the host; no accepted record is lost")
            }
            Self::Closed { .. } => {
                Some("check the disk, then restart the host; no accepted record is lost")
            }
            _ => None,
        }
    }
}
