//! What the checks need from the machine: brought in where possible, named in
//! one sentence where not.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anyhow::{Context, bail};

/// Whether a program answers to `--version`.
pub(crate) fn have(program: &str) -> bool {
    Command::new(program)
        .arg("--version")
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}

/// The folder that cargo builds into.
pub(crate) fn target_folder(root: &Path) -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR")
        .map_or_else(|| root.join("target"), |folder| root.join(folder))
}

/// Node runs the checks of the pages and the tests of the whole.
pub(crate) fn need_node() -> anyhow::Result<()> {
    if have("node") && have("npm") {
        return Ok(());
    }
    bail!("Node 20 or newer with npm is needed for the tests of the pages; install it first")
}

/// A browser, installed where the system is Debian's and we may.
pub(crate) fn need_browser() -> anyhow::Result<()> {
    let named = std::env::var_os("CHROMIUM").is_some_and(|path| Path::new(&path).exists());
    if named || Path::new("/usr/bin/chromium").exists() {
        return Ok(());
    }
    println!("installing Chromium with apt-get");
    let apt = |arguments: &[&str]| {
        Command::new("apt-get")
            .args(arguments)
            .env("DEBIAN_FRONTEND", "noninteractive")
            .stdout(Stdio::null())
            .status()
            .is_ok_and(|status| status.success())
    };
    let installed = apt(&["update", "-qq"])
        && apt(&[
            "install",
            "-y",
            "-qq",
            "--no-install-recommends",
            "chromium",
            "fonts-dejavu-core",
        ]);
    if installed {
        return Ok(());
    }
    bail!(
        "Chromium is needed for the tests of the pages and could not be installed here; install \
         it and say where it is with the variable CHROMIUM"
    )
}

/// The npm packages of a folder, exactly as its lock file says.
pub(crate) fn npm_packages(folder: &Path) -> anyhow::Result<()> {
    let status = Command::new("npm")
        .current_dir(folder)
        .args(["ci", "--no-audit", "--no-fund", "--loglevel", "error"])
        .status()
        .context("could not run npm")?;
    if !status.success() {
        bail!("`npm ci` failed in `{}`", folder.display());
    }
    Ok(())
}
