//! Running one check after the other, and saying at the end what passed.

use std::path::Path;
use std::process::Command;
use std::time::Instant;

use anyhow::bail;

/// The checks of one run.
#[derive(Default)]
pub(crate) struct Steps {
    passed: Vec<String>,
    failed: Vec<String>,
}

impl Steps {
    /// Runs a check; a failure is noted and the rest goes on.
    pub(crate) fn run(&mut self, name: &str, check: impl FnOnce() -> anyhow::Result<()>) {
        println!("\n== {name}");
        let start = Instant::now();
        match check() {
            Ok(()) => {
                println!("== {name}: passed, {} s", start.elapsed().as_secs());
                self.passed.push(name.to_owned());
            }
            Err(error) => {
                eprintln!("== {name}: failed: {error:#}");
                self.failed.push(name.to_owned());
            }
        }
    }

    /// Says what passed and what failed.
    pub(crate) fn close(self) -> anyhow::Result<()> {
        println!();
        for name in &self.failed {
            println!("failed: {name}");
        }
        println!("{} passed, {} failed", self.passed.len(), self.failed.len());
        if self.failed.is_empty() {
            Ok(())
        } else {
            bail!("not everything passed")
        }
    }
}

/// Runs a program in a folder; anything but success is an error.
pub(crate) fn program(
    folder: &Path,
    program: &str,
    arguments: &[&str],
    variables: &[(&str, &str)],
) -> anyhow::Result<()> {
    let status = Command::new(program)
        .current_dir(folder)
        .args(arguments)
        .envs(variables.iter().copied())
        .status()?;
    if !status.success() {
        bail!("`{program} {}` ended with {status}", arguments.join(" "));
    }
    Ok(())
}
