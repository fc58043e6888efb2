//! A table as a spreadsheet shows it: rows with their numbers, cells as texts.

use crate::unreadable::Unreadable;

/// The last row that is looked at.
pub(crate) const ROWS_LIMIT: usize = 2_000;
/// The columns that are looked at.
pub(crate) const COLUMNS_LIMIT: usize = 200;
/// The most characters of a cell.
const CELL_LIMIT: usize = 2_000;
/// The most characters of all cells together.
const TEXT_LIMIT: usize = 1024 * 1024;

/// The rows of a table that hold anything.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Grid {
    pub(crate) rows: Vec<Row>,
    length: usize,
}

/// A row that holds anything.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Row {
    /// Its number as the spreadsheet shows it, from 1.
    pub(crate) number: usize,
    /// Without empty cells behind the last one that holds anything.
    pub(crate) cells: Vec<String>,
    /// How many cells were written for it, empty ones included.
    pub(crate) written: usize,
}

impl Grid {
    /// Adds the next row; one without anything in it is left out.
    pub(crate) fn push(&mut self, number: usize, cells: &[String]) -> Result<(), Unreadable> {
        let written = cells.len();
        let mut cells: Vec<String> = cells.iter().map(|cell| tidy(cell)).collect();
        while cells.last().is_some_and(String::is_empty) {
            cells.pop();
        }
        if cells.is_empty() {
            return Ok(());
        }
        if number > ROWS_LIMIT {
            return Err(Unreadable::TooManyRows { limit: ROWS_LIMIT });
        }
        if cells.len() > COLUMNS_LIMIT {
            return Err(Unreadable::TooManyColumns {
                row: number,
                limit: COLUMNS_LIMIT,
            });
        }
        for cell in &cells {
            let length = cell.chars().count();
            self.length += length;
            if length > CELL_LIMIT {
                return Err(Unreadable::LongCell {
                    row: number,
                    limit: CELL_LIMIT,
                });
            }
        }
        if self.length > TEXT_LIMIT {
            return Err(Unreadable::TooMuchText);
        }
        self.rows.push(Row {
            number,
            cells,
            written,
        });
        Ok(())
    }

    /// The columns of the widest row.
    pub(crate) fn width(&self) -> usize {
        let widths = self.rows.iter().map(|row| row.cells.len());
        widths.max().unwrap_or(0)
    }
}

impl Row {
    /// A cell, empty where there is none.
    pub(crate) fn cell(&self, place: usize) -> &str {
        self.cells.get(place).map_or("", String::as_str)
    }

    /// What stands in the row, for people.
    pub(crate) fn words(&self) -> String {
        let filled = self.cells.iter().filter(|cell| !cell.is_empty());
        let texts: Vec<_> = filled.map(|cell| cell.replace('\n', " ")).collect();
        texts.join(" · ")
    }
}

/// A cell without what cannot be seen: spaces around it, marks of no width, the
/// special spaces that word processors and web pages put in.
fn tidy(cell: &str) -> String {
    let seen = cell.chars().filter_map(|c| match c {
        '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{feff}' | '\u{ad}' => None,
        '\u{a0}' | '\u{2007}' | '\u{202f}' | '\t' => Some(' '),
        '\r' => Some('\n'),
        c => Some(c),
    });
    let text: String = seen.collect();
    text.trim().replace("\n\n", "\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(cells: &[&str]) -> Vec<String> {
        cells.iter().map(|cell| (*cell).to_owned()).collect()
    }

    #[test]
    fn empty_rows_are_left_out_and_keep_the_numbers_of_the_others() {
        let mut grid = Grid::default();
        grid.push(1, &of(&["", " "])).unwrap();
        grid.push(2, &of(&["a", "", ""])).unwrap();
        assert_eq!(grid.rows.len(), 1);
        assert_eq!((grid.rows[0].number, grid.rows[0].written), (2, 3));
        assert_eq!(grid.rows[0].cells, ["a"]);
    }

    #[test]
    fn what_cannot_be_seen_is_no_part_of_a_cell() {
        assert_eq!(tidy("\u{feff} Her\u{ad}on\u{a0}"), "Heron");
        assert_eq!(tidy("Ines\r\nTobi"), "Ines\nTobi");
    }

    #[test]
    fn a_table_without_end_is_refused() {
        let mut grid = Grid::default();
        let far = grid.push(ROWS_LIMIT + 1, &of(&["x"]));
        assert!(matches!(far, Err(Unreadable::TooManyRows { .. })));
        let long = grid.push(1, &["x".repeat(CELL_LIMIT + 1)]);
        assert!(matches!(long, Err(Unreadable::LongCell { row: 1, .. })));
        let wide = grid.push(1, &vec!["x".into(); COLUMNS_LIMIT + 1]);
        assert!(matches!(wide, Err(Unreadable::TooManyColumns { .. })));
    }
}
