//! Cells out of text: RFC 4180, with any separator and any line break, and with what
//! people do to it. A quoted cell may hold separators and line breaks; rows are
//! counted as a spreadsheet does, so such a cell is in one row, and an empty line
//! is one.

use std::iter::Peekable;
use std::str::Chars;

use crate::unreadable::Unreadable;

/// The separator that a first line `sep=;` names, and the text behind that line,
/// which spreadsheet programs do not show.
pub(super) fn said_separator(text: &str) -> (Option<char>, &str) {
    let Some(rest) = text.strip_prefix("sep=") else {
        return (None, text);
    };
    let mut chars = rest.chars();
    match (chars.next(), chars.next()) {
        (Some(said), Some('\r' | '\n')) => {
            let rest = &rest[said.len_utf8()..];
            let rest = rest.strip_prefix('\r').unwrap_or(rest);
            (Some(said), rest.strip_prefix('\n').unwrap_or(rest))
        }
        _ => (None, text),
    }
}

/// The rows of a text, empty ones included. The first that cannot be read is the
/// last.
pub(super) fn split(text: &str, separator: char) -> Rows<'_> {
    Rows {
        chars: text.chars().peekable(),
        separator,
        number: 0,
    }
}

#[derive(Debug)]
pub(super) struct Rows<'a> {
    chars: Peekable<Chars<'a>>,
    separator: char,
    number: usize,
}

impl Iterator for Rows<'_> {
    type Item = Result<Vec<String>, Unreadable>;

    fn next(&mut self) -> Option<Self::Item> {
        self.chars.peek()?;
        self.number += 1;
        let mut cells = Vec::new();
        loop {
            match self.cell() {
                Ok(cell) => cells.push(cell),
                Err(error) => return Some(Err(error)),
            }
            match self.chars.next() {
                Some(c) if c == self.separator => {}
                Some('\r') => {
                    self.chars.next_if_eq(&'\n');
                    return Some(Ok(cells));
                }
                _ => return Some(Ok(cells)),
            }
        }
    }
}

impl Rows<'_> {
    /// Reads up to what ends the cell.
    fn cell(&mut self) -> Result<String, Unreadable> {
        while self.separator != ' ' && self.chars.next_if_eq(&' ').is_some() {}
        let mut cell = String::new();
        if self.chars.next_if_eq(&'"').is_some() {
            self.quoted(&mut cell)?;
        }
        // What follows a closing mark is kept, as spreadsheet programs do.
        let separator = self.separator;
        let in_cell = |c: &char| *c != separator && *c != '\r' && *c != '\n';
        while let Some(c) = self.chars.next_if(in_cell) {
            cell.push(c);
        }
        Ok(cell)
    }

    fn quoted(&mut self, cell: &mut String) -> Result<(), Unreadable> {
        loop {
            match self.chars.next() {
                Some('"') if self.chars.next_if_eq(&'"').is_none() => return Ok(()),
                Some('"') => cell.push('"'),
                Some('\r') => {
                    self.chars.next_if_eq(&'\n');
                    cell.push('\n');
                }
                Some(c) => cell.push(c),
                None => {
                    let row = self.number;
                    return Err(Unreadable::OpenQuote { row });
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn cells(text: &str) -> Vec<Vec<String>> {
        split(text, ',').collect::<Result<_, _>>().unwrap()
    }

    /// RFC 4180, section 2, rules 5 to 7, with the examples given there.
    #[test]
    fn quoted_cells_are_read_as_the_rfc_says() {
        assert_eq!(
            cells("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx")[0],
            ["aaa", "bbb", "ccc"]
        );
        assert_eq!(
            cells("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            [["aaa", "b\nbb", "ccc"], ["zzz", "yyy", "xxx"]]
        );
        assert_eq!(
            cells("\"aaa\",\"b\"\"bb\",\"ccc\"")[0],
            ["aaa", "b\"bb", "ccc"]
        );
    }

    #[test]
    fn every_line_break_ends_one_row_and_an_empty_line_is_a_row() {
        for end in ["\n", "\r\n", "\r"] {
            let text = ["a,b", "", "c,d", ""].join(end);
            let rows = cells(&text);
            assert_eq!(rows.len(), 3, "{end:?}");
            assert_eq!(rows[2], ["c", "d"]);
        }
    }

    #[test]
    fn a_mark_that_is_never_closed_is_told_by_the_row_where_it_opens() {
        let last = split("a,b\nc,\"d\ne,f\n", ',').last();
        assert_eq!(last, Some(Err(Unreadable::OpenQuote { row: 2 })));
    }

    #[test]
    fn marks_inside_a_cell_and_after_a_closed_one_are_kept() {
        assert_eq!(cells("a\"b,\"c\" d, \"e,f\"")[0], ["a\"b", "c d", "e,f"]);
    }

    #[test]
    fn a_line_that_names_the_separator_is_no_row() {
        assert_eq!(said_separator("sep=;\r\na;b"), (Some(';'), "a;b"));
        assert_eq!(said_separator("sep=long\na"), (None, "sep=long\na"));
        assert_eq!(said_separator("sep="), (None, "sep="));
    }

    proptest! {
        /// Against the crate `csv`, which many programs read and write tables with.
        #[test]
        fn what_another_program_writes_is_read_as_it_was(
            rows in proptest::collection::vec(
                proptest::collection::vec("[a-c,;\"\n é]{0,6}", 2..5), 1..6),
            separator in prop_oneof![Just(','), Just(';'), Just('\t')],
            is_windows in any::<bool>(),
        ) {
            let mut writer = csv::WriterBuilder::new()
                .delimiter(separator as u8)
                .flexible(true)
                .terminator(if is_windows { csv::Terminator::CRLF } else { csv::Terminator::Any(b'\n') })
                .quote_style(csv::QuoteStyle::Always)
                .from_writer(Vec::new());
            for row in &rows {
                writer.write_record(row).unwrap();
            }
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            let read: Result<Vec<_>, _> = split(&text, separator).collect();
            prop_assert_eq!(read.unwrap(), rows);
        }
    }
}
