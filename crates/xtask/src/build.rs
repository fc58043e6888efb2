//! The one build that all checks share. The engine of the plugins takes minutes
//! to compile and is compiled anew for every other choice of packages and
//! features: so tests, examples and the program itself come out of one choice.

use std::path::{Path, PathBuf};

use crate::steps::program;
use crate::tools::target_folder;

const CARGO: &str = env!("CARGO");

/// What the written types need beyond what the program has.
const FEATURES: &str = "rallytide-court/ts,rallytide-server/schema";

/// Builds the programs and examples of the workspace. The examples have to be
/// among them: what they need counts for the features of all packages.
pub(crate) fn programs(root: &Path) -> anyhow::Result<()> {
    cargo(root, &["build", "--bins", "--examples"])
}

/// Builds and runs the tests of the workspace's crates.
pub(crate) fn test(root: &Path) -> anyhow::Result<()> {
    cargo(root, &["test"])
}

/// The program `rallytide`, for tests that speak to it from outside.
pub(crate) fn rallytide(root: &Path) -> String {
    let built = target_folder(root).join("debug/rallytide");
    built.display().to_string()
}

/// An example of one of the crates.
pub(crate) fn example(root: &Path, name: &str) -> PathBuf {
    target_folder(root).join("debug/examples").join(name)
}

fn cargo(root: &Path, command: &[&str]) -> anyhow::Result<()> {
    let shared = ["--quiet", "--workspace", "--features", FEATURES];
    program(root, CARGO, &[command, &shared].concat(), &[])
}
