//! The tabs of a workbook as tables. Hidden tabs are left aside.

use std::collections::BTreeMap;
use std::io::Cursor;

use calamine::{Ods, OdsError, Reader, SheetType, SheetVisible, Xlsx, XlsxError};

use super::cell;
use crate::grid::{COLUMNS_LIMIT, Grid, ROWS_LIMIT};
use crate::unreadable::Unreadable;

/// A tab that holds anything.
#[derive(Debug)]
pub(crate) struct TabGrid {
    pub(crate) name: String,
    pub(crate) grid: Grid,
}

/// The most tabs that are looked at.
const TABS_LIMIT: usize = 40;

pub(super) fn of_xlsx(bytes: &[u8]) -> Result<Vec<TabGrid>, Unreadable> {
    let mut workbook = Xlsx::new(Cursor::new(bytes)).map_err(|error| match error {
        XlsxError::Password => Unreadable::Password,
        _ => Unreadable::Damaged { tab: None },
    })?;
    let mut tabs = Vec::new();
    for name in shown(&workbook) {
        let damaged = |_: XlsxError| Unreadable::Damaged {
            tab: Some(name.clone()),
        };
        let mut cells = workbook.worksheet_cells_reader(&name).map_err(damaged)?;
        let mut rows = Rows::default();
        while let Some(found) = cells.next_cell().map_err(damaged)? {
            let text = cell::of_xlsx(found.get_value());
            rows.put(found.get_position(), text)?;
        }
        rows.into_tab(name, &mut tabs)?;
    }
    Ok(tabs)
}

pub(super) fn of_ods(bytes: &[u8]) -> Result<Vec<TabGrid>, Unreadable> {
    let mut workbook: Ods<_> = Ods::new(Cursor::new(bytes)).map_err(|error| match error {
        OdsError::Password => Unreadable::Password,
        _ => Unreadable::Damaged { tab: None },
    })?;
    let mut tabs = Vec::new();
    for name in shown(&workbook) {
        let damaged = |_| Unreadable::Damaged {
            tab: Some(name.clone()),
        };
        let range = workbook.worksheet_range(&name).map_err(damaged)?;
        let (top, left) = range.start().unwrap_or_default();
        let mut rows = Rows::default();
        for (row, column, value) in range.used_cells() {
            let place = (top + row as u32, left + column as u32);
            rows.put(place, cell::of_ods(value))?;
        }
        rows.into_tab(name, &mut tabs)?;
    }
    Ok(tabs)
}

/// The tabs that somebody who opens the workbook can see.
fn shown<R: Reader<Cursor<B>>, B: AsRef<[u8]>>(workbook: &R) -> Vec<String>
where
    Cursor<B>: std::io::Read + std::io::Seek,
{
    let tabs = workbook
        .sheets_metadata()
        .iter()
        .filter(|tab| tab.typ == SheetType::WorkSheet && tab.visible == SheetVisible::Visible);
    tabs.map(|tab| tab.name.clone()).take(TABS_LIMIT).collect()
}

/// Cells in whatever order they come.
#[derive(Debug, Default)]
struct Rows {
    cells: BTreeMap<u32, BTreeMap<u32, String>>,
    length: usize,
}

impl Rows {
    fn put(&mut self, (row, column): (u32, u32), text: String) -> Result<(), Unreadable> {
        if text.trim().is_empty() {
            return Ok(());
        }
        if row as usize >= ROWS_LIMIT {
            return Err(Unreadable::TooManyRows { limit: ROWS_LIMIT });
        }
        if column as usize >= COLUMNS_LIMIT {
            return Err(Unreadable::TooManyColumns {
                row: row as usize + 1,
                limit: COLUMNS_LIMIT,
            });
        }
        // One text can be shared by all cells.
        self.length += text.len();
        if self.length > 4 * 1024 * 1024 {
            return Err(Unreadable::TooMuchText);
        }
        self.cells.entry(row).or_default().insert(column, text);
        Ok(())
    }

    fn into_tab(self, name: String, tabs: &mut Vec<TabGrid>) -> Result<(), Unreadable> {
        let mut grid = Grid::default();
        for (row, cells) in self.cells {
            let width = cells
                .last_key_value()
                .map_or(0, |(column, _)| *column as usize + 1);
            let mut texts = vec![String::new(); width];
            for (column, text) in cells {
                texts[column as usize] = text;
            }
            grid.push(row as usize + 1, &texts)?;
        }
        if !grid.rows.is_empty() {
            tabs.push(TabGrid { name, grid });
        }
        Ok(())
    }
}
