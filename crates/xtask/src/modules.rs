//! The modules inside each crate: no circle of files, and one style of naming
//! them (`name.rs` with its children in `name/`).
//!
//! It reads tokens, not types: a `use`, or a path that begins with `crate`,
//! `self`, `super` or a child module, leads to the file of the module it names.
//! A public re-export is passed through to the module behind it and is no use
//! of its own. Test modules are left out. Methods called on a value, and names
//! that a glob import brings in, are not seen.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::Context;

use crate::modules::source::{Module, read_crate};

pub(crate) mod source;

/// Circles that are known and still to be taken apart, each by its files. An
/// entry that is no longer a circle has to go.
const KNOWN: &[&[&str]] = &[];

/// What is wrong with the modules of the packages that are given.
pub(crate) fn objections(root: &Path, packages: &[(&str, PathBuf)]) -> anyhow::Result<Vec<String>> {
    let mut circles = Vec::new();
    for (_, folder) in packages {
        for modules in crates_in(folder)? {
            circles.extend(circles_of(root, &modules));
        }
    }
    Ok(judged(&circles, KNOWN))
}

/// The modules of the library and of the program in a package's folder, as far as
/// there are any.
pub(crate) fn crates_in(folder: &Path) -> anyhow::Result<Vec<Vec<Module>>> {
    ["src/lib.rs", "src/main.rs"]
        .iter()
        .map(|top| folder.join(top))
        .filter(|file| file.is_file())
        .map(|file| {
            read_crate(&file, &|file| {
                fs::read_to_string(file)
                    .with_context(|| format!("could not read `{}`", file.display()))
            })
        })
        .collect()
}

/// Modules that are not `name.rs` with their children in `name/`, a sentence
/// each.
pub(crate) fn style(tracked: &[PathBuf]) -> Vec<String> {
    tracked
        .iter()
        .filter(|file| is_old_style(file))
        .map(|file| {
            let file = file.display();
            format!("{file}: modules are `name.rs` with their children in `name/` here")
        })
        .collect()
}

/// A `mod.rs`, where it is not the only way: cargo takes every file directly in
/// `tests/` for a test of its own.
fn is_old_style(file: &Path) -> bool {
    let mut above = file.iter().rev().skip(2);
    file.ends_with("mod.rs") && above.next().is_none_or(|folder| folder != "tests")
}

/// The circles that are not known, and the known ones that are none, a sentence
/// each.
fn judged(circles: &[BTreeSet<String>], known: &[&[&str]]) -> Vec<String> {
    let is_in = |circle: &BTreeSet<String>, list: &[&str]| {
        circle.iter().all(|file| list.contains(&file.as_str()))
    };
    let new = circles
        .iter()
        .filter(|circle| !known.iter().any(|list| is_in(circle, list)))
        .map(|circle| {
            let files: Vec<&str> = circle.iter().map(String::as_str).collect();
            format!(
                "these files need each other in a circle: {}",
                files.join(", ")
            )
        });
    let gone = known
        .iter()
        .filter(|list| !circles.iter().any(|circle| is_in(circle, list)))
        .map(|list| {
            format!(
                "no circle any more, take it out of `xtask/src/modules.rs`: {}",
                list.join(", ")
            )
        });
    new.chain(gone).collect()
}

/// The circles of a crate, by paths relative to `root`.
fn circles_of(root: &Path, modules: &[Module]) -> Vec<BTreeSet<String>> {
    let name = |file: &Path| {
        let file = file.strip_prefix(root).unwrap_or(file);
        file.display().to_string()
    };
    let uses = uses(modules)
        .into_iter()
        .map(|(from, to)| {
            let to = to.iter().map(|file| name(file)).collect();
            (name(&from), to)
        })
        .collect();
    circles(&uses)
}

/// Which file uses which others.
fn uses(modules: &[Module]) -> BTreeMap<PathBuf, BTreeSet<PathBuf>> {
    let mut uses: BTreeMap<PathBuf, BTreeSet<PathBuf>> = BTreeMap::new();
    for (number, module) in modules.iter().enumerate() {
        let entry = uses.entry(module.file.clone()).or_default();
        let used = module
            .paths
            .iter()
            .filter_map(|path| target(modules, number, path, 0))
            .map(|target| modules[target].file.clone())
            .filter(|file| *file != module.file);
        entry.extend(used);
    }
    uses
}

/// The module in which what a path names is defined, if that is in this crate.
/// `depth` ends imports that lead back to themselves.
fn target(modules: &[Module], from: usize, path: &[String], depth: usize) -> Option<usize> {
    let (first, mut rest) = path.split_first()?;
    let mut at = match first.as_str() {
        "crate" => 0,
        "self" => from,
        "super" => modules[from].parent?,
        child => *modules[from].children.get(child)?,
    };
    while let Some((next, after)) = rest.split_first() {
        if next == "super" {
            at = modules[at].parent?;
        } else if next == "self" {
        } else if let Some(child) = modules[at].children.get(next) {
            at = *child;
        } else if let Some(import) = modules[at].imports.get(next).filter(|_| depth < 8) {
            let through: Vec<String> = import.iter().chain(after).cloned().collect();
            return target(modules, at, &through, depth + 1);
        } else {
            break;
        }
        rest = after;
    }
    Some(at)
}

/// The groups of files of which each can be reached from each other one.
fn circles(uses: &BTreeMap<String, BTreeSet<String>>) -> Vec<BTreeSet<String>> {
    let reached: BTreeMap<&String, BTreeSet<&String>> = uses
        .keys()
        .map(|file| (file, reached_from(file, uses)))
        .collect();
    let mut circles: Vec<BTreeSet<String>> = Vec::new();
    for (file, reaches) in &reached {
        if !reaches.contains(file) || circles.iter().any(|circle| circle.contains(*file)) {
            continue;
        }
        let is_back = |other: &&&String| reached.get(**other).is_some_and(|it| it.contains(file));
        let circle = reaches.iter().filter(is_back).map(|it| (*it).clone());
        circles.push(circle.collect());
    }
    circles
}

fn reached_from<'a>(
    file: &String,
    uses: &'a BTreeMap<String, BTreeSet<String>>,
) -> BTreeSet<&'a String> {
    let mut reached = BTreeSet::new();
    let mut open: Vec<&String> = uses.get(file).into_iter().flatten().collect();
    while let Some(next) = open.pop() {
        if reached.insert(next) {
            open.extend(uses.get(next).into_iter().flatten());
        }
    }
    reached
}

#[cfg(test)]
mod tests;
