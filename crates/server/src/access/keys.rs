//! Who may do what from another machine: one key a role, kept in a file that
//! only its owner can read.
//!
//! A key is 256 random bits of the system's source, written as base64url
//! (RFC 4648, section 5). It is compared in constant time, so that the time of an
//! answer tells nothing about it.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use data_encoding::BASE64URL_NOPAD;
use parking_lot::Mutex;
use serde::{Deserialize, Serialize};
use subtle::ConstantTimeEq;
use tempfile::NamedTempFile;

use super::sessions::{Session, Sessions};

/// The file in the data folder. Its name is none that a log can have.
const FILE: &str = "_keys.json";
const KEY_BYTES: usize = 32;

/// What somebody may do here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(
    feature = "schema",
    derive(ts_rs::TS, schemars::JsonSchema),
    ts(rename = "Role"),
    schemars(rename = "Role")
)]
pub enum Permit {
    /// Everything.
    Desk,
    /// The charters' page, the intake, and what a viewer may.
    Charter,
    /// The commentator's page with its prompts, and what a viewer may.
    Booth,
    /// The graphic and the state.
    Viewer,
}

impl Permit {
    /// Whether who has this permit may do what asks for `needed`.
    #[must_use]
    pub fn allows(self, needed: Self) -> bool {
        self == Self::Desk || self == needed || needed == Self::Viewer
    }
}

/// The keys as they are kept.
#[derive(Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(crate) struct KeySet {
    pub(crate) desk: String,
    pub(crate) charter: String,
    pub(crate) booth: String,
    pub(crate) viewer: String,
}

impl KeySet {
    /// A key that is empty or short would let anybody in.
    fn checked(self) -> Result<Self, serde_json::Error> {
        let keys = [&self.desk, &self.charter, &self.booth, &self.viewer];
        let shortest = BASE64URL_NOPAD.encode_len(KEY_BYTES);
        if keys.iter().any(|key| key.len() < shortest) {
            let problem = format!("a key has fewer than {shortest} characters");
            return Err(serde::de::Error::custom(problem));
        }
        Ok(self)
    }
}

/// The keys of a host.
pub struct Keys {
    file: PathBuf,
    /// Held while the file is written, so that file and memory agree.
    current: Mutex<KeySet>,
    sessions: Sessions,
}

/// Why the keys could not be read or made.
#[derive(Debug, thiserror::Error)]
pub enum KeysError {
    /// The file cannot be read or written.
    #[error("could not {attempt} the file of keys `{}`", file.display())]
    File {
        /// What was attempted.
        attempt: &'static str,
        /// Which file.
        file: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// It holds something else.
    #[error("the file of keys `{}` is damaged", file.display())]
    Damaged {
        /// Which file.
        file: PathBuf,
        /// What does not fit.
        source: serde_json::Error,
    },
    /// The system has no random numbers.
    #[error("the system gave no random numbers for a key")]
    NoRandomness(#[source] getrandom::Error),
}

impl KeysError {
    /// What the person at the host can do about it.
    #[must_use]
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::Damaged { .. } => {
                Some("remove the file: new keys are made, and links made before stop working")
            }
            _ => None,
        }
    }
}

impl Keys {
    /// The keys of a data folder, made if there are none.
    ///
    /// # Errors
    /// If they cannot be read, or made.
    pub fn open(folder: &Path) -> Result<Self, KeysError> {
        let file = folder.join(FILE);
        let current = match fs::read(&file) {
            Ok(bytes) => {
                let read = serde_json::from_slice(&bytes).and_then(KeySet::checked);
                read.map_err(|source| KeysError::Damaged {
                    file: file.clone(),
                    source,
                })?
            }
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                let fresh = KeySet {
                    desk: random_key()?,
                    charter: random_key()?,
                    booth: random_key()?,
                    viewer: random_key()?,
                };
                write(&file, &fresh)?;
                fresh
            }
            Err(source) => {
                return Err(KeysError::File {
                    attempt: "read",
                    file,
                    source,
                });
            }
        };
        Ok(Self {
            file,
            current: Mutex::new(current),
            sessions: Sessions::default(),
        })
    }

    /// What the holder of `key` may do.
    #[must_use]
    pub fn permit(&self, key: &str) -> Option<Permit> {
        let keys = self.current.lock();
        let known = [
            (Permit::Desk, &keys.desk),
            (Permit::Charter, &keys.charter),
            (Permit::Booth, &keys.booth),
            (Permit::Viewer, &keys.viewer),
        ];
        // Every key is compared, whichever fits.
        known.into_iter().fold(None, |found, (permit, known)| {
            let fits = bool::from(known.as_bytes().ct_eq(key.as_bytes()));
            if fits { Some(permit) } else { found }
        })
    }

    /// The key that a permit is given with.
    #[must_use]
    pub fn key(&self, permit: Permit) -> String {
        let keys = self.current.lock();
        match permit {
            Permit::Desk => keys.desk.clone(),
            Permit::Charter => keys.charter.clone(),
            Permit::Booth => keys.booth.clone(),
            Permit::Viewer => keys.viewer.clone(),
        }
    }

    pub(crate) fn all(&self) -> KeySet {
        self.current.lock().clone()
    }

    /// A session with a key that has just been let in to what asks for `needed`.
    /// It has ended already where the key was replaced since.
    pub(super) fn session(&self, key: &str, needed: Permit) -> Session {
        let session = self.sessions.open(key);
        let permit = self.permit(key);
        if !permit.is_some_and(|permit| permit.allows(needed)) {
            self.sessions.end(key);
        }
        session
    }

    /// Makes a new key; links with the old one stop working, and sessions opened
    /// with it end: how many comes back. Blocks for the disk.
    pub(crate) fn renew(&self, permit: Permit) -> Result<usize, KeysError> {
        let mut current = self.current.lock();
        let mut fresh = current.clone();
        let key = match permit {
            Permit::Desk => &mut fresh.desk,
            Permit::Charter => &mut fresh.charter,
            Permit::Booth => &mut fresh.booth,
            Permit::Viewer => &mut fresh.viewer,
        };
        let old = std::mem::replace(key, random_key()?);
        write(&self.file, &fresh)?;
        *current = fresh;
        drop(current);
        Ok(self.sessions.end(&old))
    }
}

