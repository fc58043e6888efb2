//! What a crate reads from outside: the clock, files, the network, the
//! environment. What is in no entry of [`READS`] reads none of them, so the same
//! input gives the same result there; plugins and the pure crates are in none.
//!
//! It looks at paths that the sources name, tests apart: `std::fs::read`, or the
//! `use` that brings `fs` in. What a method of a value does (`Path::exists`) and
//! what another library does inside is not seen.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use crate::modules::crates_in;
use crate::modules::source::Module;

/// What can be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Outside {
    Clock,
    Files,
    Network,
    Environment,
}

use Outside::{Clock, Environment, Files, Network};

/// Which crate reads what, and why. An entry that no longer holds has to go.
const READS: &[(&str, Outside, &str)] = &[
    ("rallytide-bus", Files, "it keeps the logs"),
    (
        "rallytide-bus",
        Clock,
        "it offers the system's clock to whoever starts it",
    ),
    ("rallytide-plugin-host", Files, "it keeps compiled plugins"),
    (
        "rallytide-plugin-host",
        Clock,
        "it limits and reports the time of calls; the age of what it keeps",
    ),
    (
        "rallytide-plugin-registry",
        Files,
        "it reads and watches the plugin folder",
    ),
    (
        "rallytide-plugin-registry",
        Clock,
        "the time a file was changed tells that it has changed",
    ),
    ("rallytide-server", Files, "keys, pages and text files"),
    (
        "rallytide-server",
        Clock,
        "when entries arrive; time limits of connections",
    ),
    (
        "rallytide-server",
        Network,
        "it is the one that is connected to",
    ),
    (
        "rallytide-server",
        Environment,
        "the randomness that keys are made of",
    ),
    ("rallytide", Files, "what the commands are given and write"),
    ("rallytide", Clock, "the pace of what it charts into a host"),
    ("rallytide", Network, "it listens, and charts into a host"),
    (
        "rallytide",
        Environment,
        "flags, exit codes, this machine's names",
    ),
    ("xtask", Files, "it looks the sources over"),
    ("xtask", Clock, "it says how long a part took"),
    ("xtask", Environment, "it runs the tools"),
];

/// Paths that read something, by their beginning.
const BEGINNINGS: &[(&[&str], Outside)] = &[
    (&["std", "time", "Instant"], Clock),
    (&["std", "time", "SystemTime"], Clock),
    (&["tokio", "time"], Clock),
    (&["rustix", "time"], Clock),
    (&["rallytide_bus", "now"], Clock),
    (&["rallytide_bus", "system_clock"], Clock),
    (&["std", "fs"], Files),
    (&["tokio", "fs"], Files),
    (&["notify"], Files),
    (&["same_file"], Files),
    (&["tempfile"], Files),
    (&["std", "net", "TcpListener"], Network),
    (&["std", "net", "TcpStream"], Network),
    (&["std", "net", "ToSocketAddrs"], Network),
    (&["std", "net", "UdpSocket"], Network),
    (&["tokio", "net"], Network),
    (&["tokio_tungstenite"], Network),
    (&["if_addrs"], Network),
    (&["std", "env"], Environment),
    (&["std", "process"], Environment),
    (&["std", "thread", "sleep"], Clock),
    (&["getrandom"], Environment),
    (&["hostname"], Environment),
    (&["rlimit"], Environment),
];

/// What the packages read without being allowed to, and what they are allowed and
/// do not read, a sentence each.
pub(crate) fn objections(root: &Path, packages: &[(&str, PathBuf)]) -> anyhow::Result<Vec<String>> {
    let mut found = Vec::new();
    let mut held = BTreeSet::new();
    for (package, folder) in packages {
        for modules in crates_in(folder)? {
            for (file, path, outside) in reads(&modules) {
                let file = file
                    .strip_prefix(root)
                    .unwrap_or(&file)
                    .display()
                    .to_string();
                if is_allowed(package, outside) {
                    held.insert((*package, outside));
                } else {
                    found.push(objection(package, &file, &path, outside));
                }
            }
        }
    }
    let stale = READS
        .iter()
        .filter(|(package, outside, _)| !held.contains(&(*package, *outside)));
    found.extend(stale.map(|(package, outside, why)| {
        format!(
            "`{package}` reads {} no more ({why}): take it out of `xtask/src/reads.rs`",
            words(*outside)
        )
    }));
    Ok(found)
}

