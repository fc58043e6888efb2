//! Which crate may know which. A new arrow is a design change: say why in the
//! commit that adds it here.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, bail};
use serde::Deserialize;

/// The arrows of the workspace, for normal and build dependencies.
const ALLOWED: &[(&str, &[&str])] = &[
    ("rallytide-chart", &[]),
    ("rallytide-scoring", &["rallytide-chart"]),
    (
        "rallytide-simulate",
        &["rallytide-chart", "rallytide-scoring"],
    ),
    (
        "rallytide-chart-wasm",
        &["rallytide-chart", "rallytide-scoring"],
    ),
    ("rallytide-bus", &[]),
    ("rallytide-plugin-kit", &[]),
    ("rallytide-readings", &["rallytide-chart"]),
    ("rallytide-sheet", &[]),
    (
        "rallytide-match-record",
        &["rallytide-chart", "rallytide-readings", "rallytide-scoring"],
    ),
    (
        "rallytide-plugin-host",
        &["rallytide-chart", "rallytide-readings", "rallytide-scoring"],
    ),
    ("rallytide-plugin-registry", &["rallytide-plugin-host"]),
    (
        "rallytide-court",
        &[
            "rallytide-bus",
            "rallytide-chart",
            "rallytide-match-record",
            "rallytide-plugin-host",
            "rallytide-readings",
            "rallytide-scoring",
        ],
    ),
    (
        "rallytide-agree",
        &["rallytide-chart", "rallytide-match-record"],
    ),
    (
        "rallytide-export",
        &[
            "rallytide-chart",
            "rallytide-match-record",
            "rallytide-readings",
            "rallytide-scoring",
        ],
    ),
    (
        "rallytide-server",
        &[
            "rallytide-bus",
            "rallytide-chart",
            "rallytide-court",
            "rallytide-export",
            "rallytide-match-record",
            // What the plugins' report is made of, as data.
            "rallytide-plugin-registry",
            // Shapes for the documents alone (feature `schema`).
            "rallytide-plugin-host",
            "rallytide-readings",
            "rallytide-scoring",
            "rallytide-sheet",
        ],
    ),
    (
        "rallytide",
        &[
            "rallytide-agree",
            "rallytide-bus",
            "rallytide-chart",
            "rallytide-court",
            "rallytide-export",
            "rallytide-plugin-host",
            "rallytide-readings",
            "rallytide-scoring",
            "rallytide-server",
            "rallytide-plugin-registry",
            "rallytide-simulate",
        ],
    ),
    ("xtask", &[]),
];

/// What plugins may know, libraries of others included. Their tests may know more.
const PLUGIN_ALLOWED: &[&str] = &["rallytide-plugin-kit"];

/// Foreign things with one owning crate.
const OWNED: &[(&str, &str)] = &[
    ("wasmtime", "rallytide-plugin-host"),
    ("wit-component", "rallytide-plugin-host"),
    ("wasmparser", "rallytide-plugin-host"),
    ("axum", "rallytide-server"),
    ("wit-bindgen", "rallytide-plugin-kit"),
    ("calamine", "rallytide-sheet"),
    ("encoding_rs", "rallytide-sheet"),
    ("quick-xml", "rallytide-sheet"),
    ("zip", "rallytide-sheet"),
];

/// Crates that are pure: no async, logging, randomness of the system. That they
/// read neither clock nor files is in `reads.rs`.
const PURE: &[&str] = &[
    "rallytide-agree",
    "rallytide-chart",
    "rallytide-chart-wasm",
    "rallytide-export",
    "rallytide-match-record",
    "rallytide-plugin-kit",
    "rallytide-readings",
    "rallytide-scoring",
    "rallytide-sheet",
    "rallytide-simulate",
];
const IMPURE: &[&str] = &[
    "axum",
    "futures-util",
    "getrandom",
    "hostname",
    "if-addrs",
    "notify",
    "tempfile",
    "tokio",
    "tracing",
];

#[derive(Deserialize)]
pub(crate) struct Metadata {
    pub(crate) packages: Vec<Package>,
}

#[derive(Deserialize)]
pub(crate) struct Package {
    pub(crate) name: String,
    pub(crate) source: Option<String>,
    manifest_path: String,
    dependencies: Vec<Dependency>,
}

#[derive(Deserialize)]
struct Dependency {
    name: String,
    kind: Option<String>,
}

impl Metadata {
    /// Our own packages: name and folder.
    pub(crate) fn own_packages(&self) -> Vec<(&str, PathBuf)> {
        let own = self.packages.iter().filter(|one| one.source.is_none());
        own.filter_map(|one| {
            let folder = Path::new(&one.manifest_path).parent()?;
            Some((one.name.as_str(), folder.to_owned()))
        })
        .collect()
    }
}