fn random_key() -> Result<String, KeysError> {
    let mut bytes = [0; KEY_BYTES];
    getrandom::fill(&mut bytes).map_err(KeysError::NoRandomness)?;
    Ok(BASE64URL_NOPAD.encode(&bytes))
}

/// Writes the keys beside the file, durably and so that only their owner can
/// read them, and then in its place.
fn write(file: &Path, keys: &KeySet) -> Result<(), KeysError> {
    let written = (|| {
        let folder = file
            .parent()
            .ok_or_else(|| io::Error::other("the file has no folder"))?;
        // On Unix with mode 600, whatever the user's mask says.
        let mut new = NamedTempFile::new_in(folder)?;
        serde_json::to_writer_pretty(&mut new, keys)?;
        new.write_all(b"\n")?;
        new.as_file().sync_all()?;
        new.persist(file).map_err(|failed| failed.error)?;
        if cfg!(unix) {
            File::open(folder)?.sync_all()?;
        }
        Ok(())
    })();
    written.map_err(|source| KeysError::File {
        attempt: "write",
        file: file.to_owned(),
        source,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const PERMITS: [Permit; 4] = [Permit::Desk, Permit::Charter, Permit::Booth, Permit::Viewer];

    #[test]
    fn the_keys_are_made_once_are_long_and_differ() {
        let folder = tempfile::tempdir().unwrap();
        let keys = Keys::open(folder.path()).unwrap();
        let again = Keys::open(folder.path()).unwrap();
        let mut seen = std::collections::BTreeSet::new();
        for permit in PERMITS {
            let key = keys.key(permit);
            assert_eq!(key, again.key(permit));
            assert_eq!(BASE64URL_NOPAD.decode(key.as_bytes()).unwrap().len(), 32);
            assert_eq!(keys.permit(&key), Some(permit));
            seen.insert(key);
        }
        assert_eq!(seen.len(), 4);
    }

    #[cfg(unix)]
    #[test]
    fn only_its_owner_can_read_the_file_also_after_a_new_key() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let keys = Keys::open(folder.path()).unwrap();
        let mode = || {
            let file = fs::metadata(folder.path().join(FILE)).unwrap();
            file.permissions().mode() & 0o777
        };
        assert_eq!(mode(), 0o600);
        keys.renew(Permit::Booth).unwrap();
        assert_eq!(mode(), 0o600);
    }

    #[test]
    fn a_renewed_key_works_and_the_old_one_does_not() {
        let folder = tempfile::tempdir().unwrap();
        let keys = Keys::open(folder.path()).unwrap();
        let (old, others) = (keys.key(Permit::Charter), keys.key(Permit::Desk));
        keys.renew(Permit::Charter).unwrap();
        assert_eq!(keys.permit(&old), None);
        assert_eq!(keys.permit(&others), Some(Permit::Desk));
        let kept = Keys::open(folder.path()).unwrap();
        assert_eq!(kept.key(Permit::Charter), keys.key(Permit::Charter));
    }

    #[test]
    fn no_text_but_a_key_permits_anything() {
        let folder = tempfile::tempdir().unwrap();
        let keys = Keys::open(folder.path()).unwrap();
        let mut longer = keys.key(Permit::Desk);
        longer.push('A');
        for text in ["", "A", &longer, &longer[..42]] {
            assert_eq!(keys.permit(text), None, "{text}");
        }
    }

    #[test]
    fn each_permit_allows_what_it_is_for() {
        use Permit::{Booth, Charter, Desk, Viewer};
        let allowed = |permit: Permit| PERMITS.map(|needed| permit.allows(needed));
        assert_eq!(allowed(Desk), [true; 4]);
        assert_eq!(allowed(Charter), [false, true, false, true]);
        assert_eq!(allowed(Booth), [false, false, true, true]);
        assert_eq!(allowed(Viewer), [false, false, false, true]);
    }

    #[test]
    fn a_damaged_file_is_named_with_what_to_do() {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join(FILE), "{").unwrap();
        let error = Keys::open(folder.path()).err().unwrap();
        assert!(error.to_string().contains(FILE) && error.hint().is_some());
    }
}
