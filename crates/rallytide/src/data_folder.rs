//! The folder of the matches' logs: found, or made with a note.
//!
//! A new folder is what the first start of an event needs, and what a slip of the
//! fingers gives, too: the host would run without the matches that are meant. So
//! only the folder itself is made, never those above it, and a note says so at once
//! and names the folders beside it that do hold matches.

use std::path::Path;

use anyhow::Context;

use crate::failure::Failure;

/// What every data folder holds: the host log.
const HOST_LOG: &str = "_house.jsonl";

/// How many folders beside a new one are named at most.
const NAMED: usize = 3;

/// Makes the folder where it is missing, and says so on the standard error.
pub(crate) fn make_if_missing(folder: &Path) -> Result<(), Failure> {
    if folder.is_dir() {
        return Ok(());
    }
    let whole = std::path::absolute(folder)
        .with_context(|| format!("could not find the data folder `{}`", folder.display()))
        .map_err(Failure::outside)?;
    let shown = whole.display();
    if whole.exists() {
        return Err(Failure::outside_with(
            anyhow::anyhow!("`{shown}` is no folder, so `data` cannot be there"),
            Some("name a folder"),
        ));
    }
    let above = whole.parent().filter(|above| above.is_dir());
    let Some(above) = above else {
        return Err(Failure::outside_with(
            anyhow::anyhow!("there is no folder in which the data folder `{shown}` could be made"),
            Some("look at the spelling; only the last folder of it is made by itself"),
        ));
    };
    let beside = used_in(above);
    std::fs::create_dir(&whole)
        .with_context(|| format!("could not make the data folder `{shown}`"))
        .map_err(|error| {
            let hint = "name a place that can be written in: `--data DIR`";
            Failure::outside_with(error, Some(hint))
        })?;
    eprintln!("note: the data folder `{shown}` was not there; made it, without matches");
    if !beside.is_empty() {
        eprintln!(
            "hint: matches are kept beside it in {}; if one of these was meant, stop and start \
             with it: `--data DIR`",
            beside.join(", ")
        );
    }
    Ok(())
}

/// The folders in `above` that hold matches, the latest used first.
fn used_in(above: &Path) -> Vec<String> {
    let Ok(entries) = std::fs::read_dir(above) else {
        return Vec::new();
    };
    let mut used: Vec<_> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter_map(|path| {
            let host_log = path.join(HOST_LOG).metadata().ok()?;
            holds_a_match(&path).then_some((host_log.modified().ok(), path))
        })
        .collect();
    used.sort_by(|one, other| other.cmp(one));
    let named = used.iter().take(NAMED);
    named
        .map(|(_, path)| format!("`{}`", path.display()))
        .collect()
}

fn holds_a_match(folder: &Path) -> bool {
    let Ok(mut entries) = std::fs::read_dir(folder) else {
        return false;
    };
    entries.any(|entry| {
        entry.is_ok_and(|entry| {
            let name = entry.file_name();
            let name = name.to_string_lossy();
            name.ends_with(".jsonl") && !name.starts_with('_')
        })
    })
}
