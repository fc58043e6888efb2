//! An event's matches out of a spreadsheet as people have it: text with any usual
//! separator and encoding, XLSX, ODS, pasted cells; columns in any order, under their
//! usual names. Bytes in, matches or refusals out: no file, clock or network.
//!
//! Every row is accounted for: it is a match, it is a problem with its row and a
//! sentence, or it was left out and is named.

mod column;
mod grid;
mod headings;
mod planned;
mod rows;
mod text;
mod unreadable;
mod values;
mod workbook;

pub use column::Column;
pub use planned::{LeftOut, Problem, SheetMatch, SheetTeam};
pub use unreadable::Unreadable;
pub use workbook::FILE_LIMIT;

use column::letters;
use grid::Grid;
use headings::Headings;

/// How many cells of a column are shown where somebody has to say what it is.
const EXAMPLES: usize = 3;
/// How many rows are offered as the one with the headings.
const FIRST_ROWS: usize = 12;

/// What somebody has chosen about a sheet. What was not chosen is found out.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct SheetChoices {
    /// The tab of a workbook.
    pub tab: Option<String>,
    /// The row of the headings, as the spreadsheet counts; 0 where there are none.
    pub heading_row: Option<usize>,
    /// What each column means, from the left; none: it means nothing here.
    pub columns: Option<Vec<Option<Column>>>,
}

/// Everything that was found in a sheet.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sheet {
    /// How it was read, in words: `text with tabs between its cells, UTF-8`.
    pub form: String,
    /// The tabs of a workbook that hold anything.
    pub tabs: Vec<Tab>,
    /// The tab that was read.
    pub tab: Option<String>,
    /// The row of the headings, as the spreadsheet counts; none where there are none.
    pub heading_row: Option<usize>,
    /// The first rows that hold anything, one of which may be the headings.
    pub first_rows: Vec<FirstRow>,
    /// Its columns.
    pub columns: Vec<FoundColumn>,
    /// Whether both teams can be told. Where not, somebody has to say which columns
    /// they are in.
    pub is_clear: bool,
    /// Its matches, where nothing is wrong anywhere in it.
    pub matches: Vec<SheetMatch>,
    /// Rows that are no matches.
    pub left_out: Vec<LeftOut>,
    /// Columns that mean nothing here, as the sheet calls them.
    pub ignored: Vec<String>,
    /// Everything that is wrong with it.
    pub problems: Vec<Problem>,
}

/// A tab of a workbook.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tab {
    /// Its name.
    pub name: String,
    /// Whether it holds matches, as far as can be told.
    pub has_matches: bool,
}

/// A row near the top.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FirstRow {
    /// Its number, as the spreadsheet counts.
    pub row: usize,
    /// What stands in it.
    pub cells: String,
}

/// A column of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FoundColumn {
    /// The letters that a spreadsheet shows over it.
    pub letters: String,
    /// Its heading; may be empty.
    pub heading: String,
    /// What it means, where that is known.
    pub meaning: Option<Column>,
    /// The first cells below the heading.
    pub examples: Vec<String>,
}

/// Reads a sheet.
///
/// # Errors
/// Where the file is no table at all.
pub fn read(bytes: &[u8], said: &SheetChoices) -> Result<Sheet, Unreadable> {
    if !workbook::is_workbook(bytes) {
        workbook::refuse_other_kinds(bytes)?;
        let (grid, form) = text::read(bytes)?;
        return Ok(read_grid(&grid, said, form));
    }
    let (tabs, form) = workbook::read(bytes)?;
    let counted = tabs.iter().map(|tab| Tab {
        name: tab.name.clone(),
        has_matches: holds_matches(&tab.grid),
    });
    let counted: Vec<Tab> = counted.collect();
    let chosen = match &said.tab {
        Some(name) => tabs
            .iter()
            .position(|tab| tab.name == *name)
            .ok_or_else(|| Unreadable::NoTab { tab: name.clone() })?,
        None => counted.iter().position(|tab| tab.has_matches).unwrap_or(0),
    };
    let tab = tabs.get(chosen).ok_or(Unreadable::Empty)?;
    Ok(Sheet {
        tabs: counted,
        tab: Some(tab.name.clone()),
        ..read_grid(&tab.grid, said, form)
    })
}

