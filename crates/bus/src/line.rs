//! One line of a log: how it is written, and how it is read back.
//!
//! ```text
//! {<fields of the head>,"crc":"<8 hex digits>"}
//! {<fields of the record>,"seq":7,"received":"2026-05-02T09:00:00.000Z","crc":"<8 hex digits>"}
//! ```
//!
//! The fields come first and stay as they were given, byte for byte; the bus
//! adds its own at the end, at fixed places counted from the end, so reading
//! them back needs no JSON parser and a field of the same name inside the record
//! cannot be mistaken for one of ours. `crc` is the CRC-32 of ISO-HDLC (the
//! one of Ethernet, zip and PNG) over the bytes before `,"crc":`.
//!
//! A changed bit anywhere in a line is found: CRC-32 finds every single-bit
//! error in what it covers, and the rest of the line has only one spelling.

use std::collections::HashSet;
use std::fmt;
use std::io::Write as _;

use jiff::Timestamp;
use serde::Deserialize;
use serde::de::{IgnoredAny, MapAccess, Visitor};

/// The end of every line, before the line break: `"crc":"0123abcd"}`.
const CRC_START: &[u8] = br#""crc":""#;
const CRC_DIGITS: usize = 8;
const CRC_END: &[u8] = br#""}"#;
const RECEIVED_START: &[u8] = br#","received":""#;
/// The length of `2026-05-02T09:00:00.000Z`.
const TIME_LENGTH: usize = 24;
const SEQ_START: &[u8] = br#""seq":"#;

/// Why a text cannot be a line of a log.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum UnfitLine {
    /// It spans lines.
    #[error("it holds a line break at byte {at}, one object is one line")]
    LineBreak {
        /// Where, from 0 on.
        at: usize,
    },
    /// It is no JSON object.
    #[error("it is not one JSON object: {reason}")]
    NotAnObject {
        /// What the parser said.
        reason: String,
    },
    /// It has a field that the log adds itself.
    #[error("it has a field `{field}`, which the log adds itself")]
    ReservedField {
        /// The field.
        field: &'static str,
    },
}

/// What is wrong with a line of a log.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Flaw {
    /// The file ends in the middle of the line.
    #[error("it has no line end")]
    NoLineEnd,
    /// The line does not end in a checksum.
    #[error("it does not end in a checksum")]
    NoChecksum,
    /// The checksum is that of another line.
    #[error("its checksum is {stored:08x}, that of its text is {computed:08x}")]
    WrongChecksum {
        /// What the line says.
        stored: u32,
        /// What its bytes give.
        computed: u32,
    },
    /// The checksum is right, but it is no record of this format.
    #[error("it has no `seq` and `received` where the log writes them")]
    NotARecord,
    /// A record that comes too late.
    #[error("it is record {seq}, but record {after} stands before it")]
    OutOfOrder {
        /// The number it carries.
        seq: u64,
        /// The number of the record before.
        after: u64,
    },
    /// The record is sound, but some before it are not there.
    #[error("it is record {seq}, but the one before it is {after}: {} missing", seq - after - 1)]
    Gap {
        /// The number it carries.
        seq: u64,
        /// The number of the record before.
        after: u64,
    },
}

/// A checked text: one JSON object without its closing brace.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fields<'a> {
    unclosed: &'a str,
    empty: bool,
}

impl<'a> Fields<'a> {
    /// Checks a text that is to become the head of a log.
    pub(crate) fn of_head(text: &'a str) -> Result<Self, UnfitLine> {
        Self::checked(text, &["crc"])
    }

    /// Checks a text that is to become a record.
    pub(crate) fn of_record(text: &'a str) -> Result<Self, UnfitLine> {
        Self::checked(text, &["seq", "received", "crc"])
    }

