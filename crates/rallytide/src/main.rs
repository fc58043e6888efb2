//! The program: flags, wiring, exit codes. Each command is a file in
//! `commands`; what they do lives in the other crates.

mod cli;
mod client;
mod commands;
mod config;
mod data_folder;
mod failure;
mod input;
mod plugin_desk;
mod plugins;
mod reach;
mod stop_signals;

use std::io::IsTerminal;
use std::process::ExitCode;

use clap::Parser;

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

/// Log lines go to the standard error; `RALLYTIDE_LOG` says how many.
fn start_tracing() {
    let filter = tracing_subscriber::EnvFilter::try_from_env("RALLYTIDE_LOG")
        .unwrap_or_else(|_| tracing_subscriber::EnvFilter::new("warn"));
    tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(std::io::stderr)
        .with_ansi(std::io::stderr().is_terminal())
        .with_target(false)
        .init();
}
