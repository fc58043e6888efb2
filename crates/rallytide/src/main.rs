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
/// levels by crate like `warn,rallytide_server=debug`.
fn start_tracing() {
    let default = Targets::new().with_default(LevelFilter::WARN);
    let (filter, unread) = match std::env::var("RALLYTIDE_LOG") {
        Ok(wanted) => match wanted.parse() {
            Ok(filter) => (filter, None),
            Err(_) => (default, Some(wanted)),
        },
        Err(_) => (default, None),
    };
    let lines = tracing_subscriber::fmt::layer()
        .with_writer(std::io::stderr)
        .with_ansi(std::io::stderr().is_terminal())
        .with_target(false);
    tracing_subscriber::registry()
        .with(lines.with_filter(filter))
        .init();
    if let Some(unread) = unread {
        tracing::warn!("`RALLYTIDE_LOG` says `{unread}`, which is no level; it is taken as `warn`");
    }
}