fn holds_matches(grid: &Grid) -> bool {
    headings::find(grid)
        .is_some_and(|headings| headings.is_clear() && grid.rows.len() > headings.rows.end)
}

fn read_grid(grid: &Grid, said: &SheetChoices, form: String) -> Sheet {
    let headings = chosen_headings(grid, said);
    let first_rows = grid.rows.iter().take(FIRST_ROWS).map(|row| FirstRow {
        row: row.number,
        cells: row.words(),
    });
    let mut sheet = Sheet {
        form,
        heading_row: grid
            .rows
            .get(headings.rows.start)
            .filter(|_| !headings.rows.is_empty())
            .map(|row| row.number),
        first_rows: first_rows.collect(),
        columns: columns(grid, &headings),
        is_clear: headings.is_clear() && headings.twice.is_empty(),
        ..Sheet::default()
    };
    let row = sheet.heading_row;
    let heading_cells = grid
        .rows
        .get(headings.rows.start)
        .map(grid::Row::words)
        .unwrap_or_default();
    for place in &headings.twice {
        sheet.problems.push(Problem {
            row,
            column: Some(headings.texts[*place].clone()),
            message:
                "Two columns mean the same. Say below which one counts, or rename one of them."
                    .into(),
            cells: heading_cells.clone(),
        });
    }
    if !headings.is_clear() {
        sheet.problems.push(Problem {
            row,
            column: None,
            message: "It cannot be told which columns name the two teams. Say which they are, or call the columns Team 1 and Team 2.".into(),
            cells: heading_cells,
        });
    }
    if !sheet.problems.is_empty() {
        return sheet;
    }
    let rows = rows::read(grid, &headings);
    sheet.left_out = rows.left_out;
    sheet.problems = rows.problems;
    if sheet.problems.is_empty() {
        sheet.ignored = ignored(grid, &headings);
        sheet.matches = rows.matches;
        if sheet.matches.is_empty() {
            sheet.problems.push(Problem {
                row: None,
                column: None,
                message: "There is no match in it: below the row with the headings each row is one match.".into(),
                cells: String::new(),
            });
        }
    }
    sheet
}

fn chosen_headings(grid: &Grid, said: &SheetChoices) -> Headings {
    let mut headings = match said.heading_row {
        Some(row) => headings::said(grid, Some(row).filter(|row| *row > 0)),
        None => headings::find(grid).unwrap_or_else(|| headings::likeliest(grid)),
    };
    if let Some(columns) = &said.columns {
        headings.twice.clear();
        for place in 0..headings.columns.len() {
            let meaning = columns.get(place).copied().flatten();
            let is_second = meaning.is_some() && headings.columns[..place].contains(&meaning);
            headings.columns[place] = meaning.filter(|_| !is_second);
            if is_second {
                headings.twice.push(place);
            }
        }
    }
    headings
}

fn columns(grid: &Grid, headings: &Headings) -> Vec<FoundColumn> {
    let below = &grid.rows[headings.rows.end..];
    let columns = headings
        .texts
        .iter()
        .enumerate()
        .map(|(place, text)| FoundColumn {
            letters: letters(place),
            heading: text.clone(),
            meaning: headings.columns[place],
            examples: below
                .iter()
                .take(EXAMPLES)
                .map(|row| row.cell(place).to_owned())
                .collect(),
        });
    columns.collect()
}

/// The columns that hold anything and mean nothing here.
fn ignored(grid: &Grid, headings: &Headings) -> Vec<String> {
    let below = &grid.rows[headings.rows.end..];
    let without = headings
        .columns
        .iter()
        .enumerate()
        .filter(|(_, meaning)| meaning.is_none());
    let named = without.filter_map(|(place, _)| {
        let text = &headings.texts[place];
        if !text.is_empty() {
            return Some(text.clone());
        }
        let is_used = below.iter().any(|row| !row.cell(place).is_empty());
        is_used.then(|| format!("column {}", letters(place)))
    });
    named.collect()
}
