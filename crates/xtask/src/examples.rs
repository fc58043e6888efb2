//! The example plugins in other languages: built with their own tools from the
//! package registries, and run by the real program.

use std::path::Path;

use anyhow::bail;

use crate::steps::program;
use crate::{build, tools};

const WIT: &str = "../../../crates/plugin-kit/wit/v1";

/// Builds and tests both.
pub(crate) fn check(root: &Path) -> anyhow::Result<()> {
    tools::need_node()?;
    if !tools::have("python3") {
        bail!("Python 3.10 or newer is needed for the example plugin in Python; install it first");
    }
    build::programs(root)?;
    let examples = root.join("plugins/examples");
    let built = build::rallytide(root);
    javascript(&examples.join("javascript"), &built)?;
    python(&examples.join("python"), &built)
}

fn javascript(folder: &Path, built: &str) -> anyhow::Result<()> {
    tools::npm_packages(folder)?;
    program(folder, "npm", &["run", "--silent", "build"], &[])?;
    program(
        folder,
        "npm",
        &["test", "--silent"],
        &[("RALLYTIDE", built)],
    )
}

fn python(folder: &Path, built: &str) -> anyhow::Result<()> {
    program(folder, "python3", &["-m", "venv", ".venv"], &[])?;
    let pip = [
        "-m",
        "pip",
        "install",
        "--quiet",
        "--disable-pip-version-check",
        "-r",
        "requirements.txt",
    ];
    program(folder, ".venv/bin/python", &pip, &[])?;
    let componentize = [
        "-d",
        WIT,
        "-w",
        "plugin",
        "componentize",
        "--stub-wasi",
        "plugin",
        "-o",
        "dinks.wasm",
    ];
    program(folder, ".venv/bin/componentize-py", &componentize, &[])?;
    program(
        folder,
        ".venv/bin/python",
        &["-m", "unittest", "--quiet"],
        &[("RALLYTIDE", built)],
    )
}
