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

/// A browser that tests drive.
struct Browser {
    name: &'static str,
    /// Names another one than Debian's.
    variable: &'static str,
    /// Where Debian puts it.
    path: &'static str,
    packages: &'static [&'static str],
}

/// Chromium, in which the pages are tested.
pub(crate) fn need_chromium() -> anyhow::Result<()> {
    need_browser(&Browser {
        name: "Chromium",
        variable: "CHROMIUM",
        path: "/usr/bin/chromium",
        packages: &["chromium", "fonts-dejavu-core"],
    })
}

/// Firefox, in which they are tried, too.
pub(crate) fn need_firefox() -> anyhow::Result<()> {
    need_browser(&Browser {
        name: "Firefox",
        variable: "FIREFOX",
        path: "/usr/bin/firefox-esr",
        packages: &["firefox-esr"],
    })
}

/// Installed where the system is Debian's and we may.
fn need_browser(browser: &Browser) -> anyhow::Result<()> {
    let Browser { name, variable, .. } = browser;
    let named = std::env::var_os(variable).is_some_and(|path| Path::new(&path).exists());
    if named || Path::new(browser.path).exists() {
        return Ok(());
    }
    println!("installing {name} with apt-get");
    let apt = |arguments: &[&str]| {
        Command::new("apt-get")
            .args(arguments)
            .env("DEBIAN_FRONTEND", "noninteractive")
            .stdout(Stdio::null())
            .status()
            .is_ok_and(|status| status.success())
    };
    let install = [
        &["install", "-y", "-qq", "--no-install-recommends"],
        browser.packages,
    ]
    .concat();
    if apt(&["update", "-qq"]) && apt(&install) {
        return Ok(());
    }
    bail!(
        "{name} is needed for the tests of the pages and could not be installed here; install it \
         and say where it is with the variable {variable}"
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
