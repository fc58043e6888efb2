//! Builds what is built into the binary as WebAssembly: the first-party
//! plugins for the sandbox, and chart and score for the charters' page. So a
//! plain `cargo build` is all it takes.
//!
//! The guests get a target folder of their own beside the host's: the outer
//! cargo holds the lock on its own one.

use std::env;
use std::error::Error;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const TARGET: &str = "wasm32-unknown-unknown";

/// Chart and score for the charters' page.
const CHART_WASM: &str = "rallytide-chart-wasm";

/// What the built files depend on, besides the plugins' own folders. A new
/// plugin shows in the workspace's `Cargo.toml`; the whole of `plugins` is not
/// watched, because the examples in there bring packages of their own along.
const WATCHED: &[&str] = &[
    "Cargo.toml",
    "crates/chart/src",
    "crates/plugin-kit/src",
    "crates/plugin-kit/wit",
    "crates/chart-wasm/src",
    "crates/scoring/src",
];

fn main() -> Result<(), Box<dyn Error>> {
    let workspace = Path::new(&env::var("CARGO_MANIFEST_DIR")?).join("../..");
    for watched in WATCHED {
        println!(
            "cargo::rerun-if-changed={}",
            workspace.join(watched).display()
        );
    }
    let out = PathBuf::from(env::var("OUT_DIR")?);
    let plugins = first_party(&workspace)?;
    for plugin in &plugins {
        let folder = plugin.trim_start_matches("rallytide-");
        let folder = workspace.join("plugins").join(folder);
        println!("cargo::rerun-if-changed={}", folder.display());
    }
    have_target()?;
    let mut packages = plugins.clone();
    packages.push(CHART_WASM.to_owned());
    let built = build(&workspace, &guests_folder(&out)?, &packages)?;
    let file = |package: &str| {
        let file = built.join(format!("{}.wasm", package.replace('-', "_")));
        file.display().to_string()
    };

    let mut list = String::from("&[\n");
    for plugin in &plugins {
        let file = file(plugin);
        writeln!(list, "    ({plugin:?}, include_bytes!({file:?})),")?;
    }
    list.push_str("]\n");
    fs::write(out.join("first_party.rs"), list)?;
    let chart_wasm = format!("include_bytes!({:?})", file(CHART_WASM));
    fs::write(out.join("chart_wasm.rs"), chart_wasm)?;
    Ok(())
}

/// The packages in `plugins/`, sorted.
fn first_party(workspace: &Path) -> Result<Vec<String>, Box<dyn Error>> {
    let mut plugins = Vec::new();
    for folder in fs::read_dir(workspace.join("plugins"))? {
        let folder = folder?;
        if folder.path().join("Cargo.toml").is_file() {
            let name = folder.file_name().to_string_lossy().into_owned();
            plugins.push(format!("rallytide-{name}"));
        }
    }
    plugins.sort();
    Ok(plugins)
}

/// `target/guests`, wherever the target folder is.
fn guests_folder(out: &Path) -> Result<PathBuf, Box<dyn Error>> {
    // <target>/<profile>/build/<package>/out
    let target = out
        .ancestors()
        .nth(4)
        .ok_or("OUT_DIR is not inside a target folder")?;
    Ok(target.join("guests"))
}

/// Adds the target to the toolchain if it is missing.
fn have_target() -> Result<(), Box<dyn Error>> {
    let rustc = env::var("RUSTC").unwrap_or_else(|_| "rustc".into());
    let printed = Command::new(rustc)
        .args(["--print", "target-libdir", "--target", TARGET])
        .output()?;
    let libraries = PathBuf::from(String::from_utf8(printed.stdout)?.trim());
    if libraries.is_dir() {
        return Ok(());
    }
    let hint = format!("the target `{TARGET}` is missing; run `rustup target add {TARGET}`");
    match Command::new("rustup")
        .args(["target", "add", TARGET])
        .status()
    {
        Ok(status) if status.success() => Ok(()),
        _ => Err(hint.into()),
    }
}

fn build(
    workspace: &Path,
    target_folder: &Path,
    packages: &[String],
) -> Result<PathBuf, Box<dyn Error>> {
    let mut cargo = Command::new(env::var("CARGO")?);
    cargo
        .current_dir(workspace)
        // What is set for the host's build (a linter in front of the compiler,
        // flags for the machine) does not fit the guests'.
        .env_remove("RUSTC_WORKSPACE_WRAPPER")
        .env_remove("CARGO_ENCODED_RUSTFLAGS")
        .env_remove("RUSTFLAGS")
        .args([
            "build",
            "--quiet",
            "--lib",
            "--profile",
            "guest",
            "--target",
            TARGET,
        ])
        .arg("--target-dir")
        .arg(target_folder);
    for package in packages {
        cargo.args(["--package", package]);
    }
    if !cargo.status()?.success() {
        return Err("the built-in WebAssembly could not be built; see above".into());
    }
    Ok(target_folder.join(TARGET).join("guest"))
}
