//! `rallytide plugin …`: what plugin authors need. One command a file; what
//! they share, loading a file and putting it beside the first-party plugins, is
//! [`mod@test_bench`].

mod check;
mod kit;
mod new;
mod test_bench;
mod r#try;

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
    New(new::NewPlugin),
    /// Check a built plugin: does it load, what does it provide, what does it
    /// take of what it may.
    Check(check::CheckPlugin),
    /// Run a built plugin over a chart and print its readings.
    Try(r#try::TryPlugin),
}

pub(crate) fn run(options: &Plugin) -> Result<(), Failure> {
    match &options.command {
        PluginCommand::New(options) => new::run(options),
        PluginCommand::Check(options) => check::run(options),
        PluginCommand::Try(options) => r#try::run(options),
    }
}
