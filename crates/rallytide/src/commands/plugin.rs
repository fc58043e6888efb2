//! `rallytide plugin …`: what plugin authors need. One command a file; what
//! they share, loading a file and putting it beside the first-party plugins, is
//! [`mod@bench`].

mod bench;
mod check;
mod kit;
mod new;
mod r#try;

use std::path::PathBuf;

use clap::{Args, Subcommand};

use crate::failure::Failure;

#[derive(Debug, Args)]
pub(crate) struct Plugin {
    #[command(subcommand)]
    command: PluginCommand,
}

#[derive(Debug, Subcommand)]
enum PluginCommand {
    /// Write a small project for a plugin in Rust, with a test and all it needs.
    New(New),
    /// Check a built plugin: does it load, what does it provide, what does it
    /// take of what it may.
    Check(Check),
    /// Run a built plugin over a chart and print its readings.
    Try(Try),
}

#[derive(Debug, Args)]
struct New {
    /// The plugin's id: lower case letters, digits and `-`, a letter first.
    name: String,
    /// The folder to make [default: NAME, here].
    #[arg(long, value_name = "DIR")]
    dir: Option<PathBuf>,
}

#[derive(Debug, Args)]
struct Check {
    /// The built plugin (`*.wasm`).
    file: PathBuf,
    /// The chart to run it over (JSON Lines); `-` reads the standard input
    /// [default: a made-up match].
    #[arg(long, value_name = "CHART")]
    on: Option<PathBuf>,
}

#[derive(Debug, Args)]
struct Try {
    /// The built plugin (`*.wasm`).
    file: PathBuf,
    /// The chart (JSON Lines); `-` reads the standard input.
    chart: PathBuf,
    /// All its readings after each entry, a line an entry, instead of the final ones.
    #[arg(long)]
    each: bool,
    /// Run again each time the file has changed, until interrupted.
    #[arg(long)]
    watch: bool,
    /// A setting of the plugin; may be given several times.
    #[arg(long = "set", value_name = "NAME=VALUE", value_parser = setting)]
    settings: Vec<(String, String)>,
}

pub(crate) fn run(options: &Plugin) -> Result<(), Failure> {
    match &options.command {
        PluginCommand::New(options) => new::run(options),
        PluginCommand::Check(options) => check::run(options),
        PluginCommand::Try(options) => r#try::run(options),
    }
}

fn setting(text: &str) -> Result<(String, String), String> {
    match text.split_once('=') {
        Some((name, value)) if !name.is_empty() => Ok((name.to_owned(), value.to_owned())),
        _ => Err("a name, `=` and a value, like `shots=12`".into()),
    }
}
