//! The registry itself: files in, a plugin set out.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

use rallytide_plugin_host::limits::COMPONENT_BYTES;
use rallytide_plugin_host::{
    AssembleError, Manifest, PluginCode, PluginFault, PluginLoader, PluginRefused, PluginSet,
    PluginSettings, RefusedReason, Settings,
};
use serde::Serialize;

use crate::attempt::{Clock, LoadAttempt, LoadOutcome, Objection};

/// How many attempts are kept; the oldest go first.
const ATTEMPTS_KEPT: usize = 200;

/// Runs a set of plugins on what is being played, without anybody seeing it,
/// and gives the faults they had.
pub type TrialRun<'a> = &'a dyn Fn(&PluginSet) -> Vec<PluginFault>;

/// Which plugins run, and why.
pub struct PluginRegistry {
    loader: PluginLoader,
    built_in: Vec<PluginCode>,
    folder: Option<PathBuf>,
    files: BTreeMap<PathBuf, KnownFile>,
    off: BTreeSet<String>,
    settings: Settings,
    plugin_set: Arc<PluginSet>,
    attempts: VecDeque<LoadAttempt>,
    clock: Clock,
}

/// A file as it was last looked at.
struct KnownFile {
    stamp: Stamp,
    /// What runs from it: the last version that was taken.
    code: Option<PluginCode>,
}

/// What tells that a file has changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Stamp {
    length: u64,
    modified: Option<SystemTime>,
}

/// A plugin as the desk shows it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct RegisteredPlugin {
    /// What it is.
    #[serde(flatten)]
    pub manifest: Manifest,
    /// The file it comes from, or the name it has in the program.
    pub file: String,
    /// Whether it is built into the program.
    pub built_in: bool,
    /// The SHA-256 of the file, in hexadecimal digits.
    pub sha256: String,
    /// Its size in bytes.
    pub size: usize,
    /// Whether it is switched on.
    pub on: bool,
    /// What was chosen for its settings; what is not here has its default.
    pub chosen: Option<PluginSettings>,
}

