//! Tables for spreadsheets: CSV by RFC 4180 (CRLF, quotes where needed, the same
//! number of fields in every line), in UTF-8.
//!
//! Numbers are plain numbers with a full stop, yes and no are 1 and 0, what is
//! not known, not charted or does not apply is empty. A text that a spreadsheet would take for
//! a formula gets an apostrophe in front. Names and order of the columns are
//! fixed; new ones are added at the end. Their meaning is said beside each and in
//! this crate's README.

mod cell;
mod events;
mod rallies;
mod readings;
mod shots;

use std::io::{self, Write};

use rallytide_match_record::MatchRecord;

/// Last in every table, because no other cell can be read without it.
const CHARTING: (&str, &str) = (
    "charting",
    "how much was charted of the match: `score` (who won each rally), `ends` (how rallies ended, and cues), `shots` (every shot)",
);

/// Which table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Table {
    /// A line a shot, assumed ones included.
    Shots,
    /// A line a rally.
    Rallies,
    /// A line for whatever happened beside the rallies.
    Events,
    /// A line for every reading at the end of the chart.
    Readings,
}

impl Table {
    /// All of them.
    pub const ALL: &[Self] = &[Self::Shots, Self::Rallies, Self::Events, Self::Readings];

    /// The columns in order: name and meaning.
    pub fn columns(self) -> impl Iterator<Item = (&'static str, &'static str)> {
        let own = match self {
            Self::Shots => shots::COLUMNS,
            Self::Rallies => rallies::COLUMNS,
            Self::Events => events::COLUMNS,
            Self::Readings => readings::COLUMNS,
        };
        own.iter().copied().chain([CHARTING])
    }
}

/// Whether a table begins with the byte order mark of UTF-8.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ByteOrderMark {
    /// It does not, as most programs expect.
    Without,
    /// It does: some spreadsheet programs tell UTF-8 from older encodings by it.
    With,
}

/// Writes `table` of the match.
///
/// # Errors
/// What `out` says when it cannot take more.
pub fn write(
    record: &MatchRecord,
    table: Table,
    mark: ByteOrderMark,
    mut out: impl Write,
) -> io::Result<()> {
    if mark == ByteOrderMark::With {
        out.write_all(b"\xef\xbb\xbf")?;
    }
    let mut lines = ::csv::WriterBuilder::new()
        .terminator(::csv::Terminator::CRLF)
        .from_writer(out);
    let names = table.columns().map(|(name, _)| name);
    lines.write_record(names).map_err(of_the_writer)?;
    let depth = record.charting_depth();
    let rows = match table {
        Table::Shots => shots::rows(record),
        Table::Rallies => rallies::rows(record),
        Table::Events => events::rows(record),
        Table::Readings => readings::rows(record),
    };
    for mut row in rows {
        row.push(depth.word().into());
        lines.write_record(row).map_err(of_the_writer)?;
    }
    lines.flush()
}

/// The writer's own error, with its kind: a reader that has gone away is no fault.
fn of_the_writer(error: ::csv::Error) -> io::Error {
    match error.into_kind() {
        ::csv::ErrorKind::Io(error) => error,
        other => io::Error::other(format!("{other:?}")),
    }
}
