//! `rallytide plugin check FILE`: whether a plugin loads, what it is, and what
//! it takes of what it may on a chart.
//!
//! What is printed is counted, not timed: the same file, chart and version give
//! the same report. How long it took on this machine goes to the standard error.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::Context;
use clap::Args;
use rallytide_chart::{Chart, EntryId, Kind};
use rallytide_court::{inspect, run_over, walk_readings};
use rallytide_plugin_host::limits::{MEMORY_BYTES, READINGS_PER_PLUGIN, START_FUEL, STEP_FUEL};
use rallytide_plugin_host::{
    LogLine, PluginCode, PluginHealth, PluginSet, PluginState, Run, SettingForm,
};
use rallytide_readings::Name;
use rallytide_simulate::{Plan, simulate};

use super::test_bench::TestBench;
use crate::failure::Failure;
use crate::input;

#[derive(Debug, Args)]
pub(super) struct CheckPlugin {
    /// The built plugin (`*.wasm`).
    file: PathBuf,
    /// The chart to run it over (JSON Lines); `-` reads the standard input
    /// [default: a made-up match].
    #[arg(long, value_name = "CHART")]
    on: Option<PathBuf>,
}

/// The made-up match that a plugin is run over where no chart is named.
const MADE_UP: u64 = 1;

/// What the calls of a run cost, each told from the one before it.
struct Cost {
    start: u64,
    calls: u64,
    fuel: u64,
    dearest: u64,
    dearest_at: Option<EntryId>,
}

pub(super) fn run(options: &CheckPlugin) -> Result<(), Failure> {
    let (chart, named) = match &options.on {
        Some(file) => (input::read_chart(file)?, format!("`{}`", file.display())),
        None => {
            let command = format!("rallytide simulate --seed {MADE_UP}");
            (made_up()?, format!("a made-up match (`{command}`)"))
        }
    };
    let bench = TestBench::new()?;
    let code = bench.load(&options.file)?;
    let mut out = std::io::stdout().lock();
    print_manifest(&mut out, &code, &bench, &options.file)?;
    let plugin_set = bench.assemble(&code, &[])?;
    let mut cost = Cost::of_start(&chart, &plugin_set, code.id());
    let mut entries = 0;
    let run = walk_readings(&chart, &plugin_set, |entry, run| {
        entries += 1;
        if let Some(health) = health_of(run, code.id()) {
            cost.count(&health, &entry.id);
        }
    });
    let health = health_of(&run, code.id())
        .context("the plugin is not among those that ran")
        .map_err(Failure::outside)?;
    print_cost(&mut out, &code, &cost, &health, (&named, entries))?;
    out.flush()?;
    eprintln!(
        "on this machine: {} µs for all of it, {} µs for the longest call",
        health.time_us, health.most_time_us
    );
    verdict(health.state)
}

fn made_up() -> Result<Chart, Failure> {
    let lines = simulate(&Plan::new(MADE_UP))
        .context("could not make up a match")
        .map_err(Failure::outside)?;
    inspect(lines.join("\n").as_bytes())
        .chart
        .context("the made-up match has no header")
        .map_err(Failure::outside)
}

fn health_of(run: &Run, plugin: &Name) -> Option<PluginHealth> {
    let mut all = run.health().into_iter();
    all.find(|health| health.plugin == *plugin)
}

impl Cost {
    /// The start alone: what a run over the chart has cost before any entry.
    fn of_start(chart: &Chart, plugin_set: &PluginSet, plugin: &Name) -> Self {
        let nothing_yet = Chart::new(chart.header().as_ref().clone());
        let run = run_over(&nothing_yet, plugin_set);
        let (calls, fuel) =
            health_of(&run, plugin).map_or((0, 0), |health| (health.calls, health.fuel));
        Self {
            start: fuel,
            calls,
            fuel,
            dearest: 0,
            dearest_at: None,
        }
    }

    /// Counts the calls for an entry, from the plugin's numbers after it.
    fn count(&mut self, health: &PluginHealth, entry: &EntryId) {
        if health.calls == self.calls {
            return;
        }
        let fuel = health.fuel - self.fuel;
        if fuel > self.dearest {
            self.dearest = fuel;
            self.dearest_at = Some(entry.clone());
        }
        self.calls = health.calls;
        self.fuel = health.fuel;
    }
}

