//! The types of the feed's messages, written out of the Rust ones into one
//! committed file for the pages.

use std::path::Path;
use std::process::Command;

use anyhow::{Context, bail};

const FILE: &str = "overlay/types/messages.d.ts";

/// Writes the file anew.
pub(crate) fn write(root: &Path) -> anyhow::Result<()> {
    let file = root.join(FILE);
    std::fs::write(&file, generate(root)?).with_context(|| format!("could not write `{FILE}`"))
}

/// Fails where the committed file is not what the Rust types say.
pub(crate) fn check(root: &Path) -> anyhow::Result<()> {
    let committed = std::fs::read_to_string(root.join(FILE))
        .with_context(|| format!("could not read `{FILE}`"))?;
    if committed != generate(root)? {
        bail!("`{FILE}` is not what the Rust types say; run `cargo xtask types`");
    }
    Ok(())
}

fn generate(root: &Path) -> anyhow::Result<String> {
    let output = Command::new(env!("CARGO"))
        .current_dir(root)
        .args(["run", "--quiet", "--package", "rallytide-court"])
        .args(["--features", "ts", "--example", "page_types"])
        .output()
        .context("could not run cargo")?;
    if !output.status.success() {
        bail!(
            "the types could not be written out: {}",
            String::from_utf8_lossy(&output.stderr)
        );
    }
    String::from_utf8(output.stdout).context("the types are no text")
}
