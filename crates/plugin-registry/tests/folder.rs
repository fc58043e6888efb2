//! Files that come, change and go, without a plugin among them: what a real one
//! does is tested with the whole program in `tests/`.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use std::fs;
use std::path::Path;
use std::sync::Arc;
use std::sync::mpsc;
use std::time::Duration;

use rallytide_plugin_host::{LoaderConfig, PluginLoader, Settings};
use rallytide_plugin_registry::{LoadOutcome, PluginRegistry, RegistryError, SwitchError, watch};

fn registry(folder: &Path) -> Result<PluginRegistry, RegistryError> {
    let loader = PluginLoader::new(&LoaderConfig { cache: None }).unwrap();
    let clock = Arc::new(|| jiff::Timestamp::UNIX_EPOCH);
    PluginRegistry::open(loader, &[], Some(folder.to_owned()), Settings::new(), clock)
}

fn outcomes(registry: &PluginRegistry) -> Vec<(String, &'static str)> {
    let word = |outcome: &LoadOutcome| match outcome {
        LoadOutcome::Taken => "taken",
        LoadOutcome::Refused(_) => "refused",
        LoadOutcome::TurnedDown(_) => "turned down",
        LoadOutcome::Removed => "removed",
    };
    registry
        .attempts()
        .map(|attempt| (attempt.file.clone(), word(&attempt.outcome)))
        .collect()
}

#[test]
fn a_file_that_is_no_plugin_is_refused_once_and_again_when_it_changes() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("notes.wasm"), "not a plugin").unwrap();
    fs::write(folder.path().join("readme.txt"), "no business of ours").unwrap();
    let mut registry = registry(folder.path()).unwrap();
    let once = [("notes.wasm".to_owned(), "refused")];
    assert_eq!(outcomes(&registry), once);
    let trial = |_: &_| Vec::new();
    assert!(registry.look(&trial).unwrap().is_none());
    assert_eq!(
        outcomes(&registry),
        once,
        "an unchanged file is not tried again"
    );
    fs::write(folder.path().join("notes.wasm"), "still not a plugin").unwrap();
    assert!(registry.look(&trial).unwrap().is_none());
    assert_eq!(outcomes(&registry).len(), 2);
}

#[test]
fn a_refused_file_says_why_and_what_its_author_can_change() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("notes.wasm"), "not a plugin").unwrap();
    let registry = registry(folder.path()).unwrap();
    let attempt = serde_json::to_value(registry.attempts().next().unwrap()).unwrap();
    let part = |name: &str| attempt[name].as_str().unwrap().to_owned();
    assert_eq!(part("outcome"), "refused");
    assert!(part("message").contains("no WebAssembly"), "{attempt}");
    assert!(part("hint").contains("wasm32-unknown-unknown"), "{attempt}");
    assert!(!part("message").contains(&part("hint")), "{attempt}");
}

#[test]
fn a_folder_that_is_not_there_is_an_error_that_names_it() {
    let folder = tempfile::tempdir().unwrap();
    let missing = folder.path().join("missing");
    let error = registry(&missing).err().unwrap().to_string();
    assert!(error.contains("missing"), "{error}");
}

#[test]
fn an_unknown_plugin_cannot_be_switched() {
    let folder = tempfile::tempdir().unwrap();
    let mut registry = registry(folder.path()).unwrap();
    let refused = registry
        .switch("nobody", false, &|_| Vec::new())
        .unwrap_err();
    assert!(matches!(refused, SwitchError::Unknown(plugin) if plugin == "nobody"));
}

#[test]
fn a_change_in_a_watched_folder_is_told_once_it_has_settled() {
    let folder = tempfile::tempdir().unwrap();
    let (send, told) = mpsc::channel();
    let watching = watch(folder.path(), move || send.send(()).unwrap()).unwrap();
    for part in 0..5 {
        fs::write(folder.path().join("growing.wasm"), vec![0; part * 100]).unwrap();
    }
    let patience = Duration::from_secs(20);
    told.recv_timeout(patience)
        .expect("the change was not told");
    drop(watching);
    assert_eq!(
        told.try_iter().count(),
        0,
        "five writes in a row are one change"
    );
}

#[test]
fn a_folder_that_was_removed_and_made_anew_is_watched_again() {
    let parent = tempfile::tempdir().unwrap();
    let folder = parent.path().join("plugins");
    fs::create_dir(&folder).unwrap();
    let (send, told) = mpsc::channel();
    let _watching = watch(&folder, move || send.send(()).unwrap()).unwrap();
    let patience = Duration::from_secs(20);
    fs::remove_dir(&folder).unwrap();
    fs::create_dir(&folder).unwrap();
    told.recv_timeout(patience)
        .expect("nobody noticed the new folder");
    while told.recv_timeout(Duration::from_secs(3)).is_ok() {}
    fs::write(folder.join("late.wasm"), "not a plugin").unwrap();
    told.recv_timeout(patience)
        .expect("a file in the new folder was not told");
}

#[test]
fn a_file_longer_than_any_plugin_is_refused_without_being_read() {
    let folder = tempfile::tempdir().unwrap();
    // Three gigabytes that take no room on the disk.
    let huge = fs::File::create(folder.path().join("huge.wasm")).unwrap();
    huge.set_len(3 << 30).unwrap();
    let registry = registry(folder.path()).unwrap();
    let attempt = registry.attempts().next().unwrap();
    let LoadOutcome::Refused(objection) = &attempt.outcome else {
        panic!("{attempt:?}");
    };
    assert!(
        objection.message.contains("3221225472 bytes"),
        "{objection:?}"
    );
}
