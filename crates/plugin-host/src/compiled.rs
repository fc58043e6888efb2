//! Compiled code that outlives the process, so that a start costs little.
//!
//! A file of compiled code is machine code: whoever can write it can make the
//! host do anything. So a cache lives in a folder that belongs to the host's own
//! user and that nobody else may write to or look into, files are put there
//! whole or not at all, and each carries the SHA-256 of its code, so that damage
//! is noticed before the code is trusted. The name holds the SHA-256 of the
//! plugin's file and of everything about the engine and about our checks that
//! the code depends on: what is found here needs no check again.
//!
//! What it does not do: defend against the host's own user, who can do anything
//! anyway. `wasmtime` has a cache of its own; it looks after neither the folder's
//! rights nor damaged files, and would bring a compression library written in C.

use std::fs;
use std::hash::{Hash, Hasher};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};
use tempfile::NamedTempFile;
use wasmtime::Engine;
use wasmtime::component::Component;

use crate::fault::HostFault;
use crate::limits::CACHED_FILES;

/// How a file of compiled code starts; its SHA-256 and the code follow.
const MARK: &[u8] = b"rallytide compiled plugin 1\n";
/// What decides whether a file is compiled at all: code in the cache has passed
/// these checks, and under other ones it is not found.
const CHECKS: [&str; 7] = [
    include_str!("file_form.rs"),
    include_str!("description.rs"),
    include_str!("imports.rs"),
    include_str!("type_sections.rs"),
    include_str!("intricacy.rs"),
    include_str!("interface.rs"),
    include_str!("limits.rs"),
];
const DIGEST_BYTES: usize = 32;
const EXTENSION: &str = "compiled";

/// What became of a plugin's compiled code in the cache.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CacheUse {
    /// There is no cache.
    Off,
    /// The code was there.
    Found,
    /// It was compiled and put there.
    Stored,
    /// It was compiled; what was there was damaged and has been replaced.
    Replaced,
    /// It was compiled, but could not be put there; the sentence says why.
    Failed(String),
}

/// A folder of compiled code.
#[derive(Debug)]
pub(crate) struct CompiledCode {
    folder: PathBuf,
    /// Stands for the engine and for the checks that came before it.
    made_by: String,
}

impl CompiledCode {
    /// Opens the folder, and makes it if it is missing.
    ///
    /// # Errors
    /// If it cannot be made or is not the host's alone.
    pub(crate) fn open(folder: &Path, engine: &Engine) -> Result<Self, HostFault> {
        private_folder(folder).map_err(|error| {
            HostFault::new(
                format!("use `{}` for compiled plugins", folder.display()),
                error,
            )
        })?;
        let mut hasher = DigestHasher(Sha256::new());
        engine.precompile_compatibility_hash().hash(&mut hasher);
        CHECKS.hash(&mut hasher);
        Ok(Self {
            folder: folder.to_owned(),
            made_by: HEXLOWER.encode(&hasher.0.finalize()[..8]),
        })
    }

    /// The code of the plugin whose file has this SHA-256; `None` if it is not
    /// there or damaged.
    pub(crate) fn get(&self, engine: &Engine, sha256: &str) -> Option<Component> {
        let code = read(&self.path(sha256)).ok()?;
        crate::trusted::component(engine, &code).ok()
    }

    /// Keeps what `compile` makes of the file of this SHA-256, in place of what
    /// cannot be [got](Self::get).
    pub(crate) fn compile<E>(
        &self,
        sha256: &str,
        compile: impl FnOnce() -> Result<Component, E>,
    ) -> Result<(Component, CacheUse), E> {
        let path = self.path(sha256);
        let damaged = path.exists();
        let component = compile()?;
        let cache_use = match self.store(&path, &component) {
            Ok(()) if damaged => CacheUse::Replaced,
            Ok(()) => CacheUse::Stored,
            Err(problem) => CacheUse::Failed(problem),
        };
        Ok((component, cache_use))
    }

    fn path(&self, sha256: &str) -> PathBuf {
        let Self { folder, made_by } = self;
        folder.join(format!("{sha256}-{made_by}.{EXTENSION}"))
    }

