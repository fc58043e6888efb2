//! Matches: planned, imported, begun.

use rallytide_court::MatchPhase;
use serde::Serialize;
use serde_json::{Map, Value};

/// The forms that a match can be taken away in.
#[cfg(feature = "schema")]
pub(crate) const EXPORT_FILES: &[&str] = &[
    "shots.csv",
    "rallies.csv",
    "events.csv",
    "readings.csv",
    "captions.vtt",
    "chapters.vtt",
    "match.html",
];

/// A match with the header it has from now on.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct PlannedMatch {
    pub(crate) id: String,
    #[cfg_attr(feature = "schema", ts(type = "DeskHeader"))]
    pub(crate) header: Map<String, Value>,
}

/// `GET /matches.json`: the matches that have been begun, by id.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct BegunMatches {
    pub(crate) matches: Vec<BegunMatch>,
}

/// A match that has been begun.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct BegunMatch {
    pub(crate) id: String,
    pub(crate) state: MatchPhase,
    #[cfg_attr(feature = "schema", ts(type = "DeskHeader"))]
    pub(crate) header: Map<String, Value>,
}

/// What came of a sheet: its matches, or everything that is wrong with it.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ImportAnswer {
    #[cfg_attr(feature = "schema", ts(type = "DeskHeader[]"))]
    pub(crate) matches: Vec<Map<String, Value>>,
    /// Columns that mean nothing here and were left aside, as they were written.
    pub(crate) ignored: Vec<String>,
    /// Rows that are no matches.
    pub(crate) left_out: Vec<LeftOutRow>,
    pub(crate) problems: Vec<ImportProblem>,
    /// How the sheet was read; null where it could not be.
    pub(crate) sheet: Option<ReadSheet>,
}

/// A row that is no match.
#[derive(Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct LeftOutRow {
    pub(crate) line: usize,
    pub(crate) why: &'static str,
    /// What stands in the row.
    pub(crate) row: String,
}

/// How a sheet was read, for whoever has to say which column is which.
#[derive(Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ReadSheet {
    /// In words: `text with tabs between its cells, UTF-8`.
    pub(crate) form: String,
    /// The tabs of a workbook that hold anything.
    pub(crate) tabs: Vec<SheetTab>,
    /// The tab that was read.
    pub(crate) tab: Option<String>,
    /// The row of the headings; null where there are none.
    pub(crate) heading: Option<usize>,
    /// The first rows, one of which may be the headings.
    pub(crate) first_rows: Vec<SheetRow>,
    pub(crate) columns: Vec<SheetColumn>,
    /// Whether it can be told which columns name the two teams.
    pub(crate) is_clear: bool,
}

/// A tab of a workbook.
#[derive(Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct SheetTab {
    pub(crate) name: String,
    pub(crate) has_matches: bool,
}

/// A row near the top of a sheet.
#[derive(Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct SheetRow {
    pub(crate) line: usize,
    pub(crate) row: String,
}

/// A column of a sheet.
#[derive(Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct SheetColumn {
    /// What a spreadsheet shows over it: `A`.
    pub(crate) letters: String,
    /// Its heading; may be empty.
    pub(crate) heading: String,
    /// What it means, as the address of an import says it; null: nothing here.
    pub(crate) meaning: Option<&'static str>,
    /// The first cells below the heading.
    pub(crate) examples: Vec<String>,
}

/// What is wrong with a row.
#[derive(Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ImportProblem {
    /// As the spreadsheet counts its rows; null where it is about the whole sheet.
    pub(crate) line: Option<usize>,
    /// Where one cell is at fault, what the sheet calls its column.
    pub(crate) column: Option<String>,
    /// What is wrong and what to do, in sentences.
    pub(crate) message: String,
    /// What stands in the row.
    pub(crate) row: String,
}
