//! Which plugins run: the first-party ones inside the binary, and those of a
//! folder. A file in the folder with the id of a first-party plugin replaces it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rallytide_plugin_host::{LoaderConfig, PluginLoader, PluginSet, Run};
use rallytide_plugin_registry::{LoadOutcome, Objection, PluginRegistry, RegistryError};

use crate::failure::Failure;

pub(crate) use rallytide_plugin_host::Settings;

/// The first-party plugins: package and file, put here by the build script.
const FIRST_PARTY: &[(&str, &[u8])] = include!(concat!(env!("OUT_DIR"), "/first_party.rs"));

/// Loads the plugins and puts them in order.
pub(crate) fn plugin_set(
    folder: Option<&Path>,
    settings: &Settings,
) -> Result<Arc<PluginSet>, Failure> {
    Ok(registry(folder, settings)?.plugin_set())
}

/// The plugins with all that is known of them. A file that is refused is
/// reported and left out.
pub(crate) fn registry(
    folder: Option<&Path>,
    settings: &Settings,
) -> Result<PluginRegistry, Failure> {
    let registry = PluginRegistry::open(
        loader()?,
        FIRST_PARTY,
        folder.map(Path::to_owned),
        settings.clone(),
        rallytide_bus::system_clock(),
    )
    .map_err(|error| match error {
        RegistryError::Assemble(_) => Failure::Usage(format!("{:#}", anyhow::Error::new(error))),
        RegistryError::Folder { .. } => {
            Failure::outside_with(error, Some("name an existing folder"))
        }
        RegistryError::BuiltIn(_) => Failure::outside(error),
    })?;
    for attempt in registry.attempts() {
        match &attempt.outcome {
            LoadOutcome::Refused(Objection { message, hint })
            | LoadOutcome::TurnedDown(Objection { message, hint }) => {
                eprintln!(
                    "warning: the plugin file `{}` is left out: {message}",
                    attempt.file
                );
                if let Some(hint) = hint {
                    eprintln!("hint: {hint}");
                }
            }
            LoadOutcome::Taken | LoadOutcome::Removed => {}
        }
    }
    for suspended in registry.plugin_set().suspended() {
        let missing: Vec<String> = suspended.missing.iter().map(ToString::to_string).collect();
        eprintln!(
            "warning: the plugin `{}` waits for {}",
            suspended.code.id(),
            missing.join(" and ")
        );
    }
    Ok(registry)
}

/// A loader with a cache; without one where there is no such folder, so
/// that a home folder that cannot be written to costs time and nothing else.
pub(crate) fn loader() -> Result<PluginLoader, Failure> {
    if let Some(cache) = cache_folder() {
        match PluginLoader::new(&LoaderConfig { cache: Some(cache) }) {
            Ok(loader) => return Ok(loader),
            Err(error) => tracing::warn!(
                "compiled plugins are not kept: {:#}",
                anyhow::Error::new(error)
            ),
        }
    }
    PluginLoader::new(&LoaderConfig { cache: None }).map_err(Failure::outside)
}

/// Says which plugins were stopped on the way; a command whose output lacks
/// their readings has not done its work.
pub(crate) fn report_faults(run: &Run) -> Result<(), Failure> {
    let mut stopped = false;
    for (_, message) in run.unavailable() {
        eprintln!("warning: {message}");
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

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::path::PathBuf;

    use rallytide_chart::Chart;
    use rallytide_court::walk_readings;
    use rallytide_readings::{KnownIndicator, Name};
    use sha2::{Digest, Sha256};

    use super::*;

    /// The invented matches that come along, by the name of the file.
    fn demo_charts() -> Vec<(PathBuf, Chart)> {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-streams");
        let files = std::fs::read_dir(folder).unwrap();
        let mut charts: Vec<(PathBuf, Chart)> = files
            .map(|file| file.unwrap().path())
            .filter(|path| path.extension().is_some_and(|ending| ending == "jsonl"))
            .map(|path| {
                let chart = crate::input::read_chart(&path).unwrap();
                (path, chart)
            })
            .collect();
        charts.sort_by(|one, other| one.0.cmp(&other.0));
        assert!(charts.len() >= 5, "{} demo matches", charts.len());
        charts
    }

    /// A digest of every value that an entry changed and of all readings at the
    /// end, and the fuel of every plugin.
    fn shown(chart: &Chart, plugin_set: &PluginSet) -> (Vec<u8>, Vec<(String, u64, u64)>) {
        let mut digest = Sha256::new();
        let run = walk_readings(chart, plugin_set, |entry, run| {
            digest.update(entry.id.as_str());
            for reading in run.readings().filter(|it| it.seq == entry.seq) {
                digest.update(serde_json::to_vec(reading).unwrap());
            }
        });
        for reading in run.readings() {
            digest.update(serde_json::to_vec(reading).unwrap());
        }
        assert_eq!(run.faults(), []);
        let health = run.health().into_iter();
        let fuel = health.map(|it| (it.plugin.to_string(), it.fuel, it.calls));
        (digest.finalize().to_vec(), fuel.collect())
    }

    fn loaded(cache: Option<PathBuf>) -> PluginSet {
        let loader = PluginLoader::new(&LoaderConfig { cache }).unwrap();
        let load = |(name, bytes): &(&str, &[u8])| loader.load(name, bytes).unwrap();
        PluginSet::assemble(FIRST_PARTY.iter().map(load).collect(), &Settings::new()).unwrap()
    }

    #[test]
    fn the_indicators_that_the_host_knows_are_those_of_the_first_party_plugins() {
        let plugin_set = loaded(None);
        let provided: BTreeSet<&str> = plugin_set
            .plugins()
            .flat_map(|plugin| plugin.manifest().provides.iter().map(Name::as_str))
            .collect();
        let known = KnownIndicator::ALL.iter().map(|known| known.name());
        assert_eq!(known.collect::<BTreeSet<&str>>(), provided);
    }

    #[test]
    fn a_hundred_runs_of_the_demo_matches_give_the_same_readings_for_the_same_fuel() {
        let cache = tempfile::tempdir().unwrap();
        let compiled = cache.path().join("compiled");
        let first = loaded(None);
        // Compiled once more and kept, then taken from what was kept.
        let reloaded = [loaded(Some(compiled.clone())), loaded(Some(compiled))];
        let expected: Vec<_> = demo_charts()
            .into_iter()
            .map(|(path, chart)| {
                let expected = shown(&chart, &first);
                for again in &reloaded {
                    assert_eq!(shown(&chart, again), expected, "{}", path.display());
                }
                (path, chart, expected)
            })
            .collect();
        for (path, chart, expected) in expected.iter().cycle().take(100) {
            assert_eq!(shown(chart, &first), *expected, "{}", path.display());
        }
    }
}
