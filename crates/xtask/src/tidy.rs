//! Tidiness that no compiler checks: directions of crates and modules, what a crate
//! reads from outside, READMEs, links, sizes, words.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, bail};

use crate::{arrows, modules, reads, rooms};

/// The longest file, tests and generated files excepted.
const LINES_LIMIT: usize = 600;
/// The largest file that belongs into the history, in bytes.
const BYTES_LIMIT: u64 = 400 * 1024;
/// Libraries as others published them: their size is looked at, not their form.
const AS_PUBLISHED: &str = "overlay/vendor";
/// What may stand at the top.
const TOP: &[&str] = &[
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "LICENSE-MIT",
    "LICENSE-APACHE",
    "crates",
    "plugins",
    "overlay",
    "tests",
    "demo-streams",
];

/// Looks everything over and fails with all that was found.
pub(crate) fn check(root: &Path) -> anyhow::Result<()> {
    let metadata = arrows::metadata(root)?;
    let mut found = arrows::forbidden(&metadata);
    let packages = metadata.own_packages();
    found.extend(modules::objections(root, &packages)?);
    found.extend(reads::objections(root, &packages)?);
    let tracked = tracked(root)?;
    found.extend(modules::style(&tracked));
    found.extend(rooms::objections(root, &tracked)?);
    for file in &tracked {
        found.extend(look_at(root, file)?);
    }
    for line in &found {
        eprintln!("{line}");
    }
    if found.is_empty() {
        println!("tidy: nothing found");
        return Ok(());
    }
    bail!("{} thing(s) to tidy up", found.len())
}

/// The files git tracks, relative to the top.
fn tracked(root: &Path) -> anyhow::Result<Vec<PathBuf>> {
    let output = Command::new("git")
        .current_dir(root)
        .args(["ls-files", "-z"])
        .output()
        .context("could not ask git for the files")?;
    if !output.status.success() {
        bail!(
            "`git ls-files` failed: {}",
            String::from_utf8_lossy(&output.stderr)
        );
    }
    let names = output.stdout.split(|byte| *byte == 0);
    Ok(names
        .filter(|name| !name.is_empty())
        .map(|name| PathBuf::from(String::from_utf8_lossy(name).into_owned()))
        .filter(|file| root.join(file).is_file())
        .collect())
}

fn look_at(root: &Path, file: &Path) -> anyhow::Result<Vec<String>> {
    let mut found = Vec::new();
    let name = file.display();
    let top = file.iter().next().unwrap_or_default().to_string_lossy();
    if !top.starts_with('.') && !TOP.contains(&&*top) {
        found.push(format!("{name}: does not belong at the top"));
    }
    let path = root.join(file);
    let size = fs::metadata(&path)?.len();
    if size > BYTES_LIMIT {
        found.push(format!(
            "{name}: {size} bytes, at most {BYTES_LIMIT} belong into the history"
        ));
    }
    let ending = file.extension().unwrap_or_default().to_string_lossy();
    let written_here = !file.starts_with(AS_PUBLISHED);
    if !written_here || !["rs", "js", "mjs", "css", "html", "wit", "ts"].contains(&&*ending) {
        return Ok(found);
    }
    let text = fs::read_to_string(&path).with_context(|| format!("could not read `{name}`"))?;
    let lines = text.lines().count();
    let is_test = file.iter().any(|part| part == "tests") || name.to_string().contains(".test.");
    if lines > LINES_LIMIT && !is_test && !name.to_string().ends_with(".d.ts") {
        found.push(format!(
            "{name}: {lines} lines; split it by concept below {LINES_LIMIT}"
        ));
    }
    if ending == "rs" && !text.starts_with("//!") {
        found.push(format!(
            "{name}: does not open with `//!` and what it is for"
        ));
    }
    let pages = ending != "rs" && !is_test;
    found.extend(words(&name.to_string(), &text, pages));
    Ok(found)
}

/// Code that is not finished and, in pages, HTML made from data.
fn words(name: &str, text: &str, pages: bool) -> Vec<String> {
    let unfinished = [
        concat!("to", "do!("),
        concat!("unimple", "mented!("),
        concat!("#[ig", "nore"),
        concat!("FIX", "ME"),
        concat!(".on", "ly("),
        concat!("test.sk", "ip"),
    ];
    let html = [
        concat!("inner", "HTML"),
        concat!("outer", "HTML"),
        concat!("insertAdjacent", "HTML"),
    ];
    let looked_for = unfinished
        .into_iter()
        .chain(html.into_iter().filter(|_| pages));
    looked_for
        .filter(|word| text.contains(word))
        .map(|word| format!("{name}: holds `{word}`"))
        .collect()
}
