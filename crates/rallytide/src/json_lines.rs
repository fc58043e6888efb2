//! Machine output: a JSON object a line.

use std::io::Write;

use rallytide_chart::EntryId;
use rallytide_readings::Reading;
use serde::Serialize;

/// Readings after one entry.
#[derive(Serialize)]
pub(crate) struct EntryReadings<'a> {
    pub(crate) entry: &'a EntryId,
    pub(crate) readings: Vec<&'a Reading>,
}

/// Prints one line.
pub(crate) fn print_line(line: &impl Serialize, out: &mut impl Write) -> std::io::Result<()> {
    serde_json::to_writer(&mut *out, line).map_err(std::io::Error::from)?;
    writeln!(out)
}
