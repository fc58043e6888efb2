//! The chart file: JSON Lines, the header first. Reading tells problems apart
//! by line and never gives up at the first one; writing seals a line with a
//! checksum.
//!
//! A line that the host stored ends in `,"crc":"<8 hex digits>"}`: the CRC-32
//! (IEEE) of the line's bytes before that comma.

use crate::chart::{Admission, Chart};
use crate::entry::{Entry, object_from_text, read_seq};
use crate::header::Header;
use crate::identity::{EntryId, Seq};
use crate::refusal::{Refusal, RefusalCode};

/// A chart read from text, with everything that was wrong with it.
#[derive(Debug)]
pub struct ChartFile {
    /// The entries that could be taken in; `None` where the header is at fault.
    pub chart: Option<Chart>,
    /// What would be refused, by line.
    pub problems: Vec<Problem>,
    /// What is odd but does no harm, by line.
    pub notes: Vec<Note>,
    /// The line of each entry that was taken in.
    pub lines: Vec<(EntryId, usize)>,
}

/// A line that would be refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {refusal}")]
pub struct Problem {
    /// Counted from 1.
    pub line: usize,
    /// Why.
    pub refusal: Refusal,
}

/// Something odd about a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// Counted from 1.
    pub line: usize,
    /// One sentence.
    pub message: String,
}

struct Line {
    number: usize,
    seq: Option<Seq>,
    entry: Entry,
}

/// Reads a chart from the bytes of a file.
///
/// Every line is looked at: problems and notes are collected with their line
/// numbers. A torn last line (one without a line end that is no JSON, as a power
/// cut leaves it) is noted and dropped.
#[must_use]
pub fn read_chart_file(bytes: &[u8]) -> ChartFile {
    let mut file = ChartFile {
        chart: None,
        problems: Vec::new(),
        notes: Vec::new(),
        lines: Vec::new(),
    };
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let mut lines = split_lines(bytes);
    drop_torn_line(&mut lines, &mut file);
    let mut lines = lines.into_iter();
    let header = match lines.next() {
        Some((_, text, _)) => text.and_then(|text| {
            note_broken_seal(1, text, &mut file);
            Header::from_text(text)
        }),
        None => Err(Refusal::new(
            RefusalCode::MissingField,
            "the file is empty; line 1 has to be the match header",
        )),
    };
    let header = match header {
        Ok(header) => header,
        Err(refusal) => {
            file.problems.push(Problem { line: 1, refusal });
            return file;
        }
    };
    let mut chart = Chart::new(header);
    let mut entries = Vec::new();
    for (number, text, _) in lines {
        let parsed = text.and_then(|text| {
            note_broken_seal(number, text, &mut file);
            parse_line(number, text, &chart)
        });
        match parsed {
            Ok(line) => entries.push(line),
            Err(refusal) => file.problems.push(Problem {
                line: number,
                refusal,
            }),
        }
    }
    in_order(&mut entries, &mut file);
    for line in entries {
        take(line, &mut chart, &mut file);
    }
    file.problems.sort_by_key(|problem| problem.line);
    file.chart = Some(chart);
    file
}

type RawLine<'a> = (usize, Result<&'a str, Refusal>, bool);

/// The lines that hold something, with their numbers and whether they end in a
/// line end.
fn split_lines(bytes: &[u8]) -> Vec<RawLine<'_>> {
    bytes
        .split_inclusive(|byte| *byte == b'\n')
        .enumerate()
        .map(|(place, line)| {
            let ended = line.ends_with(b"\n");
            let text = std::str::from_utf8(line).map(str::trim).map_err(|error| {
                Refusal::new(RefusalCode::Malformed, format!("not valid UTF-8: {error}"))
            });
            (place + 1, text, ended)
        })
        .filter(|(_, text, _)| !matches!(text, Ok("")))
        .collect()
}