/// What cargo knows of the workspace and everything it builds on.
pub(crate) fn metadata(root: &Path) -> anyhow::Result<Metadata> {
    let output = Command::new(env!("CARGO"))
        .current_dir(root)
        .args(["metadata", "--format-version", "1", "--locked"])
        .output()
        .context("could not run `cargo metadata`")?;
    if !output.status.success() {
        bail!(
            "`cargo metadata --locked` failed: {}",
            String::from_utf8_lossy(&output.stderr)
        );
    }
    serde_json::from_slice(&output.stdout).context("could not read what `cargo metadata` printed")
}

/// The arrows that are not allowed, a sentence each.
pub(crate) fn forbidden(metadata: &Metadata) -> Vec<String> {
    let own = metadata.packages.iter().filter(|one| one.source.is_none());
    own.flat_map(|package| {
        let is_plugin = package.manifest_path.contains("/plugins/");
        let allowed = ALLOWED
            .iter()
            .find(|(name, _)| *name == package.name)
            .map(|(_, allowed)| *allowed)
            .or(is_plugin.then_some(PLUGIN_ALLOWED));
        let Some(allowed) = allowed else {
            return vec![format!(
                "`{}` has no place in the design yet: give it one in `xtask/src/arrows.rs`",
                package.name
            )];
        };
        let arrows = package
            .dependencies
            .iter()
            .filter(|one| one.kind.as_deref() != Some("dev"));
        arrows
            .filter_map(|one| {
                if is_plugin && !allowed.contains(&one.name.as_str()) {
                    return Some(format!(
                        "`{}` is a plugin and must not know `{}`: what a plugin may know is \
                         `{}`",
                        package.name,
                        one.name,
                        allowed.join("`, `")
                    ));
                }
                objection(package, &one.name, allowed)
            })
            .collect()
    })
    .collect()
}

fn objection(package: &Package, to: &str, allowed: &[&str]) -> Option<String> {
    let from = &package.name;
    let own = to == "rallytide" || to.starts_with("rallytide-") || to == "xtask";
    if own && !allowed.contains(&to) {
        return Some(format!("`{from}` must not know `{to}`"));
    }
    if let Some((_, owner)) = OWNED
        .iter()
        .find(|(name, owner)| *name == to && owner != from)
    {
        return Some(format!(
            "`{from}` must not know `{to}`: that is `{owner}`'s"
        ));
    }
    if PURE.contains(&from.as_str()) && IMPURE.contains(&to) {
        return Some(format!("`{from}` is pure and must not know `{to}`"));
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn package_in(folder: &str, name: &str, dependency: &str, kind: &str) -> Metadata {
        let text = format!(
            r#"{{"packages":[{{"name":"{name}","source":null,
               "manifest_path":"/x/{folder}/y/Cargo.toml",
               "dependencies":[{{"name":"{dependency}","kind":{kind}}}]}}]}}"#
        );
        serde_json::from_str(&text).unwrap()
    }

    fn package(name: &str, dependency: &str) -> Metadata {
        package_in("crates", name, dependency, "null")
    }

    #[test]
    fn an_arrow_of_the_design_is_allowed() {
        assert!(forbidden(&package("rallytide-court", "rallytide-bus")).is_empty());
    }

    #[test]
    fn an_arrow_against_the_design_is_named() {
        for (from, to) in [
            ("rallytide-chart", "rallytide-scoring"),
            ("rallytide-court", "rallytide-server"),
            ("rallytide-server", "wasmtime"),
            ("rallytide-scoring", "tokio"),
            ("rallytide-export", "tempfile"),
        ] {
            let objections = forbidden(&package(from, to));
            assert_eq!(objections.len(), 1);
            assert!(objections[0].contains(from) && objections[0].contains(to));
        }
    }

    #[test]
    fn a_plugin_knows_the_kit_and_nothing_else_outside_its_tests() {
        let plugin = |dependency, kind| {
            forbidden(&package_in("plugins", "rallytide-tilt", dependency, kind))
        };
        assert!(plugin("rallytide-plugin-kit", "null").is_empty());
        assert!(plugin("proptest", "\"dev\"").is_empty());
        for (dependency, kind) in [
            ("rallytide-chart", "null"),
            ("rallytide-plugin-host", "null"),
            ("serde_json", "null"),
            ("jiff", "\"build\""),
        ] {
            let objections = plugin(dependency, kind);
            assert_eq!(objections.len(), 1, "{dependency}");
            assert!(objections[0].contains(dependency), "{objections:?}");
        }
    }

    #[test]
    fn a_crate_that_is_not_in_the_design_is_named() {
        let objections = forbidden(&package("rallytide-attic", "serde"));
        assert!(objections[0].contains("`rallytide-attic` has no place"));
    }
}
