//! Why a file is no table of matches at all. Each says what was found and what to
//! do, in words for whoever made the file.

/// A file that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unreadable {
    /// Nothing is in it.
    #[error(
        "There is nothing in this file. Save the sheet again, with its matches, and import it."
    )]
    Empty,
    /// It is larger than anything that is read.
    #[error(
        "The file is larger than {limit_mib} MiB. Copy the rows of the matches into a new sheet and import that."
    )]
    TooLarge {
        /// The most that is read.
        limit_mib: usize,
    },
    /// Rows without end.
    #[error(
        "The sheet goes on below row {limit}. Put the matches, 500 at most, and nothing else into a sheet of their own."
    )]
    TooManyRows {
        /// The last row that is read.
        limit: usize,
    },
    /// Columns without end.
    #[error(
        "Row {row} has more than {limit} columns. Put the matches and nothing else into a sheet of their own."
    )]
    TooManyColumns {
        /// The row.
        row: usize,
        /// The most that are read.
        limit: usize,
    },
    /// A cell that is no cell of a schedule.
    #[error(
        "A cell in row {row} has more than {limit} characters. Shorten it; if it is in none of your rows, a quotation mark may be missing."
    )]
    LongCell {
        /// The row.
        row: usize,
        /// The most that are read.
        limit: usize,
    },
    /// More text than any schedule has.
    #[error(
        "There is far more text in this sheet than a schedule has. Copy the rows of the matches into a new sheet and import that."
    )]
    TooMuchText,
    /// A quoted cell that never ends.
    #[error(
        "A cell in row {row} begins with a quotation mark (\") and never ends with one. Remove the mark, or put one at the cell's end."
    )]
    OpenQuote {
        /// The row where it begins.
        row: usize,
    },
    /// It is no table.
    #[error("This is {kind}, not a sheet. Save the table as CSV, XLSX or ODS and import that.")]
    NoTable {
        /// What it is, with its article.
        kind: &'static str,
    },
    /// A workbook of a kind that is not read.
    #[error(
        "This is {kind}. Open it in the spreadsheet program, save it as {instead}, and import that."
    )]
    OtherWorkbook {
        /// What it is, with its article.
        kind: &'static str,
        /// What to save it as.
        instead: &'static str,
    },
    /// A workbook that only opens with a password.
    #[error("The workbook is locked with a password. Save it without one and import that.")]
    Password,
    /// A workbook that unpacks to far more than any schedule.
    #[error(
        "The workbook unpacks to more than is read. Copy the rows of the matches into a new workbook and import that."
    )]
    UnpacksTooLarge,
    /// A workbook that is broken.
    #[error("The workbook is damaged{}. Open it in the spreadsheet program, save it again, and import that.", of_tab(.tab.as_ref()))]
    Damaged {
        /// The tab it was found in.
        tab: Option<String>,
    },
    /// A tab that was asked for.
    #[error("There is no tab “{tab}” in this workbook. Choose another one.")]
    NoTab {
        /// Its name.
        tab: String,
    },
}

fn of_tab(tab: Option<&String>) -> String {
    tab.map(|tab| format!(" in its tab “{tab}”"))
        .unwrap_or_default()
}
