//! Reading a chart from the command line.

use std::io::{Read, Write};
use std::path::Path;

use anyhow::Context;
use rallytide_chart::Chart;
use rallytide_court::{Inspection, inspect};

use crate::failure::Failure;

/// Reads a file, or the standard input for `-`.
pub(crate) fn read(file: &Path) -> Result<Vec<u8>, Failure> {
    let read = if file == Path::new("-") {
        let mut bytes = Vec::new();
        std::io::stdin()
            .lock()
            .read_to_end(&mut bytes)
            .map(|_| bytes)
            .context("could not read the standard input")
    } else {
        std::fs::read(file)
            .with_context(|| format!("could not read the chart `{}`", file.display()))
    };
    read.map_err(|error| {
        Failure::outside_with(error, Some("name an existing chart file (JSON Lines)"))
    })
}

/// Reads a chart that has to be sound. What is odd is reported on the standard
/// error; what would be refused ends the command. Entries that came after the
/// match was over change nothing and are only mentioned.
pub(crate) fn read_chart(file: &Path) -> Result<Chart, Failure> {
    let Inspection {
        chart,
        problems,
        late,
        notes,
        flagged: _,
    } = inspect(&read(file)?);
    let mut words = std::io::stderr().lock();
    let name = file.display();
    for note in notes {
        writeln!(words, "note: {name}, line {}: {}", note.line, note.message)?;
    }
    for problem in &late {
        writeln!(words, "note: {name}, {problem}; it changes nothing")?;
    }
    for problem in &problems {
        writeln!(
            words,
            "{name}, {problem} ({})",
            problem.refusal.code().word()
        )?;
    }
    match chart {
        Some(chart) if problems.is_empty() => Ok(chart),
        _ => Err(Failure::input(format!(
            "the chart `{name}` has {} line(s) that cannot be used; mend them, `rallytide check` \
             shows all",
            problems.len()
        ))),
    }
}
