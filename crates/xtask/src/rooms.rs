//! The written side of the folders: a README in every crate and every page
//! folder, and no relative link that leads nowhere.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Component, Path, PathBuf};

use anyhow::Context;

/// Folders that still lack their README. An entry that has one has to go.
const WITHOUT: &[&str] = &["overlay/booth", "overlay/graphic", "overlay/index"];

/// What is missing or dead among the tracked files, a sentence each.
pub(crate) fn objections(root: &Path, tracked: &[PathBuf]) -> anyhow::Result<Vec<String>> {
    let mut found = readmes(tracked, WITHOUT);
    let mut targets: BTreeSet<&Path> = BTreeSet::new();
    for file in tracked {
        targets.extend(file.ancestors());
    }
    let markdown = tracked
        .iter()
        .filter(|file| file.extension().is_some_and(|ending| ending == "md"));
    for file in markdown {
        let text = fs::read_to_string(root.join(file))
            .with_context(|| format!("could not read `{}`", file.display()))?;
        found.extend(dead_links(file, &text, &targets));
    }
    Ok(found)
}

/// Folders without README: those of crates and of pages.
fn readmes(tracked: &[PathBuf], without: &[&str]) -> Vec<String> {
    let folders: BTreeSet<&Path> = tracked
        .iter()
        .filter(|file| is_room(file))
        .filter_map(|file| file.parent())
        .collect();
    folders
        .into_iter()
        .filter_map(|folder| {
            let name = folder.display();
            let has = tracked.contains(&folder.join("README.md"));
            let known = without.iter().any(|known| Path::new(known) == folder);
            match (has, known) {
                (false, false) => Some(format!("{name}: has no README.md")),
                (true, true) => Some(format!(
                    "{name}: has its README.md; take it out of `xtask/src/rooms.rs`"
                )),
                _ => None,
            }
        })
        .collect()
}

/// Whether a file makes its folder one that has to be described: the manifest
/// of a crate of the workspace, the page of a page folder.
fn is_room(file: &Path) -> bool {
    let parts: Vec<&str> = file.iter().filter_map(|part| part.to_str()).collect();
    matches!(
        parts.as_slice(),
        ["crates" | "plugins", _, "Cargo.toml"] | ["overlay", .., "index.html"]
    )
}

/// The links of a Markdown file that name nothing tracked.
fn dead_links(file: &Path, text: &str, targets: &BTreeSet<&Path>) -> Vec<String> {
    let folder = file.parent().unwrap_or(file);
    links(text)
        .into_iter()
        .filter(|(_, link)| !link.is_empty() && !link.contains(':'))
        .filter(|(_, link)| {
            let target = joined(folder, link);
            target.is_none_or(|target| !targets.contains(target.as_path()))
        })
        .map(|(line, link)| format!("{}:{line}: `{link}` leads nowhere", file.display()))
        .collect()
}

/// The targets of the links with their lines, without what stands after `#`.
/// Code is no link.
fn links(text: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    let mut is_code = false;
    for (number, line) in text.lines().enumerate() {
        if line.trim_start().starts_with("```") {
            is_code = !is_code;
        }
        if is_code {
            continue;
        }
        // Every other piece between backticks is code.
        let plain: String = line.split('`').step_by(2).collect::<Vec<_>>().join("`");
        let inline = plain.split("](").skip(1).filter_map(|rest| {
            let end = rest.find(')')?;
            Some(&rest[..end])
        });
        let reference = plain
            .strip_prefix('[')
            .and_then(|rest| rest.split_once("]: "))
            .map(|(_, target)| target.trim());
        for target in inline.chain(reference) {
            let path = target.split(['#', '?', ' ']).next().unwrap_or_default();
            found.push((number + 1, path.to_owned()));
        }
    }
    found
}

/// `link` as seen from `folder`, relative to the top; none if it leads out of
/// the checkout.
fn joined(folder: &Path, link: &str) -> Option<PathBuf> {
    let mut path = folder.to_owned();
    for part in Path::new(link).components() {
        match part {
            Component::Normal(name) => path.push(name),
            Component::CurDir => {}
            Component::ParentDir => {
                if !path.pop() {
                    return None;
                }
            }
            Component::RootDir | Component::Prefix(_) => return None,
        }
    }
    Some(path)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paths(names: &[&str]) -> Vec<PathBuf> {
        names.iter().map(PathBuf::from).collect()
    }

    #[test]
    fn a_crate_and_a_page_have_to_be_described_and_nothing_else() {
        let tracked = paths(&[
            "crates/bus/Cargo.toml",
            "crates/bus/README.md",
            "crates/court/Cargo.toml",
            "overlay/desk/index.html",
            "overlay/shared/feed.js",
            "tests/guests/Cargo.toml",
        ]);
        assert_eq!(
            readmes(&tracked, &[]),
            [
                "crates/court: has no README.md",
                "overlay/desk: has no README.md"
            ]
        );
        let found = readmes(&tracked, &["crates/court", "overlay/desk", "crates/bus"]);
        assert_eq!(found.len(), 1);
        assert!(found[0].contains("take it out"), "{found:?}");
    }

    #[test]
    fn a_link_that_leads_nowhere_is_named_with_its_line() {
        let tracked = paths(&["README.md", "crates/bus/README.md", "crates/README.md"]);
        let targets: BTreeSet<&Path> = tracked.iter().flat_map(|file| file.ancestors()).collect();
        let text = "[up](../README.md#state), [folder](../bus), [site](https://example.org)\n\
                    [here](#below) `[code](nowhere.md)`\n\
                    ```\n[code](nowhere.md)\n```\n\
                    [gone](gone.md) and [out](../../../x)\n\
                    [name]: ../gone-too.md\n";
        let found = dead_links(Path::new("crates/bus/README.md"), text, &targets);
        assert_eq!(
            found,
            [
                "crates/bus/README.md:6: `gone.md` leads nowhere",
                "crates/bus/README.md:6: `../../../x` leads nowhere",
                "crates/bus/README.md:7: `../gone-too.md` leads nowhere",
            ]
        );
    }
}
