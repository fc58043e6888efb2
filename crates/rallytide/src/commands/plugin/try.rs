//! `rallytide plugin try FILE CHART`: runs a plugin over a chart. Its readings
//! go to the standard output as JSON Lines, its log to the standard error.
//!
//! With `--watch` it runs again whenever the file has other bytes than at the
//! last run; a file that is refused or at fault is reported, and the next one waited for.

use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver};

use anyhow::Context;
use clap::Args;
use rallytide_chart::Chart;
use rallytide_court::walk_readings;
use rallytide_plugin_host::PluginHealth;
use rallytide_plugin_registry::watch;
use rallytide_readings::{Name, Reading};

use super::check::{log_line, verdict};
use super::test_bench::TestBench;
use crate::failure::Failure;
use crate::input;
use crate::json_lines::{EntryReadings, print_line};

#[derive(Debug, Args)]
pub(super) struct TryPlugin {
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

pub(super) fn run(options: &TryPlugin) -> Result<(), Failure> {
    let chart = input::read_chart(&options.chart)?;
    let bench = TestBench::new()?;
    if options.watch {
        watched(options, &chart, &bench)
    } else {
        once(options, &chart, &bench)
    }
}

fn once(options: &TryPlugin, chart: &Chart, bench: &TestBench) -> Result<(), Failure> {
    let code = bench.load(&options.file)?;
    let plugin_set = bench.assemble(&code, &options.settings)?;
    let own = |reading: &&Reading| reading.plugin == *code.id();
    let mut out = BufWriter::new(std::io::stdout().lock());
    let mut printed = Ok(());
    let run = walk_readings(chart, &plugin_set, |entry, run| {
        if options.each && printed.is_ok() {
            let line = EntryReadings {
                entry: &entry.id,
                readings: run.readings().filter(own).collect(),
            };
            printed = print_line(&line, &mut out);
        }
    });
    printed?;
    if !options.each {
        for reading in run.readings().filter(own) {
            print_line(reading, &mut out)?;
        }
    }
    out.flush()?;
    let health = run.health();
    // A source that was stopped leaves its reader without readings to read.
    for health in health.into_iter().rev() {
        if health.plugin == *code.id() {
            say_log(&health, code.id())?;
        }
        verdict(health.state)?;
    }
    Ok(())
}

fn say_log(health: &PluginHealth, plugin: &Name) -> std::io::Result<()> {
    let mut words = std::io::stderr().lock();
    for line in &health.log {
        writeln!(words, "{plugin}: {}", log_line(line))?;
    }
    if health.log_dropped > 0 {
        writeln!(
            words,
            "{plugin}: {} more lines were not kept",
            health.log_dropped
        )?;
    }
    Ok(())
}

/// Runs until nobody reads the output any more, or something outside fails.
fn watched(options: &TryPlugin, chart: &Chart, bench: &TestBench) -> Result<(), Failure> {
    let folder = match options.file.parent() {
        Some(folder) if folder != Path::new("") => folder.to_owned(),
        _ => PathBuf::from("."),
    };
    // One waiting message says all that more of them would.
    let (send, changes) = mpsc::sync_channel(1);
    let _watch = watch(&folder, move || {
        let _full_or_gone = send.try_send(());
    })
    .map_err(|error| Failure::outside_with(error, Some("name a file in an existing folder")))?;
    let mut last = None;
    loop {
        let bytes = std::fs::read(&options.file).ok();
        if bytes.is_none() && last.is_none() {
            eprintln!("waiting for `{}`", options.file.display());
        }
        if bytes.is_some() && bytes != last {
            match once(options, chart, bench) {
                Ok(()) => {}
                Err(failure @ (Failure::NobodyReads | Failure::Usage(_))) => return Err(failure),
                Err(failure) => {
                    let _status = failure.report();
                }
            }
            eprintln!("watching `{}`; Ctrl-C ends", options.file.display());
            last = bytes;
        }
        next(&changes)?;
    }
}

fn next(changes: &Receiver<()>) -> Result<(), Failure> {
    changes
        .recv()
        .context("the plugin's folder is watched no more")
        .map_err(Failure::outside)
}

/// A setting as it is typed.
fn setting(text: &str) -> Result<(String, String), String> {
    match text.split_once('=') {
        Some((name, value)) if !name.is_empty() => Ok((name.to_owned(), value.to_owned())),
        _ => Err("a name, `=` and a value, like `shots=12`".into()),
    }
}
