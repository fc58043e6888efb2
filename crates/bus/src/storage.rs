//! The files of the logs: the only place that touches the disk.
//!
//! [`Folder`] keeps each topic in `<topic>.jsonl`. Invariants: a log file
//! appears under its name only once its head is on the disk; what
//! [`Storage::read`] returns is on the disk. The trait stands between the
//! engine and the disk so that tests can make a disk fail or stall.
//!
//! It does not know what a line looks like.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use crate::{FileChange, TopicName};

/// The end of a log's file name.
const LOG_SUFFIX: &str = ".jsonl";
/// The end of the name of a log that is being made.
const NEW_SUFFIX: &str = ".jsonl.tmp";
/// The end of the name of the file that collects what was cut off a log.
const TORN_SUFFIX: &str = ".jsonl.torn";

/// The beginning of the end of the name of a log that cannot be read.
const DAMAGED_SUFFIX: &str = ".jsonl.damaged";

/// Where logs are kept.
pub(crate) trait Storage: Send + Sync {
    /// The folder, for messages.
    fn folder(&self) -> PathBuf;

    /// The file of a log, for messages.
    fn path(&self, topic: &TopicName) -> PathBuf;

    /// The logs there are, in any order.
    fn topics(&self) -> io::Result<Vec<TopicName>>;

    /// Makes a log that holds `head`, durably. Refuses to replace one with
    /// [`io::ErrorKind::AlreadyExists`].
    fn create(&self, topic: &TopicName, head: &[u8]) -> io::Result<()>;

    /// Everything a log holds, made durable first: a host that was killed may
    /// have left it written but not synced.
    fn read(&self, topic: &TopicName) -> io::Result<Vec<u8>>;

    /// Takes everything from byte `at` on off a log, after it has been set aside
    /// durably. The cut itself need not be durable before the next sync of the
    /// log: until then, the same tail is found and cut again.
    fn cut(&self, topic: &TopicName, at: u64) -> io::Result<()>;

    /// Renames a log to a name that is no log's and that nothing has yet.
    fn set_aside(&self, topic: &TopicName) -> io::Result<PathBuf>;

    /// A log, opened for appending.
    fn appender(&self, topic: &TopicName) -> io::Result<Box<dyn Appender>>;
}

/// A log file at its end.
pub(crate) trait Appender: Send {
    /// Hands bytes to the operating system.
    fn write(&mut self, bytes: &[u8]) -> io::Result<()>;

    /// Returns once everything written is on the disk.
    fn sync(&mut self) -> io::Result<()>;

    /// Takes back what was written beyond `length` and never synced.
    fn take_back(&mut self, length: u64) -> io::Result<()>;

    /// What another program has done to the log, which has to be `length` long.
    fn change(&self, length: u64) -> io::Result<Option<FileChange>>;
}

/// Logs as files of one folder.
#[derive(Debug)]
pub(crate) struct Folder {
    folder: PathBuf,
}

impl Folder {
    /// A folder that exists. Its listing is made durable first: a host that was
    /// killed may have left a new name written but not synced.
    pub(crate) fn new(folder: &Path) -> io::Result<Self> {
        sync_folder(folder)?;
        let folder = folder.to_owned();
        Ok(Self { folder })
    }

    fn file(&self, topic: &TopicName, suffix: &str) -> PathBuf {
        self.folder.join(format!("{topic}{suffix}"))
    }
}

impl Storage for Folder {
    fn folder(&self) -> PathBuf {
        self.folder.clone()
    }

    fn path(&self, topic: &TopicName) -> PathBuf {
        self.file(topic, LOG_SUFFIX)
    }

    fn topics(&self) -> io::Result<Vec<TopicName>> {
        let mut topics = Vec::new();
        for item in fs::read_dir(&self.folder)? {
            let name = item?.file_name();
            let stem = name.to_str().and_then(|name| name.strip_suffix(LOG_SUFFIX));
            // A name that no topic can have is no log of ours.
            topics.extend(stem.and_then(|stem| TopicName::new(stem).ok()));
        }
        Ok(topics)
    }

