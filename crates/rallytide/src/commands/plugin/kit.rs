//! The plugin kit as it is built into the program: a new project gets its
//! sources, because the kit is in no package registry.
//!
//! The copy belongs to this version of the program and so does the interface in
//! it; a test keeps its `Cargo.toml` in step with the kit's own.

use std::borrow::Cow;
use std::path::PathBuf;

use rust_embed::RustEmbed;

/// The kit's sources and interface, by their path in its folder.
#[derive(RustEmbed)]
#[folder = "../plugin-kit/"]
#[include = "src/*.rs"]
#[include = "src/**/*.rs"]
#[include = "wit/v1/plugin.wit"]
struct KitSources;

/// The kit's `Cargo.toml` outside this workspace.
const CARGO_TOML: &str = include_str!("template/kit.toml");

/// The kit's files, by their path in its folder.
pub(super) fn files() -> impl Iterator<Item = (PathBuf, Cow<'static, [u8]>)> {
    let sources = KitSources::iter().filter_map(|path| {
        let source = KitSources::get(&path)?;
        Some((PathBuf::from(&*path), source.data))
    });
    let manifest = ("Cargo.toml".into(), CARGO_TOML.as_bytes().into());
    sources.chain([manifest])
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;

    fn read(text: &str) -> toml::Table {
        text.parse().unwrap()
    }

    #[test]
    fn the_copy_depends_on_what_the_kit_depends_on() {
        let here = Path::new(env!("CARGO_MANIFEST_DIR"));
        let file = |path: &str| read(&std::fs::read_to_string(here.join(path)).unwrap());
        let workspace = file("../../Cargo.toml")["workspace"].clone();
        let own = file("../plugin-kit/Cargo.toml");
        let copy = read(CARGO_TOML);
        assert_eq!(copy["package"]["name"], own["package"]["name"]);
        for key in ["version", "edition", "rust-version", "license"] {
            assert_eq!(copy["package"][key], workspace["package"][key], "{key}");
        }
        let names = |table: &toml::Table| -> Vec<String> {
            table["dependencies"]
                .as_table()
                .unwrap()
                .keys()
                .cloned()
                .collect()
        };
        assert_eq!(names(&copy), names(&own));
        for name in names(&own) {
            let inherited = &workspace["dependencies"][&name];
            assert_eq!(copy["dependencies"][&name], *inherited, "{name}");
        }
    }

    #[test]
    fn every_source_of_the_kit_is_among_its_files() {
        let files: Vec<PathBuf> = files().map(|(path, _)| path).collect();
        for file in [
            "Cargo.toml",
            "src/lib.rs",
            "src/testing/script.rs",
            "wit/v1/plugin.wit",
        ] {
            assert!(files.contains(&file.into()), "{file} is missing");
        }
    }
}