    fn store(&self, path: &Path, component: &Component) -> Result<(), String> {
        let code = component
            .serialize()
            .map_err(|error| crate::wasm_instance::flat(&error))?;
        let problem = |error: io::Error| format!("`{}`: {error}", path.display());
        write_whole(&self.folder, path, &code).map_err(problem)?;
        self.make_room().map_err(problem)
    }

    /// Removes the oldest files beyond the number that is kept.
    fn make_room(&self) -> io::Result<()> {
        let mut files: Vec<(SystemTime, PathBuf)> = Vec::new();
        for entry in fs::read_dir(&self.folder)? {
            let entry = entry?;
            let path = entry.path();
            if path.extension().is_some_and(|it| it == EXTENSION) {
                files.push((entry.metadata()?.modified()?, path));
            }
        }
        files.sort();
        let surplus = files.len().saturating_sub(CACHED_FILES);
        for (_, path) in files.iter().take(surplus) {
            fs::remove_file(path)?;
        }
        Ok(())
    }
}

/// The code of a file whose checksum fits; `InvalidData` where it does not.
fn read(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = fs::read(path)?;
    let start = MARK.len() + DIGEST_BYTES;
    let whole = bytes.strip_prefix(MARK).is_some_and(|rest| {
        rest.split_at_checked(DIGEST_BYTES)
            .is_some_and(|(digest, code)| Sha256::digest(code).as_slice() == digest)
    });
    if !whole {
        return Err(io::ErrorKind::InvalidData.into());
    }
    bytes.drain(..start);
    Ok(bytes)
}

/// Writes a file under another name first, so that nobody reads half of it.
fn write_whole(folder: &Path, path: &Path, code: &[u8]) -> io::Result<()> {
    let mut file = unfinished(folder)?;
    file.write_all(MARK)?;
    file.write_all(&Sha256::digest(code))?;
    file.write_all(code)?;
    file.persist(path).map_err(|failed| failed.error)?;
    Ok(())
}

/// A new file that only the host's user may open; removed unless it is persisted.
fn unfinished(folder: &Path) -> io::Result<NamedTempFile> {
    tempfile::Builder::new().suffix(".tmp").tempfile_in(folder)
}

/// Makes the folder if it is missing, and makes sure that it is the host's
/// alone.
#[cfg(unix)]
fn private_folder(folder: &Path) -> io::Result<()> {
    use std::os::unix::fs::{DirBuilderExt, MetadataExt, PermissionsExt};
    fs::DirBuilder::new()
        .recursive(true)
        .mode(0o700)
        .create(folder)?;
    let found = fs::symlink_metadata(folder)?;
    let other = |problem: String| Err(io::Error::new(io::ErrorKind::PermissionDenied, problem));
    if !found.is_dir() {
        return other("it is no folder (a link to one is not taken)".into());
    }
    let rights = found.permissions().mode() & 0o777;
    if rights & 0o077 != 0 {
        return other(format!(
            "others may look or write into it (its mode is {rights:o}; it has to be 700)"
        ));
    }
    // Asking who we are takes a call into C; asking who owns a file we have just
    // made does not.
    let own = unfinished(folder)?.as_file().metadata()?.uid();
    if found.uid() != own {
        return other(format!(
            "it belongs to user {}, and the host runs as user {own}",
            found.uid()
        ));
    }
    Ok(())
}

/// Where rights are not Unix rights, a folder of the user's is private by the
/// system's own rules.
#[cfg(not(unix))]
fn private_folder(folder: &Path) -> io::Result<()> {
    fs::create_dir_all(folder)
}

/// Feeds what is hashed into a SHA-256: the standard library's hashers promise
/// neither the same result in its next version nor enough bits for a name.
struct DigestHasher(Sha256);

impl Hasher for DigestHasher {
    fn write(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    fn finish(&self) -> u64 {
        let digest = self.0.clone().finalize();
        u64::from_le_bytes(
            digest[..8]
                .try_into()
                .expect("the first 8 of 32 bytes are 8 bytes"),
        )
    }
}

/// The SHA-256 of a file, in hexadecimal digits.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    HEXLOWER.encode(&Sha256::digest(bytes))
}
