//! `rallytide readings FILE`: what the plugins make of a chart.

use std::collections::BTreeSet;
use std::io::{BufWriter, Write};

use rallytide_court::{run_over, walk_readings};
use rallytide_readings::{Name, Reading};

use crate::cli;
use crate::failure::Failure;
use crate::json_lines::{EntryReadings, print_line};
use crate::{input, plugins};

pub(crate) fn run(options: &cli::Readings) -> Result<(), Failure> {
    let chart = input::read_chart(&options.file)?;
    let plugin_set =
        plugins::plugin_set(options.plugins.as_deref(), &plugins::Settings::default())?;
    let provided: BTreeSet<&str> = plugin_set
        .plugins()
        .flat_map(|plugin| plugin.manifest().provides.iter().map(Name::as_str))
        .collect();
    for wanted in &options.only {
        if !provided.contains(wanted.as_str()) {
            let provided: Vec<&str> = provided.into_iter().collect();
            return Err(Failure::Usage(format!(
                "no plugin provides the indicator `{wanted}`; there are {}",
                provided.join(", ")
            )));
        }
    }
    let wanted = |reading: &&Reading| {
        options.only.is_empty() || options.only.iter().any(|only| only == reading.indicator())
    };
    let mut out = BufWriter::new(std::io::stdout().lock());
    let run = if options.each {
        let mut printed = Ok(());
        let run = walk_readings(&chart, &plugin_set, |entry, run| {
            if printed.is_ok() {
                let line = EntryReadings {
                    entry: &entry.id,
                    readings: run.readings().filter(wanted).collect(),
                };
                printed = print_line(&line, &mut out);
            }
        });
        printed?;
        run
    } else {
        let run = run_over(&chart, &plugin_set);
        for reading in run.readings().filter(wanted) {
            print_line(reading, &mut out)?;
        }
        run
    };
    out.flush()?;
    plugins::report_faults(&run)
}
