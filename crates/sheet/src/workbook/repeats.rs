//! Repeated rows and cells of an ODS workbook. A cell can say that it stands for
//! sixteen thousand, its row that it stands for a million: what that comes to is
//! counted before anything is laid out.

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};

use crate::grid::{COLUMNS_LIMIT, ROWS_LIMIT};
use crate::unreadable::Unreadable;

/// The most cells and the most bytes of all tabs, laid out.
const CELLS_LIMIT: usize = ROWS_LIMIT * COLUMNS_LIMIT;
const BYTES_LIMIT: usize = 16 * 1024 * 1024;

/// Counts what `content.xml` comes to.
pub(super) fn check(part: &[u8]) -> Result<(), Unreadable> {
    let mut reader = Reader::from_reader(part);
    reader.config_mut().check_end_names = false;
    reader.config_mut().expand_empty_elements = true;
    let mut buffer = Vec::new();
    let mut count = Count::default();
    loop {
        buffer.clear();
        let before = reader.buffer_position();
        match reader
            .read_event_into(&mut buffer)
            .map_err(|_| Unreadable::Damaged { tab: None })?
        {
            Event::Start(start) => {
                let length = start.len();
                match start.name().as_ref() {
                    "table:table" => count.table = Table::default(),
                    "table:table-row" => {
                        count.open_row(repeated(&start, "table:number-rows-repeated"));
                    }
                    "table:table-cell" | "table:covered-table-cell" => {
                        let is_filled = start.attributes().flatten().any(|one| {
                            one.key.as_ref().starts_with("office:")
                                || one.key.as_ref() == "table:formula"
                        });
                        count.cell = Cell {
                            repeats: repeated(&start, "table:number-columns-repeated"),
                            bytes: length,
                            is_filled,
                        };
                    }
                    _ => count.cell.bytes += length,
                }
            }
            Event::End(end) => match end.name().as_ref() {
                "table:table-cell" | "table:covered-table-cell" => count.close_cell()?,
                "table:table-row" => count.close_row()?,
                _ => {}
            },
            Event::Text(text) if !text.trim().is_empty() => {
                count.cell.is_filled = true;
                count.cell.bytes += (reader.buffer_position() - before) as usize;
            }
            Event::Eof => return Ok(()),
            _ => count.cell.bytes += (reader.buffer_position() - before) as usize,
        }
    }
}

#[derive(Debug, Default)]
struct Count {
    table: Table,
    row: RowCount,
    cell: Cell,
    cells: usize,
    bytes: usize,
}

#[derive(Debug, Default)]
struct Table {
    /// Rows up to here, repeated ones included.
    rows: usize,
}

#[derive(Debug, Default)]
struct RowCount {
    repeats: usize,
    /// Cells up to here, repeated ones included.
    width: usize,
    /// Cells up to the last that holds anything.
    filled: usize,
    bytes: usize,
}

#[derive(Debug, Default)]
struct Cell {
    repeats: usize,
    bytes: usize,
    is_filled: bool,
}

impl Count {
    fn open_row(&mut self, repeats: usize) {
        self.row = RowCount {
            repeats,
            ..RowCount::default()
        };
    }

    fn close_cell(&mut self) -> Result<(), Unreadable> {
        let cell = std::mem::take(&mut self.cell);
        let row = &mut self.row;
        row.width = row.width.saturating_add(cell.repeats);
        if cell.is_filled {
            if row.width > COLUMNS_LIMIT {
                return Err(Unreadable::TooManyColumns {
                    row: self.table.rows + 1,
                    limit: COLUMNS_LIMIT,
                });
            }
            row.filled = row.width;
            row.bytes = row
                .bytes
                .saturating_add(cell.bytes.saturating_mul(cell.repeats));
        }
        Ok(())
    }

    fn close_row(&mut self) -> Result<(), Unreadable> {
        let row = std::mem::take(&mut self.row);
        self.table.rows = self.table.rows.saturating_add(row.repeats);
        if row.filled == 0 {
            return Ok(());
        }
        if self.table.rows > ROWS_LIMIT {
            return Err(Unreadable::TooManyRows { limit: ROWS_LIMIT });
        }
        self.cells = self
            .cells
            .saturating_add(row.filled.saturating_mul(row.repeats));
        self.bytes = self
            .bytes
            .saturating_add(row.bytes.saturating_mul(row.repeats));
        if self.cells > CELLS_LIMIT || self.bytes > BYTES_LIMIT {
            return Err(Unreadable::TooMuchText);
        }
        Ok(())
    }
}

/// How often an element stands for itself.
fn repeated(start: &BytesStart<'_>, name: &str) -> usize {
    let stated = start
        .attributes()
        .flatten()
        .find(|one| one.key.as_ref() == name);
    let times = stated.map_or(Ok(1), |one| one.value.trim().parse());
    // One that cannot be read is the reader's to refuse.
    times.unwrap_or(usize::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn content(rows: &str) -> String {
        format!(
            "<office:document-content><table:table table:name=\"A\">{rows}</table:table></office:document-content>"
        )
    }

    fn checked(rows: &str) -> Result<(), Unreadable> {
        check(content(rows).as_bytes())
    }

    const CELL: &str =
        "<table:table-cell office:value-type=\"string\"><text:p>Heron</text:p></table:table-cell>";

    #[test]
    fn empty_repeats_to_the_end_of_the_sheet_are_usual() {
        let row = format!(
            "<table:table-row>{CELL}<table:table-cell table:number-columns-repeated=\"16383\"/></table:table-row>"
        );
        let rest = "<table:table-row table:number-rows-repeated=\"1048575\"><table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row>";
        assert_eq!(checked(&format!("{row}{rest}")), Ok(()));
    }

    #[test]
    fn filled_repeats_are_counted_before_they_are_laid_out() {
        let wide = "<table:table-row><table:table-cell office:value-type=\"float\" office:value=\"1\" table:number-columns-repeated=\"16384\"/></table:table-row>";
        assert!(matches!(
            checked(wide),
            Err(Unreadable::TooManyColumns { .. })
        ));
        let long = format!(
            "<table:table-row table:number-rows-repeated=\"1048576\">{CELL}</table:table-row>"
        );
        assert!(matches!(
            checked(&long),
            Err(Unreadable::TooManyRows { .. })
        ));
        let heavy = format!(
            "<table:table-row table:number-rows-repeated=\"2000\"><table:table-cell table:number-columns-repeated=\"200\"><text:p>{}</text:p></table:table-cell></table:table-row>",
            "x".repeat(1_000)
        );
        assert_eq!(checked(&heavy), Err(Unreadable::TooMuchText));
    }
}