    fn create(&self, topic: &TopicName, head: &[u8]) -> io::Result<()> {
        let path = self.path(topic);
        // The folder is ours alone, so nothing can appear after this check.
        if path.try_exists()? {
            return Err(io::ErrorKind::AlreadyExists.into());
        }
        let new = self.file(topic, NEW_SUFFIX);
        let mut file = File::create(&new)?;
        file.write_all(head)?;
        file.sync_all()?;
        drop(file);
        fs::rename(&new, &path)?;
        sync_folder(&self.folder)
    }

    fn read(&self, topic: &TopicName) -> io::Result<Vec<u8>> {
        let mut file = OpenOptions::new()
            .read(true)
            .write(true)
            .open(self.path(topic))?;
        file.sync_data()?;
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn cut(&self, topic: &TopicName, at: u64) -> io::Result<()> {
        let mut log = OpenOptions::new()
            .read(true)
            .write(true)
            .open(self.path(topic))?;
        log.seek(SeekFrom::Start(at))?;
        let mut torn = OpenOptions::new()
            .append(true)
            .create(true)
            .open(self.file(topic, TORN_SUFFIX))?;
        io::copy(&mut log, &mut torn)?;
        torn.write_all(b"\n")?;
        torn.sync_all()?;
        sync_folder(&self.folder)?;
        log.set_len(at)
    }

    fn set_aside(&self, topic: &TopicName) -> io::Result<PathBuf> {
        for number in 1_u32.. {
            let aside = self.file(topic, &format!("{DAMAGED_SUFFIX}-{number}"));
            if aside.try_exists()? {
                continue;
            }
            fs::rename(self.path(topic), &aside)?;
            sync_folder(&self.folder)?;
            return Ok(aside);
        }
        Err(io::ErrorKind::AlreadyExists.into())
    }

    fn appender(&self, topic: &TopicName) -> io::Result<Box<dyn Appender>> {
        let path = self.path(topic);
        let file = OpenOptions::new().append(true).open(&path)?;
        Ok(Box::new(LogFile { file, path }))
    }
}

/// A log file, and the name it has to keep.
struct LogFile {
    file: File,
    path: PathBuf,
}

impl Appender for LogFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.write_all(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        // `fdatasync`: the length of the file counts as data, its times do not.
        self.file.sync_data()
    }

    fn take_back(&mut self, length: u64) -> io::Result<()> {
        self.file.set_len(length)
    }

    fn change(&self, length: u64) -> io::Result<Option<FileChange>> {
        let named = match fs::metadata(&self.path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                return Ok(Some(FileChange::Gone));
            }
            named => named?,
        };
        let open = self.file.metadata()?;
        if !is_same_file(&open, &named) {
            return Ok(Some(FileChange::Replaced));
        }
        let found = open.len();
        Ok((found != length).then_some(FileChange::Length {
            found,
            expected: length,
        }))
    }
}

#[cfg(unix)]
fn is_same_file(one: &fs::Metadata, other: &fs::Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    (one.dev(), one.ino()) == (other.dev(), other.ino())
}

/// Elsewhere the standard library does not tell which file it is; the moment it
/// was made and its length have to do.
#[cfg(not(unix))]
fn is_same_file(one: &fs::Metadata, other: &fs::Metadata) -> bool {
    (one.created().ok(), one.len()) == (other.created().ok(), other.len())
}

/// Makes the names in a folder durable.
#[cfg(unix)]
fn sync_folder(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}

/// Makes the names in a folder durable: elsewhere a folder cannot be synced, and
/// the file systems write names in order with what was synced after them.
#[cfg(not(unix))]
fn sync_folder(folder: &Path) -> io::Result<()> {
    fs::metadata(folder).map(drop)
}