fn is_allowed(package: &str, outside: Outside) -> bool {
    READS
        .iter()
        .any(|(name, allowed, _)| *name == package && *allowed == outside)
}

fn objection(package: &str, file: &str, path: &str, outside: Outside) -> String {
    format!(
        "{file}: `{package}` must not read {}, and `{path}` does; let the caller hand in what is \
         needed, or give the crate an entry with a reason in `xtask/src/reads.rs`",
        words(outside)
    )
}

fn words(outside: Outside) -> &'static str {
    match outside {
        Clock => "the clock",
        Files => "files",
        Network => "from the network",
        Environment => "the environment",
    }
}

/// Every path of a crate that reads something, with its file.
fn reads(modules: &[Module]) -> Vec<(PathBuf, String, Outside)> {
    let mut found = BTreeSet::new();
    for module in modules {
        for path in module.paths.iter().chain(module.imports.values()) {
            if let Some(outside) = outside(path) {
                found.insert((module.file.clone(), path.join("::"), outside));
            }
        }
    }
    found.into_iter().collect()
}

/// What a path reads.
fn outside(path: &[String]) -> Option<Outside> {
    let is_now = |name: &str| path.ends_with(&[name.to_owned(), "now".to_owned()]);
    if ["Instant", "SystemTime", "Timestamp", "Zoned"]
        .into_iter()
        .any(is_now)
    {
        return Some(Clock);
    }
    let begins = |beginning: &[&str]| {
        let same = path.iter().zip(beginning).all(|(one, other)| one == other);
        // A module that is brought in whole can be used for all that is in it.
        same && (path.len() >= beginning.len()
            || path.len() + 1 == beginning.len() && path.len() > 1)
    };
    let known = BEGINNINGS.iter().find(|(beginning, _)| begins(beginning));
    known.map(|(_, outside)| *outside)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::modules::source::read_crate;

    /// What a crate of one file reads.
    fn reads_of(text: &str) -> Vec<Outside> {
        let modules = read_crate(Path::new("src/lib.rs"), &|_| Ok(text.to_owned())).unwrap();
        reads(&modules)
            .into_iter()
            .map(|(_, _, outside)| outside)
            .collect()
    }

    #[test]
    fn whatever_a_crate_reads_is_found() {
        for (text, expected) in [
            ("use std::time::Instant;", Clock),
            ("use std::{io, time::{Duration, SystemTime}};", Clock),
            ("fn f() { jiff::Timestamp::now(); }", Clock),
            ("use std::time;", Clock),
            ("async fn f() { tokio::time::sleep(LONG).await }", Clock),
            ("fn f() { std::fs::read(\"x\"); }", Files),
            ("use std::fs::File;", Files),
            ("fn f() { vec![std::fs::read(\"x\")]; }", Files),
            ("pub use tempfile::tempdir;", Files),
            ("use std::net::{IpAddr, TcpListener};", Network),
            ("fn f() { std::env::var(\"HOME\"); }", Environment),
            (
                "mod inner { fn f() { std::process::exit(1) } }",
                Environment,
            ),
        ] {
            assert_eq!(reads_of(text), [expected], "{text}");
        }
    }

    #[test]
    fn data_and_tests_read_nothing() {
        for text in [
            "use std::time::Duration;",
            "use std::net::IpAddr;",
            "use std::io::Write;",
            "fn f(now: jiff::Timestamp) { now.as_second(); }",
            "#[cfg(test)] mod tests { use std::fs; fn f() { std::env::var(\"X\"); } }",
            "// std::fs::read\nconst WORDS: &str = \"std::env::var\";",
        ] {
            assert_eq!(reads_of(text), [], "{text}");
        }
    }

    #[test]
    fn a_pure_crate_and_a_plugin_may_read_nothing_and_the_bus_its_files() {
        for package in [
            "rallytide-chart",
            "rallytide-export",
            "rallytide-initiative",
        ] {
            for outside in [Clock, Files, Network, Environment] {
                assert!(!is_allowed(package, outside), "{package}");
            }
        }
        assert!(is_allowed("rallytide-bus", Files));
        assert!(!is_allowed("rallytide-bus", Network));
        let sentence = objection("rallytide-chart", "src/x.rs", "std::fs::read", Files);
        assert!(sentence.starts_with("src/x.rs: `rallytide-chart` must not read files"));
    }
}