    fn checked(text: &'a str, reserved: &[&'static str]) -> Result<Self, UnfitLine> {
        if let Some(at) = text.find(['\n', '\r']) {
            return Err(UnfitLine::LineBreak { at });
        }
        let names: Names = serde_json::from_str(text).map_err(|error| UnfitLine::NotAnObject {
            reason: error.to_string(),
        })?;
        if let Some(field) = reserved.iter().find(|&&field| names.0.contains(field)) {
            return Err(UnfitLine::ReservedField { field });
        }
        let trimmed = text.trim_matches(is_json_space);
        let unclosed = trimmed
            .strip_suffix('}')
            .expect("the parser has accepted it as an object");
        let empty = names.0.is_empty();
        Ok(Self { unclosed, empty })
    }

    /// Writes the head line at the end of `out`.
    pub(crate) fn write_head(self, out: &mut Vec<u8>) {
        let start = out.len();
        out.extend_from_slice(self.unclosed.as_bytes());
        let crc = crc32fast::hash(&out[start..]);
        write_crc(out, self.empty, crc);
    }

    /// Writes the line of a record at the end of `out`.
    pub(crate) fn write_record(self, out: &mut Vec<u8>, seq: u64, received: Timestamp) {
        let start = out.len();
        out.extend_from_slice(self.unclosed.as_bytes());
        let comma = if self.empty { "" } else { "," };
        write!(
            out,
            r#"{comma}"seq":{seq},"received":"{}""#,
            time_text(received)
        )
        .expect("writing to memory does not fail");
        let crc = crc32fast::hash(&out[start..]);
        write_crc(out, false, crc);
    }
}

fn write_crc(out: &mut Vec<u8>, first_field: bool, crc: u32) {
    let comma = if first_field { "" } else { "," };
    writeln!(out, r#"{comma}"crc":"{crc:08x}"}}"#).expect("writing to memory does not fail");
}

/// The time as the log keeps it: whole milliseconds, no year before 1970 (a
/// clock that says so is wrong, and a sign would change the length of the text).
pub(crate) fn whole_milliseconds(time: Timestamp) -> Timestamp {
    Timestamp::from_millisecond(time.as_millisecond().max(0))
        .expect("milliseconds of a valid time are a valid time")
}

fn time_text(time: Timestamp) -> String {
    let text = format!("{:.3}", whole_milliseconds(time));
    debug_assert_eq!(text.len(), TIME_LENGTH, "{text}");
    text
}

/// A record read back.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct ReadRecord {
    pub(crate) seq: u64,
    pub(crate) received: Timestamp,
    pub(crate) text: String,
}

/// Reads a head line, given without its line break; the fields as given.
pub(crate) fn read_head(line: &[u8]) -> Result<String, Flaw> {
    let body = verified(line)?;
    closed(body).ok_or(Flaw::NoChecksum)
}

/// Reads the line of a record, given without its line break.
pub(crate) fn read_record(line: &[u8]) -> Result<ReadRecord, Flaw> {
    split_record(verified(line)?).ok_or(Flaw::NotARecord)
}

/// The line without its checksum, once that has been found right.
fn verified(line: &[u8]) -> Result<&[u8], Flaw> {
    let (body, stored) = split_crc(line).ok_or(Flaw::NoChecksum)?;
    let computed = crc32fast::hash(body);
    if computed != stored {
        return Err(Flaw::WrongChecksum { stored, computed });
    }
    Ok(body)
}

fn split_crc(line: &[u8]) -> Option<(&[u8], u32)> {
    let rest = line.strip_suffix(CRC_END)?;
    let (rest, digits) = rest.split_at_checked(rest.len().checked_sub(CRC_DIGITS)?)?;
    // Lower case only: a second spelling would hide a flipped bit.
    let lower_hex = |b: &u8| b.is_ascii_digit() || (b'a'..=b'f').contains(b);
    if !digits.iter().all(lower_hex) {
        return None;
    }
    let crc = u32::from_str_radix(str::from_utf8(digits).ok()?, 16).ok()?;
    let rest = rest.strip_suffix(CRC_START)?;
    let body = match rest.strip_suffix(b",") {
        Some(body) if !is_empty_object(body) => body,
        None if is_empty_object(rest) => rest,
        _ => return None,
    };
    Some((body, crc))
}

