//! Workbooks: XLSX (ECMA-376) and ODS (OASIS `OpenDocument`), read with `calamine`.
//!
//! What a workbook unpacks to is bounded before anything of it is read (`parts`,
//! `repeats`): a small file can hold gigabytes.

mod cell;
mod parts;
mod repeats;
mod tabs;

use crate::unreadable::Unreadable;
use tabs::TabGrid;

/// The most bytes of a file.
pub const FILE_LIMIT: usize = 8 * 1024 * 1024;

/// How a ZIP archive begins (PKWARE APPNOTE, 4.3.7 and 4.3.16).
pub(crate) fn is_workbook(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06")
}

/// Other files that are imported by mistake.
pub(crate) fn refuse_other_kinds(bytes: &[u8]) -> Result<(), Unreadable> {
    // Compound File Binary, [MS-CFB] 2.2: what XLS was kept in, and XLSX with a
    // password is.
    if bytes.starts_with(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1") {
        return Err(Unreadable::OtherWorkbook {
            kind: "an old Excel workbook (XLS), or one with a password",
            instead: "XLSX without a password",
        });
    }
    let pictures: [&[u8]; 3] = [b"\x89PNG", b"\xff\xd8\xff", b"GIF8"];
    if pictures.iter().any(|begins| bytes.starts_with(begins)) {
        return Err(Unreadable::NoTable { kind: "a picture" });
    }
    if bytes.starts_with(b"%PDF") {
        return Err(Unreadable::NoTable { kind: "a PDF file" });
    }
    Ok(())
}

/// Reads the tabs that hold anything, and says which kind of workbook it is.
pub(crate) fn read(bytes: &[u8]) -> Result<(Vec<TabGrid>, String), Unreadable> {
    if bytes.len() > FILE_LIMIT {
        return Err(Unreadable::TooLarge {
            limit_mib: FILE_LIMIT / 1024 / 1024,
        });
    }
    let kind = parts::check(bytes)?;
    // What strangers wrote is read by somebody else's code: if that gives up with a
    // panic, the workbook is refused and the host goes on.
    let read = std::panic::catch_unwind(|| match kind {
        parts::Kind::Xlsx => tabs::of_xlsx(bytes),
        parts::Kind::Ods => tabs::of_ods(bytes),
    });
    let tabs = read.unwrap_or(Err(Unreadable::Damaged { tab: None }))?;
    if tabs.is_empty() {
        return Err(Unreadable::Empty);
    }
    let form = match kind {
        parts::Kind::Xlsx => "an XLSX workbook",
        parts::Kind::Ods => "an ODS workbook",
    };
    Ok((tabs, form.to_owned()))
}
