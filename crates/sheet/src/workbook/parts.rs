//! The parts of the archive that a workbook is: which kind it is, and whether what
//! it unpacks to is bounded. Sizes that an archive states are not believed: each part
//! is unpacked and counted.

use std::io::{Cursor, Read};

use quick_xml::Reader;
use quick_xml::events::Event;
use zip::ZipArchive;
use zip::result::ZipError;

use super::repeats;
use crate::unreadable::Unreadable;

/// The most parts. Pictures and notes are parts of their own.
const PARTS_LIMIT: usize = 2_000;
/// The most bytes of all parts with cells, texts and styles, unpacked.
const MARKUP_LIMIT: u64 = 16 * 1024 * 1024;
/// The most bytes of all other parts, unpacked: pictures, mostly.
const OTHERS_LIMIT: u64 = 32 * 1024 * 1024;
/// The most bytes of the part with the styles, unpacked: in memory each takes many
/// times its size.
const STYLES_LIMIT: u64 = 2 * 1024 * 1024;
/// The fewest bytes of a shared text: `<si/>`.
const SHARED_TEXT_BYTES: u64 = 5;

/// The kinds of workbooks that are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Xlsx,
    Ods,
}

/// What kind of workbook it is, if it can be read without harm.
pub(super) fn check(bytes: &[u8]) -> Result<Kind, Unreadable> {
    let damaged = || Unreadable::Damaged { tab: None };
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_| damaged())?;
    let names: Result<Vec<String>, ZipError> = archive
        .file_names()
        .map(|name| Ok(name?.into_owned()))
        .collect();
    let names = names.map_err(|_| damaged())?;
    if names.len() > PARTS_LIMIT {
        return Err(Unreadable::UnpacksTooLarge);
    }
    let has = |end: &str| {
        names
            .iter()
            .any(|name| name.to_ascii_lowercase().ends_with(end))
    };
    let kind = if has("xl/workbook.xml") {
        Kind::Xlsx
    } else if has("content.xml") && names.iter().any(|name| name == "mimetype") {
        Kind::Ods
    } else {
        return Err(other_archive(&names));
    };
    let (mut markup, mut others) = (0, 0);
    for at in 0..names.len() {
        let mut part = match archive.by_index(at) {
            Ok(part) => part,
            Err(ZipError::UnsupportedArchive(ZipError::PASSWORD_REQUIRED)) => {
                return Err(Unreadable::Password);
            }
            Err(_) => return Err(damaged()),
        };
        let name = part.name().map_err(|_| damaged())?.to_ascii_lowercase();
        // Any part can be named as the one with the cells, so all are counted.
        let is_markup = [".xml", ".rels"].iter().any(|end| name.ends_with(end));
        let (counted, limit) = if is_markup {
            (&mut markup, MARKUP_LIMIT)
        } else {
            (&mut others, OTHERS_LIMIT)
        };
        let room = limit - *counted;
        let mut text = Vec::new();
        let mut unpacked = part.by_ref().take(room + 1);
        let length = unpacked.read_to_end(&mut text).map_err(|_| damaged())? as u64;
        if length > room || (name.ends_with("styles.xml") && length > STYLES_LIMIT) {
            return Err(Unreadable::UnpacksTooLarge);
        }
        *counted += length;
        if kind == Kind::Xlsx && name.ends_with("sharedstrings.xml") {
            check_shared_texts(&text)?;
        }
        if kind == Kind::Ods && name == "content.xml" {
            repeats::check(&text)?;
        }
    }
    Ok(kind)
}

/// How many shared texts there are is stated by the workbook, and room for so many
/// is made at once.
fn check_shared_texts(part: &[u8]) -> Result<(), Unreadable> {
    let mut reader = Reader::from_reader(part);
    let mut buffer = Vec::new();
    loop {
        buffer.clear();
        match reader.read_event_into(&mut buffer) {
            Ok(Event::Start(start) | Event::Empty(start)) => {
                let stated = start
                    .attributes()
                    .flatten()
                    .find(|one| one.key.as_ref() == "uniqueCount");
                let count = stated.and_then(|one| one.value.trim().parse::<u64>().ok());
                let most = part.len() as u64 / SHARED_TEXT_BYTES;
                return if count.is_some_and(|count| count > most) {
                    Err(Unreadable::Damaged { tab: None })
                } else {
                    Ok(())
                };
            }
            Ok(Event::Eof) | Err(_) => return Ok(()),
            Ok(_) => {}
        }
    }
}

fn other_archive(names: &[String]) -> Unreadable {
    let has = |start: &str| names.iter().any(|name| name.starts_with(start));
    let (kind, instead) = if has("Index/") {
        ("a workbook of another kind (Numbers)", "XLSX or CSV")
    } else if has("xl/workbook.bin") {
        ("a binary Excel workbook (XLSB)", "XLSX")
    } else if has("word/") || has("ppt/") {
        return Unreadable::NoTable { kind: "a document" };
    } else {
        (
            "an archive (ZIP) without a workbook in it",
            "XLSX, ODS or CSV",
        )
    };
    Unreadable::OtherWorkbook { kind, instead }
}
