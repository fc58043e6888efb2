//! Compiled code that outlives the process.

use std::path::{Path, PathBuf};

use rallytide_plugin_host::{CacheUse, LoaderConfig, PluginCode, PluginLoader, Settings};
use tempfile::TempDir;

use crate::support::{chart, guest, load, play, untimed};

fn loader(folder: &Path) -> PluginLoader {
    let config = LoaderConfig {
        cache: Some(folder.to_owned()),
    };
    PluginLoader::new(&config).unwrap()
}

fn load_with(folder: &Path) -> PluginCode {
    loader(folder)
        .load("counts.wasm", &guest("counts"))
        .unwrap()
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let files = std::fs::read_dir(folder).unwrap();
    files.map(|entry| entry.unwrap().path()).collect()
}

#[test]
fn compiled_code_is_kept_and_found_again_and_does_the_same() {
    let folder = TempDir::new().unwrap();
    let cache = folder.path().join("compiled");
    let first = load_with(&cache);
    assert_eq!(*first.cache_use(), CacheUse::Stored);
    assert_eq!(files(&cache).len(), 1, "no unfinished files are left");
    let again = load_with(&cache);
    assert_eq!(*again.cache_use(), CacheUse::Found);
    let compiled = play(vec![load("counts")], &Settings::new(), &chart(2));
    let found = play(vec![again], &Settings::new(), &chart(2));
    assert_eq!(found.readings, compiled.readings);
    assert_eq!(untimed(&found.run), untimed(&compiled.run));
}

#[test]
fn a_file_that_is_refused_is_refused_again() {
    let folder = TempDir::new().unwrap();
    let cache = folder.path().join("compiled");
    let cut = &guest("counts")[..2000];
    for _ in 0..2 {
        assert!(loader(&cache).load("cut.wasm", cut).is_err());
    }
    assert!(files(&cache).is_empty(), "nothing is kept of it");
}

#[test]
fn another_file_is_not_found_under_the_first_ones_name() {
    let folder = TempDir::new().unwrap();
    let cache = folder.path().join("compiled");
    load_with(&cache);
    let other = loader(&cache)
        .load("echoes.wasm", &guest("echoes"))
        .unwrap();
    assert_eq!(*other.cache_use(), CacheUse::Stored);
    assert_eq!(other.manifest().id, "echoes");
    assert_eq!(files(&cache).len(), 2);
}

#[test]
fn damaged_code_is_never_used_and_is_replaced() {
    let folder = TempDir::new().unwrap();
    let cache = folder.path().join("compiled");
    load_with(&cache);
    let file = files(&cache).remove(0);
    let whole = std::fs::read(&file).unwrap();
    let mut flipped = whole.clone();
    flipped[whole.len() / 2] ^= 1;
    for damaged in [&flipped[..], &whole[..whole.len() - 1], &whole[..10], b""] {
        std::fs::write(&file, damaged).unwrap();
        assert_eq!(*load_with(&cache).cache_use(), CacheUse::Replaced);
        assert_eq!(std::fs::read(&file).unwrap(), whole);
    }
}

#[cfg(unix)]
mod rights {
    use std::os::unix::fs::PermissionsExt;

    use super::*;

    fn rights(path: &Path) -> u32 {
        std::fs::metadata(path).unwrap().permissions().mode() & 0o777
    }

    #[test]
    fn the_folder_and_its_files_are_the_hosts_alone() {
        let folder = TempDir::new().unwrap();
        let cache = folder.path().join("deep/compiled");
        load_with(&cache);
        assert_eq!(rights(&cache), 0o700);
        assert_eq!(rights(&files(&cache)[0]), 0o600);
    }

    #[test]
    fn a_folder_that_others_may_write_to_is_not_used() {
        let folder = TempDir::new().unwrap();
        let cache = folder.path().join("compiled");
        std::fs::create_dir(&cache).unwrap();
        std::fs::set_permissions(&cache, std::fs::Permissions::from_mode(0o777)).unwrap();
        let config = LoaderConfig { cache: Some(cache) };
        let fault = PluginLoader::new(&config).unwrap_err();
        assert!(fault.to_string().contains("has to be 700"), "{fault}");
    }

    #[test]
    fn a_link_to_a_folder_is_not_used() {
        let folder = TempDir::new().unwrap();
        let link = folder.path().join("link");
        std::os::unix::fs::symlink(folder.path(), &link).unwrap();
        let config = LoaderConfig { cache: Some(link) };
        let fault = PluginLoader::new(&config).unwrap_err();
        assert!(fault.to_string().contains("a link"), "{fault}");
    }
}