fn print_manifest(
    out: &mut impl Write,
    code: &PluginCode,
    bench: &TestBench,
    file: &Path,
) -> std::io::Result<()> {
    let manifest = code.manifest();
    writeln!(
        out,
        "{} {}: {}",
        manifest.id, manifest.version, manifest.about
    )?;
    writeln!(out, "  file      {}, {} bytes", file.display(), code.size())?;
    writeln!(out, "  sha256    {}", code.sha256())?;
    writeln!(out, "  provides  {}", manifest.provides.join(", "))?;
    if manifest.reads.is_empty() {
        writeln!(out, "  reads     no other plugin's indicators")?;
    }
    for indicator in &manifest.reads {
        match bench.provider(indicator) {
            Some(owner) => writeln!(
                out,
                "  reads     {indicator}, of the plugin `{}`",
                owner.id()
            )?,
            None => writeln!(
                out,
                "  reads     {indicator}, which no first-party plugin provides"
            )?,
        }
    }
    if let Some(kinds) = &manifest.called_for {
        writeln!(
            out,
            "  called    {}",
            called_for(kinds, !manifest.reads.is_empty())
        )?;
    }
    for offer in &manifest.settings {
        let form = form(&offer.form);
        writeln!(out, "  setting   {}: {form}. {}", offer.name, offer.about)?;
    }
    Ok(())
}

/// For which entries a plugin is called that is not called for all.
fn called_for(kinds: &BTreeSet<Kind>, reads: bool) -> String {
    let mut words: Vec<String> = kinds.iter().map(|kind| format!("for a `{kind}`")).collect();
    words.push("where the score changes".into());
    if reads {
        words.push("where a reading it reads changes".into());
    }
    words.join(", ")
}

fn form(form: &SettingForm) -> String {
    match form {
        SettingForm::Number { from, to, default } => {
            format!("a number from {from} to {to}, {default} unless set")
        }
        SettingForm::Whole { from, to, default } => {
            format!("a whole number from {from} to {to}, {default} unless set")
        }
        SettingForm::Truth { default } => format!("true or false, {default} unless set"),
        SettingForm::Choice { choices } => {
            let default = form.default_value();
            format!("one of {}, {default} unless set", choices.join(", "))
        }
        SettingForm::Text { longest, default } => {
            format!("a text of at most {longest} characters, `{default}` unless set")
        }
    }
}

fn print_cost(
    out: &mut impl Write,
    code: &PluginCode,
    cost: &Cost,
    health: &PluginHealth,
    (named, entries): (&str, u64),
) -> std::io::Result<()> {
    let describe = code.describe_fuel();
    let calls = health.calls.saturating_sub(1);
    let all = cost.fuel - cost.start;
    writeln!(out, "on {named}, {entries} entries:")?;
    writeln!(out, "  describe  fuel {describe} of {START_FUEL}")?;
    writeln!(out, "  start     fuel {} of {START_FUEL}", cost.start)?;
    let mean = all.checked_div(calls).unwrap_or_default();
    let called = match calls {
        all if all == entries => String::new(),
        some => format!("called for {some} of them, "),
    };
    writeln!(out, "  entries   {called}fuel {all}, {mean} each")?;
    if let Some(entry) = &cost.dearest_at {
        let dearest = cost.dearest;
        writeln!(
            out,
            "  dearest   fuel {dearest} of {STEP_FUEL}, at entry `{entry}`"
        )?;
    }
    writeln!(
        out,
        "  memory    {} of {MEMORY_BYTES} bytes at the end",
        health.memory_bytes
    )?;
    writeln!(
        out,
        "  readings  {} of {READINGS_PER_PLUGIN} at the end",
        health.readings
    )?;
    let (kept, dropped) = (health.log.len(), health.log_dropped);
    writeln!(out, "  log       {kept} lines, {dropped} more dropped")?;
    for line in &health.log {
        writeln!(out, "    {}", log_line(line))?;
    }
    Ok(())
}

/// A line of a plugin's log, for people.
pub(super) fn log_line(line: &LogLine) -> String {
    let severity = format!("{:?}", line.severity).to_lowercase();
    format!("{severity} at {}: {}", line.seq.0, line.text)
}

/// Success for a plugin that still runs at the end.
pub(super) fn verdict(state: PluginState) -> Result<(), Failure> {
    match state {
        PluginState::Running => Ok(()),
        PluginState::Stopped { fault } => {
            let hint = fault.kind.hint();
            let hint = hint.map_or_else(String::new, |hint| format!("\nhint: {hint}"));
            let kind = fault.kind.word();
            Err(Failure::input(format!("{fault} ({kind}){hint}")))
        }
        PluginState::Failed { fault } => Err(Failure::outside(fault)),
        PluginState::SwitchedOff { why } => Err(Failure::input(why)),
        PluginState::Suspended { missing } => {
            let missing: Vec<String> = missing.iter().map(ToString::to_string).collect();
            Err(Failure::input(format!(
                "the plugin waits for {}",
                missing.join(" and ")
            )))
        }
    }
}
