//! Everything that has to pass before a change is shared. CI runs the same.

use std::path::Path;

use anyhow::bail;

use crate::steps::{Steps, program};
use crate::{build, deny, reference, tidy, tools, types};

const CARGO: &str = env!("CARGO");

type Check = fn(&Path) -> anyhow::Result<()>;

/// The parts, the quick ones first.
const PARTS: &[(&str, Check)] = &[
    ("style", style),
    ("tidy", tidy::check),
    ("deny", deny::check),
    ("lints", lints),
    ("types", types::check),
    ("reference", reference::check),
    ("crates", build::test),
    ("docs", docs),
    ("pages", pages),
    ("whole", whole),
];

/// Runs all parts, also where one fails.
pub(crate) fn everything(root: &Path) -> anyhow::Result<()> {
    let mut steps = Steps::default();
    for (name, check) in PARTS {
        steps.run(name, || check(root));
    }
    steps.close()
}

/// Runs one part.
pub(crate) fn part(root: &Path, name: &str) -> anyhow::Result<()> {
    let Some((_, check)) = PARTS.iter().find(|(part, _)| *part == name) else {
        let names: Vec<&str> = PARTS.iter().map(|(part, _)| *part).collect();
        bail!("there is no part `{name}`; there are {}", names.join(", "));
    };
    check(root)
}

fn style(root: &Path) -> anyhow::Result<()> {
    program(root, CARGO, &["fmt", "--all", "--check"], &[])
}

fn lints(root: &Path) -> anyhow::Result<()> {
    let arguments = [
        "clippy",
        "--quiet",
        "--workspace",
        "--all-targets",
        "--",
        "-D",
        "warnings",
    ];
    program(root, CARGO, &arguments, &[])
}

fn docs(root: &Path) -> anyhow::Result<()> {
    let arguments = [
        "doc",
        "--quiet",
        "--workspace",
        "--no-deps",
        "--document-private-items",
    ];
    program(root, CARGO, &arguments, &[("RUSTDOCFLAGS", "-D warnings")])
}

/// The pages alone, in a browser, on made-up feeds.
fn pages(root: &Path) -> anyhow::Result<()> {
    tools::need_node()?;
    tools::need_chromium()?;
    let overlay = root.join("overlay");
    tools::npm_packages(&overlay)?;
    program(&overlay, "npm", &["test", "--silent"], &[])
}

/// The real program, spoken to from outside.
fn whole(root: &Path) -> anyhow::Result<()> {
    tools::need_node()?;
    tools::need_chromium()?;
    tools::need_firefox()?;
    build::programs(root)?;
    let tests = root.join("tests");
    tools::npm_packages(&tests)?;
    let built = build::rallytide(root);
    let variables = [("RALLYTIDE", built.as_str())];
    program(&tests, "npm", &["test", "--silent"], &variables)
}