fn split_record(body: &[u8]) -> Option<ReadRecord> {
    let rest = body.strip_suffix(b"\"")?;
    let (rest, time) = rest.split_at_checked(rest.len().checked_sub(TIME_LENGTH)?)?;
    let received = str::from_utf8(time).ok()?.parse().ok()?;
    let rest = rest.strip_suffix(RECEIVED_START)?;
    let digits = rest.iter().rev().take_while(|b| b.is_ascii_digit()).count();
    let (rest, seq) = rest.split_at(rest.len() - digits);
    let seq = str::from_utf8(seq).ok()?.parse().ok()?;
    let rest = rest.strip_suffix(SEQ_START)?;
    let fields = match rest.strip_suffix(b",") {
        Some(fields) => fields,
        None if is_empty_object(rest) => rest,
        None => return None,
    };
    Some(ReadRecord {
        seq,
        received,
        text: closed(fields)?,
    })
}

/// The object again, from its text without the closing brace.
fn closed(unclosed: &[u8]) -> Option<String> {
    let mut text = str::from_utf8(unclosed).ok()?.to_owned();
    text.push('}');
    Some(text)
}

fn is_empty_object(unclosed: &[u8]) -> bool {
    unclosed
        .strip_prefix(b"{")
        .is_some_and(|rest| rest.iter().all(|&b| is_json_space(char::from(b))))
}

/// White space between the tokens of JSON (RFC 8259, section 2).
fn is_json_space(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\n' | '\r')
}

/// The field names of an object; the values are checked and let go.
struct Names(HashSet<String>);

impl<'de> Deserialize<'de> for Names {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct OnlyNames;
        impl<'de> Visitor<'de> for OnlyNames {
            type Value = Names;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Names, A::Error> {
                let mut names = HashSet::new();
                while let Some(name) = map.next_key::<String>()? {
                    map.next_value::<IgnoredAny>()?;
                    names.insert(name);
                }
                Ok(Names(names))
            }
        }
        deserializer.deserialize_map(OnlyNames)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noon() -> Timestamp {
        "2026-05-02T12:00:00Z".parse().unwrap()
    }

    fn record_line(text: &str, seq: u64) -> String {
        let mut out = Vec::new();
        let fields = Fields::of_record(text).unwrap();
        fields.write_record(&mut out, seq, noon());
        String::from_utf8(out).unwrap()
    }

    fn head_line(text: &str) -> String {
        let mut out = Vec::new();
        Fields::of_head(text).unwrap().write_head(&mut out);
        String::from_utf8(out).unwrap()
    }

    /// The check value of CRC-32/ISO-HDLC is published as `cbf43926` for the
    /// text `123456789` (Catalogue of parametrised CRC algorithms, G. Cook).
    #[test]
    fn the_checksum_is_the_common_crc_32() {
        assert_eq!(crc32fast::hash(b"123456789"), 0xcbf4_3926);
    }

