//! A table as text: which characters its bytes are, what separates its cells.

mod encoding;
mod separated;

use crate::grid::Grid;
use crate::headings;
use crate::unreadable::Unreadable;

/// The most bytes of a table as text.
const BYTES_LIMIT: usize = 1024 * 1024;

/// What can stand between two cells, with its name. The first one wins where
/// nothing speaks for another.
const SEPARATORS: &[(char, &str)] = &[
    (',', "commas"),
    (';', "semicolons"),
    ('\t', "tabs"),
    ('|', "bars"),
];

/// Reads a table, and says how.
pub(crate) fn read(bytes: &[u8]) -> Result<(Grid, String), Unreadable> {
    if bytes.len() > BYTES_LIMIT {
        return Err(Unreadable::TooLarge {
            limit_mib: BYTES_LIMIT / 1024 / 1024,
        });
    }
    let decoded = encoding::decode(bytes)?;
    if let Some(kind) = other_kind(&decoded.text) {
        return Err(Unreadable::NoTable { kind });
    }
    let (said, text) = separated::said_separator(&decoded.text);
    let (grid, separator) = match said {
        Some(said) => (grid(text, said)?, said),
        None => likeliest(text)?,
    };
    if grid.rows.is_empty() {
        return Err(Unreadable::Empty);
    }
    let name = SEPARATORS.iter().find(|(one, _)| *one == separator);
    let cells = name.map_or("one character", |(_, name)| name);
    let form = format!("text with {cells} between its cells, {}", decoded.name);
    Ok((grid, form))
}

/// The separator that makes most of the text: columns that are known by their
/// names, else rows that are equally wide.
fn likeliest(text: &str) -> Result<(Grid, char), Unreadable> {
    let mut best: Option<((usize, usize), Grid, char)> = None;
    let mut failed = None;
    for (separator, _) in SEPARATORS {
        if !text.contains(*separator) && *separator != ',' {
            continue;
        }
        let grid = match grid(text, *separator) {
            Ok(grid) => grid,
            Err(error) => {
                failed.get_or_insert(error);
                continue;
            }
        };
        let weight = (headings::best_known(&grid), alike_rows(&grid));
        if best.as_ref().is_none_or(|(most, ..)| weight > *most) {
            best = Some((weight, grid, *separator));
        }
    }
    match (best, failed) {
        // A separator that leaves a quotation mark open and one that finds no columns.
        (Some(((0, 0), ..)) | None, Some(error)) => Err(error),
        (Some((_, grid, separator)), _) => Ok((grid, separator)),
        (None, None) => Err(Unreadable::Empty),
    }
}

/// The cells in rows that are as wide as most are, where that is more than one cell.
fn alike_rows(grid: &Grid) -> usize {
    let widths = grid.rows.iter().map(|row| row.written);
    let alike = |width: usize| grid.rows.iter().filter(|row| row.written == width).count();
    let best = widths
        .filter(|width| *width > 1)
        .max_by_key(|width| alike(*width));
    best.map_or(0, alike)
}

fn grid(text: &str, separator: char) -> Result<Grid, Unreadable> {
    let mut grid = Grid::default();
    for (place, cells) in separated::split(text, separator).enumerate() {
        grid.push(place + 1, &cells?)?;
    }
    Ok(grid)
}

/// Texts that people import by mistake.
fn other_kind(text: &str) -> Option<&'static str> {
    let begins = text.trim_start().get(..40).unwrap_or(text.trim_start());
    let begins = begins.to_ascii_lowercase();
    let starts = |word: &str| begins.starts_with(word);
    if starts("<!doctype html") || starts("<html") || starts("<table") {
        Some("a web page")
    } else if starts("<?xml") {
        Some("an XML file")
    } else if starts("{\\rtf") {
        Some("a document of a word processor")
    } else if starts("%pdf") {
        Some("a PDF file")
    } else if starts("{\"") || starts("[{") {
        Some("a file for programs (JSON)")
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn separator_of(text: &str) -> char {
        likeliest(text).unwrap().1
    }

    #[test]
    fn the_separator_is_the_one_that_makes_columns_known() {
        assert_eq!(separator_of("Team 1;Team 2;Court\nA, B;C;1\n"), ';');
        assert_eq!(separator_of("Team 1\tTeam 2\nA; B\tC, D\n"), '\t');
        assert_eq!(separator_of("team_a,team_b,players_a\nA,B,C;D\n"), ',');
        assert_eq!(
            separator_of("Pier Cup, day 1, hall\nTeam 1|Team 2\nA|B\n"),
            '|'
        );
    }

    #[test]
    fn else_it_is_the_one_that_makes_rows_alike() {
        assert_eq!(separator_of("Rot;Blau\nA, x;B\nC;D\n"), ';');
        assert_eq!(separator_of("one\ntwo\n"), ',');
    }

    #[test]
    fn what_is_no_table_is_said_to_be_what_it_is() {
        for (text, kind) in [
            ("<!DOCTYPE html><table>", "a web page"),
            ("{\"kind\":\"match\"}", "a file for programs (JSON)"),
            ("%PDF-1.7", "a PDF file"),
        ] {
            assert_eq!(read(text.as_bytes()), Err(Unreadable::NoTable { kind }));
        }
    }
}