fn drop_torn_line(lines: &mut Vec<RawLine<'_>>, file: &mut ChartFile) {
    let Some((number, text, ended)) = lines.last() else {
        return;
    };
    let readable = text
        .as_ref()
        .is_ok_and(|text| serde_json::from_str::<serde::de::IgnoredAny>(text).is_ok());
    if *number > 1 && !*ended && !readable {
        file.notes.push(Note {
            line: *number,
            message: "the last line is torn (cut off while it was written) and was dropped".into(),
        });
        lines.pop();
    }
}

fn parse_line(number: usize, text: &str, chart: &Chart) -> Result<Line, Refusal> {
    let object = object_from_text(text, "entry")?;
    let seq = read_seq(&object)?;
    let entry = Entry::from_json(object, &chart.header().format)?;
    Ok(Line { number, seq, entry })
}

/// Brings the entries into the order that counts: that of `seq` if every entry
/// has one, that of the file if none has. A mixture is a problem, and leaves
/// the order of the file.
fn in_order(entries: &mut [Line], file: &mut ChartFile) {
    let with_seq = entries.iter().filter(|line| line.seq.is_some()).count();
    if with_seq == 0 {
        return;
    }
    if let Some(without) = entries.iter().find(|line| line.seq.is_none()) {
        file.problems.push(Problem {
            line: without.number,
            refusal: Refusal::new(
                RefusalCode::BadOrder,
                format!(
                    "entry `{}` has no `seq`, but {with_seq} other entries have; either \
                     every entry has one or none",
                    without.entry.id
                ),
            ),
        });
        for line in entries {
            line.seq = None;
        }
        return;
    }
    entries.sort_by_key(|line| line.seq);
}

fn take(line: Line, chart: &mut Chart, file: &mut ChartFile) {
    let number = line.number;
    let outcome = chart.admit(&line.entry).and_then(|admission| {
        let seq = line.seq.unwrap_or(Seq(chart.last_seq().0 + 1));
        if admission == Admission::New && seq <= chart.last_seq() {
            return Err(Refusal::new(
                RefusalCode::BadOrder,
                format!(
                    "entry `{}` has a `seq` ({seq}) that is taken",
                    line.entry.id
                ),
            ));
        }
        Ok((admission, seq))
    });
    match outcome {
        Ok((Admission::New, seq)) => {
            file.lines.push((line.entry.id.clone(), number));
            chart.push_at(seq, line.entry);
        }
        Ok((Admission::Repeat(_), _)) => file.notes.push(Note {
            line: number,
            message: format!(
                "entry `{}` stands there twice; it counts once",
                line.entry.id
            ),
        }),
        Err(refusal) => file.problems.push(Problem {
            line: number,
            refusal,
        }),
    }
}

fn note_broken_seal(number: usize, text: &str, file: &mut ChartFile) {
    if verify_seal(text) == Some(false) {
        file.notes.push(Note {
            line: number,
            message: "the checksum does not fit the line: it was damaged or edited".into(),
        });
    }
}

const SEAL_START: &str = ",\"crc\":\"";
/// `,"crc":"` + 8 hex digits + `"}`.
const SEAL_LENGTH: usize = SEAL_START.len() + 8 + 2;

/// Whether the checksum at the end of `line` fits it; `None` where it has none.
#[must_use]
pub fn verify_seal(line: &str) -> Option<bool> {
    let cut = line.len().checked_sub(SEAL_LENGTH)?;
    let (body, seal) = line.split_at_checked(cut)?;
    let digits = seal.strip_prefix(SEAL_START)?.strip_suffix("\"}")?;
    let found = u32::from_str_radix(digits, 16).ok()?;
    Some(found == crc32fast::hash(body.as_bytes()))
}

/// Adds the checksum to `line`, a JSON object without one.
#[must_use]
pub fn sealed_line(line: &str) -> String {
    let body = line.strip_suffix('}').unwrap_or(line);
    let crc = crc32fast::hash(body.as_bytes());
    format!("{body}{SEAL_START}{crc:08x}\"}}")
}