    /// The checksums in the README were computed with `zlib.crc32` of Python.
    #[test]
    fn the_example_in_the_readme_is_a_sound_log() {
        let readme = include_str!("../README.md");
        let mut lines = readme
            .lines()
            .filter(|line| line.starts_with("{\"kind\":\"match\"") || line.starts_with("{\"id\""));
        let head = read_head(lines.next().unwrap().as_bytes()).unwrap();
        assert_eq!(head, r#"{"kind":"match","id":"pier-cup-final"}"#);
        let line = lines.next().unwrap();
        let record = read_record(line.as_bytes()).unwrap();
        assert_eq!(record.seq, 1);
        let mut written = Vec::new();
        Fields::of_record(&record.text)
            .unwrap()
            .write_record(&mut written, 1, record.received);
        assert_eq!(written, format!("{line}\n").as_bytes());
    }

    #[test]
    fn a_record_line_is_the_own_fields_then_ours() {
        let line = record_line(r#"{"id":"r1s1", "kind":"shot"}"#, 7);
        let covered =
            r#"{"id":"r1s1", "kind":"shot","seq":7,"received":"2026-05-02T12:00:00.000Z""#;
        let crc = crc32fast::hash(covered.as_bytes());
        assert_eq!(line, format!("{covered},\"crc\":\"{crc:08x}\"}}\n"));
    }

    #[test]
    fn an_empty_object_gets_no_stray_comma() {
        for (text, line) in [
            ("{}", record_line("{}", 1)),
            ("{ }", record_line("{ }", 1)),
            ("{}", head_line("{}")),
            ("{\t}", head_line("{\t}")),
        ] {
            let parsed: serde_json::Value = serde_json::from_str(&line).unwrap();
            assert!(parsed.is_object(), "{line}");
            let line = line.trim_end().as_bytes();
            let back = read_record(line)
                .map(|r| r.text)
                .or_else(|_| read_head(line));
            assert_eq!(back.as_deref(), Ok(text));
        }
    }

    #[test]
    fn what_is_written_reads_back_byte_for_byte() {
        for text in [
            "{}",
            r#"{"a":1}"#,
            r#"{"a":{"seq":4,"received":"x","crc":"00000000"} }"#,
            r#"{"text":",\"seq\":9,\"received\":\"2026-05-02T12:00:00.000Z\",\"crc\":\"00000000\"}"}"#,
            r#"{"name":"Žofie 球","n":-0.0e5}"#,
        ] {
            let line = record_line(text, u64::MAX);
            let record = read_record(line.trim_end().as_bytes()).unwrap();
            assert_eq!(record.text, text);
            assert_eq!(record.seq, u64::MAX);
            assert_eq!(record.received, noon());
            let head = head_line(text);
            assert_eq!(read_head(head.trim_end().as_bytes()).unwrap(), text);
        }
    }

    #[test]
    fn every_line_is_a_json_object_with_our_fields() {
        let line = record_line(r#"{"id":"n1","text":"sätze"}"#, 12);
        let parsed: serde_json::Value = serde_json::from_str(&line).unwrap();
        assert_eq!(parsed["seq"], 12);
        assert_eq!(parsed["received"], "2026-05-02T12:00:00.000Z");
        assert_eq!(parsed["text"], "sätze");
    }

    #[test]
    fn a_text_that_is_not_one_object_on_one_line_is_refused() {
        for text in [
            "",
            "[]",
            "1",
            "{",
            "{}{}",
            r#"{"a":}"#,
            "null",
            "{\"a\":\"\u{1}\"}",
        ] {
            let refused = Fields::of_record(text).unwrap_err();
            assert!(
                matches!(refused, UnfitLine::NotAnObject { .. }),
                "{text:?}: {refused}"
            );
        }
        for text in ["{\n}", "{\"a\":\r\n1}", "{}\n"] {
            let refused = Fields::of_record(text).unwrap_err();
            assert!(
                matches!(refused, UnfitLine::LineBreak { .. }),
                "{text:?}: {refused}"
            );
        }
    }

    #[test]
    fn a_text_with_a_field_of_ours_is_refused_however_it_is_spelled() {
        for (text, expected) in [
            (r#"{"seq":1}"#, "seq"),
            (r#"{"a":1,"\u0073eq":1}"#, "seq"),
            (r#"{"received":null}"#, "received"),
            (r#"{"crc":""}"#, "crc"),
        ] {
            let refused = Fields::of_record(text).unwrap_err();
            assert_eq!(refused, UnfitLine::ReservedField { field: expected });
        }
        assert!(Fields::of_head(r#"{"seq":1}"#).is_ok());
        assert!(Fields::of_head(r#"{"crc":1}"#).is_err());
    }

    #[test]
    fn deep_nesting_neither_overflows_nor_is_refused() {
        let text = format!(r#"{{"a":{}1{}}}"#, "[".repeat(30_000), "]".repeat(30_000));
        assert!(Fields::of_record(&text).is_ok());
    }

    #[test]
    fn a_clock_before_1970_is_written_as_1970() {
        let early: Timestamp = "-000044-03-15T00:00:00Z".parse().unwrap();
        assert_eq!(time_text(early), "1970-01-01T00:00:00.000Z");
    }

    #[test]
    fn the_time_is_cut_to_milliseconds_not_rounded() {
        let time: Timestamp = "2026-05-02T12:00:00.999999Z".parse().unwrap();
        assert_eq!(time_text(time), "2026-05-02T12:00:00.999Z");
    }

    #[test]
    fn every_flipped_bit_of_a_line_is_found() {
        let lines = [
            record_line(r#"{"id":"r9s3","kind":"shot","team":"a"}"#, 41),
            record_line("{}", 1),
        ];
        for line in lines {
            let line = line.trim_end().as_bytes();
            for bit in 0..line.len() * 8 {
                let mut flipped = line.to_vec();
                flipped[bit / 8] ^= 1 << (bit % 8);
                assert!(read_record(&flipped).is_err(), "bit {bit} of {line:?}");
            }
        }
    }
}
