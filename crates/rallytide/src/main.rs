//! The program: flags, wiring, exit codes. Each command is a file in
//! `commands`; what they do lives in the other crates.

mod cli;
mod client;
mod commands;
mod config;
mod data_folder;
mod failure;
mod input;
mod json_lines;
mod plugin_desk;
mod plugins;
mod reach;
mod stop_signals;

use std::io::IsTerminal;
use std::process::ExitCode;

use clap::Parser;
use tracing_subscriber::Layer as _;
use tracing_subscriber::filter::{LevelFilter, Targets};
use tracing_subscriber::layer::SubscriberExt as _;
use tracing_subscriber::util::SubscriberInitExt as _;

use crate::cli::{Arguments, Command};

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    start_tracing();
    let done = match arguments.command {
        Command::Serve(options) => commands::serve::run(&options),
        Command::Demo(options) => commands::demo::run(&options),
        Command::Feed(options) => commands::feed::run(&options),
        Command::Score(options) => commands::score::run(&options),
        Command::Readings(options) => commands::readings::run(&options),
        Command::Check(options) => commands::check::run(&options),
        Command::Export(options) => commands::export::run(&options),
        Command::Agree(options) => commands::agree::run(&options),
        Command::Simulate(options) => commands::simulate::run(&options),
        Command::Plugin(options) => commands::plugin::run(&options),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.report(),
    }
}

/// Log lines go to the standard error; `RALLYTIDE_LOG` says which: a level, or
/// levels by crate like `warn,rallytide_server=debug`. `RALLYTIDE_LOG_FORMAT=json`
/// writes each as a JSON object, for programs that collect logs.
fn start_tracing() {
    let default = Targets::new().with_default(LevelFilter::WARN);
    let (filter, unread) = match std::env::var("RALLYTIDE_LOG") {
        Ok(wanted) => match wanted.parse() {
            Ok(filter) => (filter, None),
            Err(_) => (default, Some(wanted)),
        },
        Err(_) => (default, None),
    };
    let format = std::env::var("RALLYTIDE_LOG_FORMAT").unwrap_or_default();
    let lines = tracing_subscriber::fmt::layer().with_writer(std::io::stderr);
    let lines = if format == "json" {
        lines.json().flatten_event(true).boxed()
    } else {
        let is_terminal = std::io::stderr().is_terminal();
        lines.with_ansi(is_terminal).with_target(false).boxed()
    };
    tracing_subscriber::registry()
        .with(lines.with_filter(filter))
        .init();
    if let Some(unread) = unread {
        tracing::warn!("`RALLYTIDE_LOG` says `{unread}`, which is no level; it is taken as `warn`");
    }
    if !matches!(format.as_str(), "" | "text" | "json") {
        tracing::warn!(
            "`RALLYTIDE_LOG_FORMAT` says `{format}`; there are `text` and `json`, and it is taken \
             as `text`"
        );
    }
}
