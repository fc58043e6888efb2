//! Which plugins run: the first-party ones inside the binary, and those of a
//! folder. A file in the folder with the id of a first-party plugin replaces it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::Context;
use rallytide_plugin_host::{Ensemble, PluginCode, Run, Workshop, WorkshopConfig};

use crate::failure::Failure;

pub(crate) use rallytide_plugin_host::Settings;

/// The first-party plugins: package and file, put here by the build script.
const FIRST_PARTY: &[(&str, &[u8])] = include!(concat!(env!("OUT_DIR"), "/first_party.rs"));

/// Loads the plugins and puts them in order.
pub(crate) fn ensemble(
    folder: Option<&Path>,
    settings: &Settings,
) -> Result<Arc<Ensemble>, Failure> {
    let workshop = workshop()?;
    let mut plugins = Vec::new();
    for (name, bytes) in FIRST_PARTY {
        plugins.push(workshop.load(name, bytes).map_err(Failure::outside)?);
    }
    if let Some(folder) = folder {
        for plugin in load_folder(&workshop, folder)? {
            plugins.retain(|own: &PluginCode| own.manifest().id != plugin.manifest().id);
            plugins.push(plugin);
        }
    }
    let ensemble = Ensemble::assemble(plugins, settings)
        .map_err(|error| Failure::Usage(format!("{:#}", anyhow::Error::new(error))))?;
    for suspended in ensemble.suspended() {
        let missing: Vec<String> = suspended.missing.iter().map(ToString::to_string).collect();
        eprintln!(
            "warning: the plugin `{}` waits for {}",
            suspended.code.id(),
            missing.join(" and ")
        );
    }
    Ok(Arc::new(ensemble))
}

/// A workshop with a cache; without one where the folder is not to be had, so
/// that a home folder that cannot be written to costs time and nothing else.
fn workshop() -> Result<Workshop, Failure> {
    if let Some(cache) = cache_folder() {
        match Workshop::new(&WorkshopConfig { cache: Some(cache) }) {
            Ok(workshop) => return Ok(workshop),
            Err(error) => tracing::warn!(
                "compiled plugins are not kept: {:#}",
                anyhow::Error::new(error)
            ),
        }
    }
    Workshop::new(&WorkshopConfig { cache: None }).map_err(Failure::outside)
}

/// Loads every `*.wasm` of a folder, by name. One that is refused is said and
/// left out.
fn load_folder(workshop: &Workshop, folder: &Path) -> Result<Vec<PluginCode>, Failure> {
    let listed = std::fs::read_dir(folder)
        .and_then(|entries| {
            entries
                .map(|entry| Ok(entry?.path()))
                .collect::<Result<Vec<_>, _>>()
        })
        .with_context(|| format!("could not list the plugin folder `{}`", folder.display()));
    let mut files: Vec<PathBuf> =
        listed.map_err(|error| Failure::outside_with(error, Some("name an existing folder")))?;
    files.retain(|file| file.extension().is_some_and(|ending| ending == "wasm"));
    files.sort();
    let mut plugins = Vec::new();
    for file in files {
        let name = file.display().to_string();
        let bytes = std::fs::read(&file)
            .with_context(|| format!("could not read the plugin `{name}`"))
            .map_err(Failure::outside)?;
        match workshop.load(&name, &bytes) {
            Ok(plugin) => plugins.push(plugin),
            Err(refused) => {
                eprintln!("warning: {:#}", anyhow::Error::new(refused));
            }
        }
    }
    Ok(plugins)
}

/// Says which plugins were stopped on the way; a command whose output lacks
/// their readings has not done its work.
pub(crate) fn report_faults(run: &Run) -> Result<(), Failure> {
    let mut stopped = false;
    for (plugin, message) in run.unavailable() {
        eprintln!("warning: the plugin `{plugin}` was stopped: {message}");
        stopped = true;
    }
    if stopped {
        return Err(Failure::input(
            "the output lacks the readings of the plugins named above",
        ));
    }
    Ok(())
}

/// Where compiled plugins are kept between runs, if the system says where such
/// things belong.
fn cache_folder() -> Option<PathBuf> {
    let base = match std::env::var_os("XDG_CACHE_HOME") {
        Some(folder) if !folder.is_empty() => PathBuf::from(folder),
        _ => PathBuf::from(std::env::var_os("HOME")?).join(".cache"),
    };
    Some(base.join("rallytide"))
}
