//! Which plugins run: the first-party ones inside the binary, and those of a
//! folder. A file in the folder with the id of a first-party plugin replaces it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rallytide_plugin_host::{Ensemble, Run, Workshop, WorkshopConfig};
use rallytide_shelf::{Outcome, Shelf, ShelfError};

use crate::failure::Failure;

pub(crate) use rallytide_plugin_host::Settings;

/// The first-party plugins: package and file, put here by the build script.
const FIRST_PARTY: &[(&str, &[u8])] = include!(concat!(env!("OUT_DIR"), "/first_party.rs"));

/// Loads the plugins and puts them in order.
pub(crate) fn ensemble(
    folder: Option<&Path>,
    settings: &Settings,
) -> Result<Arc<Ensemble>, Failure> {
    Ok(shelf(folder, settings)?.ensemble())
}

/// The plugins with all that is known of them. A file that is refused is said
/// and left out.
pub(crate) fn shelf(folder: Option<&Path>, settings: &Settings) -> Result<Shelf, Failure> {
    let shelf = Shelf::open(
        workshop()?,
        FIRST_PARTY,
        folder.map(Path::to_owned),
        settings.clone(),
        Arc::new(jiff::Timestamp::now),
    )
    .map_err(|error| match error {
        ShelfError::Assemble(_) => Failure::Usage(format!("{:#}", anyhow::Error::new(error))),
        ShelfError::Folder { .. } => Failure::outside_with(error, Some("name an existing folder")),
        ShelfError::BuiltIn(_) => Failure::outside(error),
    })?;
    for attempt in shelf.attempts() {
        match &attempt.outcome {
            Outcome::Refused { message } | Outcome::TurnedDown { message } => {
                eprintln!(
                    "warning: the plugin file `{}` is left out: {message}",
                    attempt.file
                );
            }
            Outcome::Taken | Outcome::Removed => {}
        }
    }
    for suspended in shelf.ensemble().suspended() {
        let missing: Vec<String> = suspended.missing.iter().map(ToString::to_string).collect();
        eprintln!(
            "warning: the plugin `{}` waits for {}",
            suspended.code.id(),
            missing.join(" and ")
        );
    }
    Ok(shelf)
}

/// A workshop with a cache; without one where the folder is not to be had, so
/// that a home folder that cannot be written to costs time and nothing else.
pub(crate) fn workshop() -> Result<Workshop, Failure> {
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