/// Why a registry could not be set up.
#[derive(Debug, thiserror::Error)]
pub enum RegistryError {
    /// A plugin inside the program is at fault.
    #[error("a plugin inside this program cannot be loaded")]
    BuiltIn(#[from] PluginRefused),
    /// The built-in plugins do not fit each other or their settings.
    #[error("the plugins cannot be put together")]
    Assemble(#[from] AssembleError),
    /// The folder cannot be read.
    #[error("could not list the plugin folder `{}`", folder.display())]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
}

/// Why a plugin could not be switched or set.
#[derive(Debug, thiserror::Error)]
pub enum SwitchError {
    /// There is no such plugin.
    #[error("there is no plugin `{0}`")]
    Unknown(String),
    /// The plugins would not fit each other, or a setting is out of range.
    #[error("the plugins do not fit together with this change")]
    Assemble(#[from] AssembleError),
    /// The plugin failed on what is being played.
    #[error("with this change the plugin fails on the match being played: {0}")]
    Trial(String),
}

impl PluginRegistry {
    /// Sets the registry up with the built-in plugins (name and bytes) and what lies
    /// in the folder. Nothing is being played yet, so there is no trial.
    ///
    /// # Errors
    /// If the built-in plugins are not sound, their settings out of range, or
    /// the folder cannot be listed. A file in the folder that is not sound is an
    /// attempt with its outcome, and no error.
    pub fn open(
        loader: PluginLoader,
        built_in: &[(&str, &[u8])],
        folder: Option<PathBuf>,
        settings: Settings,
        clock: Clock,
    ) -> Result<Self, RegistryError> {
        let built_in = built_in
            .iter()
            .map(|(name, bytes)| loader.load(name, bytes))
            .collect::<Result<Vec<_>, _>>()?;
        let plugin_set = Arc::new(PluginSet::assemble(built_in.clone(), &settings)?);
        let mut registry = Self {
            loader,
            built_in,
            folder,
            files: BTreeMap::new(),
            off: BTreeSet::new(),
            settings,
            plugin_set,
            attempts: VecDeque::new(),
            clock,
        };
        registry.take_changes(&|_| Vec::new())?;
        registry.forget_the_oldest();
        Ok(registry)
    }

    /// The plugins that run.
    #[must_use]
    pub fn plugin_set(&self) -> Arc<PluginSet> {
        Arc::clone(&self.plugin_set)
    }

    /// Every attempt that is kept, the oldest first.
    pub fn attempts(&self) -> impl Iterator<Item = &LoadAttempt> {
        self.attempts.iter()
    }

    /// Every plugin there is, switched on or off, by id.
    #[must_use]
    pub fn plugins(&self) -> Vec<RegisteredPlugin> {
        let mut shown: Vec<RegisteredPlugin> = Vec::new();
        let from_files = self.files.values().filter_map(|file| file.code.as_ref());
        for (code, built_in) in from_files
            .map(|code| (code, false))
            .chain(self.built_in.iter().map(|code| (code, true)))
        {
            let id = code.id().as_str();
            if shown.iter().any(|one| *one.manifest.id == *id) {
                continue;
            }
            shown.push(RegisteredPlugin {
                manifest: code.manifest().clone(),
                file: code.file().to_owned(),
                built_in,
                sha256: code.sha256().to_owned(),
                size: code.size(),
                on: !self.off.contains(id),
                chosen: self.settings.get(id).cloned(),
            });
        }
        shown.sort_by(|one, other| one.manifest.id.cmp(&other.manifest.id));
        shown
    }

    /// Looks at the folder and takes what has changed, each file after its own
    /// trial. The new plugin set comes back if there is one. What became of each
    /// file is written to the log; of those that [`PluginRegistry::open`] found, the
    /// caller tells.
    ///
    /// # Errors
    /// If the folder cannot be listed; what ran goes on.
    pub fn look(&mut self, trial: TrialRun<'_>) -> Result<Option<Arc<PluginSet>>, RegistryError> {
        let before = self.attempts.len();
        let changed = self.take_changes(trial);
        self.attempts.iter().skip(before).for_each(LoadAttempt::log);
        self.forget_the_oldest();
        changed
    }

    fn forget_the_oldest(&mut self) {
        let too_many = self.attempts.len().saturating_sub(ATTEMPTS_KEPT);
        self.attempts.drain(..too_many);
    }

    fn take_changes(
        &mut self,
        trial: TrialRun<'_>,
    ) -> Result<Option<Arc<PluginSet>>, RegistryError> {
        let Some(folder) = self.folder.clone() else {
            return Ok(None);
        };
        let found = list(&folder).map_err(|source| RegistryError::Folder { folder, source })?;
        let before = Arc::clone(&self.plugin_set);
        let gone: Vec<PathBuf> = self
            .files
            .keys()
            .filter(|path| !found.contains_key(*path))
            .cloned()
            .collect();
        for path in gone {
            self.remove(&path);
        }
        for (path, stamp) in found {
            if self
                .files
                .get(&path)
                .is_none_or(|known| known.stamp != stamp)
            {
                self.try_file(&path, stamp, trial);
            }
        }
        let changed = !Arc::ptr_eq(&before, &self.plugin_set);
        Ok(changed.then(|| Arc::clone(&self.plugin_set)))
    }

    /// Switches a plugin on or off.
    ///
    /// # Errors
    /// If there is no such plugin, or it does not fit or fails when it comes
    /// back; it stays off then.
    pub fn switch(
        &mut self,
        plugin: &str,
        on: bool,
        trial: TrialRun<'_>,
    ) -> Result<Arc<PluginSet>, SwitchError> {
        self.known(plugin)?;
        let before = self.off.clone();
        if on {
            self.off.remove(plugin);
        } else {
            self.off.insert(plugin.to_owned());
        }
        let settings = self.settings.clone();
        self.change(plugin, settings, trial)
            .inspect_err(|_| self.off = before)
    }

    /// Chooses settings for a plugin; what is not named has its default.
    ///
    /// # Errors
    /// If there is no such plugin, a setting is out of its range, or the plugin
    /// fails that way; the settings stay as they were then.
    pub fn set(
        &mut self,
        plugin: &str,
        chosen: PluginSettings,
        trial: TrialRun<'_>,
    ) -> Result<Arc<PluginSet>, SwitchError> {
        self.known(plugin)?;
        let mut settings = self.settings.clone();
        settings.insert(plugin.to_owned(), chosen);
        self.change(plugin, settings, trial)
    }

    fn known(&self, plugin: &str) -> Result<(), SwitchError> {
        let known = self.plugins().iter().any(|one| *one.manifest.id == *plugin);
        if known {
            Ok(())
        } else {
            Err(SwitchError::Unknown(plugin.to_owned()))
        }
    }

    fn change(
        &mut self,
        plugin: &str,
        settings: Settings,
        trial: TrialRun<'_>,
    ) -> Result<Arc<PluginSet>, SwitchError> {
        let candidate = PluginSet::assemble(self.codes(None), &settings)?;
        if let Some(fault) = own_fault(&trial(&candidate), plugin) {
            return Err(SwitchError::Trial(fault.to_string()));
        }
        self.settings = settings;
        self.plugin_set = Arc::new(candidate);
        Ok(Arc::clone(&self.plugin_set))
    }

    /// The plugins that are switched on: those of files in front of built-in
    /// ones with their ids. `instead` stands for the file of its path.
    fn codes(&self, instead: Option<(&Path, &PluginCode)>) -> Vec<PluginCode> {
        let mut codes: Vec<PluginCode> = Vec::new();
        if let Some((_, code)) = instead {
            codes.push(code.clone());
        }
        for (path, file) in &self.files {
            if instead.is_none_or(|(other, _)| other != path) {
                codes.extend(file.code.clone());
            }
        }
        for own in &self.built_in {
            if codes.iter().all(|code| code.id() != own.id()) {
                codes.push(own.clone());
            }
        }
        codes.retain(|code| !self.off.contains(code.id().as_str()));
        codes
    }

    fn remove(&mut self, path: &Path) {
        let Some(file) = self.files.remove(path) else {
            return;
        };
        let Some(code) = file.code else { return };
        match PluginSet::assemble(self.codes(None), &self.settings) {
            Ok(plugin_set) => self.plugin_set = Arc::new(plugin_set),
            // What is left was put together before, with one plugin more or
            // another one in a built-in one's place.
            Err(error) => tracing::error!(%error, "the plugins left do not fit each other"),
        }
        self.note(path, Some(&code), LoadOutcome::Removed);
    }

    fn try_file(&mut self, path: &Path, stamp: Stamp, trial: TrialRun<'_>) {
        let loaded = read_plugin(path).and_then(|bytes| {
            let code = self.loader.load(&file_name(path), &bytes);
            code.map_err(|refused| Objection {
                message: chain(&refused),
                hint: refused.hint(),
            })
        });
        let file = self
            .files
            .entry(path.to_owned())
            .or_insert(KnownFile { stamp, code: None });
        file.stamp = stamp;
        match loaded {
            Err(objection) => self.note(path, None, LoadOutcome::Refused(objection)),
            Ok(code) => {
                let outcome = match self.take(path, &code, trial) {
                    Ok(()) => LoadOutcome::Taken,
                    Err(objection) => LoadOutcome::TurnedDown(objection),
                };
                self.note(path, Some(&code), outcome);
            }
        }
    }

    fn take(
        &mut self,
        path: &Path,
        code: &PluginCode,
        trial: TrialRun<'_>,
    ) -> Result<(), Objection> {
        let codes = self.codes(Some((path, code)));
        let candidate = PluginSet::assemble(codes, &self.settings).map_err(|error| Objection {
            message: chain(&error),
            hint: error.hint().map(str::to_owned),
        })?;
        if let Some(fault) = own_fault(&trial(&candidate), code.id().as_str()) {
            return Err(Objection {
                message: fault.to_string(),
                hint: fault.kind.hint().map(str::to_owned),
            });
        }
        if let Some(file) = self.files.get_mut(path) {
            file.code = Some(code.clone());
        }
        self.plugin_set = Arc::new(candidate);
        Ok(())
    }

    fn note(&mut self, path: &Path, code: Option<&PluginCode>, outcome: LoadOutcome) {
        self.attempts.push_back(LoadAttempt {
            at: (self.clock)(),
            file: file_name(path),
            plugin: code.map(|code| code.id().to_string()),
            version: code.map(|code| code.manifest().version.clone()),
            outcome,
        });
    }
}

/// The first fault of the plugin itself; what others do is not its doing.
fn own_fault<'a>(faults: &'a [PluginFault], plugin: &str) -> Option<&'a PluginFault> {
    faults.iter().find(|fault| *fault.plugin == *plugin)
}

/// The plugin files of a folder with their stamps.
fn list(folder: &Path) -> std::io::Result<BTreeMap<PathBuf, Stamp>> {
    let mut found = BTreeMap::new();
    for entry in std::fs::read_dir(folder)? {
        let path = entry?.path();
        let is_plugin = path.extension().is_some_and(|ending| ending == "wasm");
        // A file that has gone since it was listed is simply not there.
        let Ok(about) = path.metadata() else { continue };
        if is_plugin && about.is_file() {
            let stamp = Stamp {
                length: about.len(),
                modified: about.modified().ok(),
            };
            found.insert(path, stamp);
        }
    }
    Ok(found)
}

/// Reads a plugin file; one that is longer than any plugin may be is refused by
/// its length, before it fills the memory.
fn read_plugin(path: &Path) -> Result<Vec<u8>, Objection> {
    let mut bytes = Vec::new();
    let length = File::open(path)
        .and_then(|file| {
            let length = file.metadata()?.len();
            file.take(COMPONENT_BYTES as u64 + 1)
                .read_to_end(&mut bytes)?;
            Ok(length)
        })
        .map_err(|error| Objection {
            message: format!("could not read the file: {error}"),
            hint: Some("let the host read it, or copy it again".into()),
        })?;
    if bytes.len() <= COMPONENT_BYTES {
        return Ok(bytes);
    }
    let refused = PluginRefused {
        file: file_name(path),
        reason: RefusedReason::TooBig {
            size: usize::try_from(length).unwrap_or(usize::MAX),
            form: "component",
            limit: COMPONENT_BYTES,
        },
    };
    Err(Objection {
        message: chain(&refused),
        hint: refused.hint(),
    })
}

fn file_name(path: &Path) -> String {
    path.file_name()
        .unwrap_or(path.as_os_str())
        .to_string_lossy()
        .into_owned()
}

/// An error with its causes, on one line.
fn chain(error: &dyn std::error::Error) -> String {
    let mut text = error.to_string();
    let mut cause = error.source();
    while let Some(error) = cause {
        text = format!("{text}: {error}");
        cause = error.source();
    }
    text
}
