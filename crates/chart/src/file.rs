//! The chart file: JSON Lines, the header first. Reading tells problems apart
//! by line and does not stop at the first one. Lines are made here and stored
//! elsewhere.
//!
//! A line that the host stored ends in `,"crc":"<8 hex digits>"}`: the CRC-32
//! (IEEE) of the line's bytes before that comma.

use serde_json::{Map, Value};

use crate::chart::{Admission, Chart};
use crate::entry::{Entry, read_seq};
use crate::fields::object_from_text;
use crate::header::Header;
use crate::identity::{EntryId, Seq};
use crate::refusal::{Refusal, RefusalReason, Subject};

/// Some programs write it in front of UTF-8; it says nothing there.
const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// A chart read from text, with everything that was wrong with it.
#[derive(Debug)]
pub struct ChartFile {
    /// The entries that could be taken in; `None` where the header is at fault.
    pub chart: Option<Chart>,
    /// What would be refused, by line.
    pub problems: Vec<Problem>,
    /// What is odd but does no harm, by line.
    pub notes: Vec<FileNote>,
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
pub struct FileNote {
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

/// A line of the file that holds something.
struct RawLine<'a> {
    number: usize,
    text: Result<&'a str, Refusal>,
    ended: bool,
}

/// Reads a chart from the bytes of a file.
///
/// Every line is looked at: problems and notes are collected with their line
/// numbers. Without a header nothing else can be judged: then its problem is the
/// only one. A torn last line (one without a line end that is no JSON, as a power
/// cut leaves it) is noted and dropped. Lines of white space alone are skipped.
#[must_use]
pub fn read_chart_file(bytes: &[u8]) -> ChartFile {
    let mut file = ChartFile {
        chart: None,
        problems: Vec::new(),
        notes: Vec::new(),
        lines: Vec::new(),
    };
    let bytes = bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes);
    let mut lines = split_lines(bytes);
    drop_torn_line(&mut lines, &mut file);
    let mut lines = lines.into_iter();
    let mut chart = match read_header(lines.next(), &mut file) {
        Ok(header) => Chart::new(header),
        Err(problem) => {
            file.problems.push(problem);
            return file;
        }
    };
    let mut entries = Vec::new();
    for line in lines {
        let number = line.number;
        match line.text.and_then(|text| {
            note_broken_seal(number, text, &mut file);
            parse_line(number, text, &chart)
        }) {
            Ok(entry) => entries.push(entry),
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
    file.notes.sort_by_key(|note| note.line);
    file.chart = Some(chart);
    file
}

/// The lines of a chart as a file, without line ends: the header, then every
/// entry as it was recorded.
pub fn chart_lines(chart: &Chart) -> impl Iterator<Item = String> {
    let header = chart.header().to_json();
    let entries = chart.entries().iter().map(|(_, entry)| entry.to_json());
    std::iter::once(header).chain(entries).map(line_of)
}

/// A JSON object as a line of a file.
fn line_of(object: &Map<String, Value>) -> String {
    serde_json::to_string(object).expect("an object with text keys can be written as JSON")
}

fn split_lines(bytes: &[u8]) -> Vec<RawLine<'_>> {
    bytes
        .split_inclusive(|byte| *byte == b'\n')
        .enumerate()
        .map(|(place, line)| RawLine {
            number: place + 1,
            text: match std::str::from_utf8(line) {
                Ok(text) => Ok(text.trim_matches(is_json_space)),
                Err(error) => {
                    let of = match place {
                        0 => Subject::MatchHeader,
                        _ => Subject::Entry(None),
                    };
                    Err(of.refused(RefusalReason::NotUtf8(error)))
                }
            },
            ended: line.ends_with(b"\n"),
        })
        .filter(|line| !matches!(line.text, Ok("")))
        .collect()
}

/// White space between the tokens of JSON (RFC 8259, section 2).
fn is_json_space(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\n' | '\r')
}

fn drop_torn_line(lines: &mut Vec<RawLine<'_>>, file: &mut ChartFile) {
    let Some(last) = lines.last() else {
        return;
    };
    let readable = last
        .text
        .as_ref()
        .is_ok_and(|text| serde_json::from_str::<serde::de::IgnoredAny>(text).is_ok());
    if lines.len() > 1 && !last.ended && !readable {
        file.notes.push(FileNote {
            line: last.number,
            message: "the last line is torn (cut off while it was written) and was dropped".into(),
        });
        lines.pop();
    }
}

fn read_header(line: Option<RawLine<'_>>, file: &mut ChartFile) -> Result<Header, Problem> {
    let Some(line) = line else {
        return Err(Problem {
            line: 1,
            refusal: Subject::MatchHeader.refused(RefusalReason::EmptyFile),
        });
    };
    let header = line.text.and_then(|text| {
        note_broken_seal(line.number, text, file);
        Header::from_text(text)
    });
    header.map_err(|refusal| Problem {
        line: line.number,
        refusal,
    })
}

fn parse_line(number: usize, text: &str, chart: &Chart) -> Result<Line, Refusal> {
    let object = object_from_text(text, &Subject::Entry(None))?;
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
            refusal: Subject::from(&without.entry.id)
                .refused(RefusalReason::SeqMissing { others: with_seq }),
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
        let seq = line.seq.unwrap_or_else(|| Seq(chart.last_seq().0 + 1));
        if admission == Admission::New && seq <= chart.last_seq() {
            let of = Subject::from(&line.entry.id);
            return Err(of.refused(RefusalReason::SeqTaken { seq }));
        }
        Ok((admission, seq))
    });
    match outcome {
        Ok((Admission::New, seq)) => {
            file.lines.push((line.entry.id.clone(), number));
            chart.push_at(seq, line.entry);
        }
        Ok((Admission::Repeat(_), _)) => file.notes.push(FileNote {
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
    if seal_fits(text) == Some(false) {
        file.notes.push(FileNote {
            line: number,
            message: "the checksum does not fit the line: it was damaged or edited".into(),
        });
    }
}

const SEAL_START: &str = ",\"crc\":\"";
const SEAL_END: &str = "\"}";
const SEAL_DIGITS: usize = 8;

/// Whether the checksum at the end of `line` fits it; `None` where it has none.
fn seal_fits(line: &str) -> Option<bool> {
    let length = SEAL_START.len() + SEAL_DIGITS + SEAL_END.len();
    let (body, seal) = line.split_at_checked(line.len().checked_sub(length)?)?;
    let digits = seal.strip_prefix(SEAL_START)?.strip_suffix(SEAL_END)?;
    Some(u32::from_str_radix(digits, 16) == Ok(crc32fast::hash(body.as_bytes())))
}
