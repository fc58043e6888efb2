//! `rallytide plugin new NAME`: a small project that builds with plain cargo.
//!
//! It holds the kit's sources besides the author's, because the kit is in no
//! package registry. Nothing that exists is written over.

use std::path::{Path, PathBuf};

use anyhow::Context;
use clap::Args;

use super::kit;
use crate::failure::Failure;

#[derive(Debug, Args)]
pub(super) struct NewPlugin {
    /// The plugin's id: lower case letters, digits and `-`, a letter first.
    name: String,
    /// The folder to make [default: NAME, here].
    #[arg(long, value_name = "DIR")]
    dir: Option<PathBuf>,
}

/// The longest id of a plugin, as the host counts.
const NAME_BYTES: usize = rallytide_plugin_host::limits::NAME_BYTES;

/// The files of a project. `{{name}}`, `{{crate}}` and `{{indicator}}`
/// stand for what is made of the name, `{{version}}` for the program's.
const FILES: &[(&str, &str)] = &[
    ("Cargo.toml", include_str!("template/Cargo.toml.in")),
    ("README.md", include_str!("template/README.md.in")),
    (".gitignore", include_str!("template/gitignore.in")),
    ("src/lib.rs", include_str!("template/lib.rs.in")),
    ("tests/rallies.rs", include_str!("template/rallies.rs.in")),
];

pub(super) fn run(options: &NewPlugin) -> Result<(), Failure> {
    check_name(&options.name).map_err(Failure::Usage)?;
    let folder = match &options.dir {
        Some(folder) => folder.clone(),
        None => PathBuf::from(&options.name),
    };
    make(&folder, &options.name)?;
    let built = format!("{}_plugin.wasm", options.name.replace('-', "_"));
    eprintln!(
        "wrote the plugin `{}` to `{}`",
        options.name,
        folder.display()
    );
    eprintln!("next, in that folder:");
    eprintln!("  cargo test");
    eprintln!("  cargo build --release --target wasm32-unknown-unknown");
    eprintln!("  rallytide plugin check target/wasm32-unknown-unknown/release/{built}");
    Ok(())
}

/// The host's rule for an id, told before anything is written.
fn check_name(name: &str) -> Result<(), String> {
    let well_formed = name.starts_with(|first: char| first.is_ascii_lowercase())
        && name.len() <= NAME_BYTES
        && name
            .chars()
            .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
    if well_formed {
        return Ok(());
    }
    Err(format!(
        "`{name}` cannot be the name of a plugin; it is 1 to {NAME_BYTES} lower case letters, \
         digits and `-`, a letter first"
    ))
}

fn make(folder: &Path, name: &str) -> Result<(), Failure> {
    let shown = folder.display();
    std::fs::create_dir(folder)
        .with_context(|| format!("could not make the folder `{shown}`"))
        .map_err(|error| {
            let hint = "name one that does not exist yet, in a folder that does: `--dir DIR`";
            Failure::outside_with(error, Some(hint))
        })?;
    write_project(folder, name)
        .with_context(|| format!("could not write the project to `{shown}`"))
        .map_err(Failure::outside)
}

fn write_project(folder: &Path, name: &str) -> std::io::Result<()> {
    for (path, template) in FILES {
        write(&folder.join(path), filled(template, name).as_bytes())?;
    }
    for (path, bytes) in kit::files() {
        write(&folder.join("kit").join(path), &bytes)?;
    }
    Ok(())
}

/// Writes a file and the folders above it.
fn write(file: &Path, bytes: &[u8]) -> std::io::Result<()> {
    if let Some(folder) = file.parent() {
        std::fs::create_dir_all(folder)?;
    }
    std::fs::write(file, bytes)
}

fn filled(template: &str, name: &str) -> String {
    let snake = name.replace('-', "_");
    template
        .replace("{{name}}", name)
        .replace("{{crate}}", &format!("{snake}_plugin"))
        .replace("{{indicator}}", &snake)
        .replace("{{version}}", env!("CARGO_PKG_VERSION"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_those_that_the_host_takes_as_an_id() {
        for name in ["tilt", "long-rallies", "x2", "fn", "test"] {
            assert_eq!(check_name(name), Ok(()));
        }
        let too_long = "x".repeat(65);
        for name in [
            "", "Tilt", "2tilt", "-x", "a_b", "a.b", "../x", "é", &too_long,
        ] {
            let refused = check_name(name).unwrap_err();
            assert!(refused.contains(&format!("`{name}`")), "{refused}");
        }
    }

    #[test]
    fn what_the_tutorial_makes_in_the_project_stays_out_of_its_repository() {
        let tutorial = include_str!("../../../../../plugins/README.md");
        let folders = tutorial
            .lines()
            .filter_map(|line| line.strip_prefix("mkdir "))
            .flat_map(str::split_whitespace);
        let files = tutorial
            .lines()
            .filter(|line| line.starts_with("rallytide "))
            .filter_map(|line| line.split_once(" > "))
            .map(|(_, file)| file);
        let made: Vec<&str> = folders.chain(files).collect();
        assert!(made.len() >= 3, "the tutorial makes {made:?}");
        let (_, ignored) = FILES
            .iter()
            .find(|(path, _)| *path == ".gitignore")
            .unwrap();
        for name in made {
            let own = ignored
                .lines()
                .any(|line| line.trim_matches('/') == name && line.starts_with('/'));
            assert!(own, "`{name}` is not in the template's `.gitignore`");
        }
    }

    #[test]
    fn every_place_of_a_template_is_filled() {
        for (path, template) in FILES {
            let text = filled(template, "long-rallies");
            assert!(!text.contains("{{"), "{path}: {text}");
        }
    }
}
