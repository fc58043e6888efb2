//! Names and positions: entry ids, match ids, sequence numbers, times.

use serde::{Deserialize, Serialize};

/// The longest id, in characters.
const ID_LIMIT: usize = 64;

/// The rule for ids of entries and matches and for names of courts, in words.
pub const ID_RULE: &str = "1 to 64 of A-Z a-z 0-9 _ -";

fn is_id(text: &str) -> bool {
    (1..=ID_LIMIT).contains(&text.len())
        && text
            .bytes()
            .all(|b| b.is_ascii_alphanumeric() || b == b'_' || b == b'-')
}

/// The id of an entry: 1–64 of `A–Z a–z 0–9 _ -`, unique in its chart.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(transparent)]
#[cfg_attr(
    feature = "ts",
    derive(ts_rs::TS, schemars::JsonSchema),
    ts(type = "string")
)]
pub struct EntryId(std::sync::Arc<str>);

impl EntryId {
    /// Checks the rule for ids; `None` where `text` breaks it.
    #[must_use]
    pub fn new(text: &str) -> Option<Self> {
        is_id(text).then(|| Self(text.into()))
    }

    /// The id as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl std::borrow::Borrow<str> for EntryId {
    fn borrow(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for EntryId {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// The id of a match, under the same rule as an entry's: it names a file and
/// stands in links.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(transparent)]
pub struct MatchId(std::sync::Arc<str>);

impl MatchId {
    /// Checks the rule for ids; `None` where `text` breaks it.
    #[must_use]
    pub fn new(text: &str) -> Option<Self> {
        is_id(text).then(|| Self(text.into()))
    }

    /// The id as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for MatchId {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// The position of an entry in its chart: 1, 2, 3 …; 0 stands for "before the
/// first entry".
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[serde(transparent)]
#[cfg_attr(
    feature = "ts",
    derive(ts_rs::TS, schemars::JsonSchema),
    ts(type = "number")
)]
pub struct Seq(pub u64);

impl std::fmt::Display for Seq {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.fmt(f)
    }
}

/// A moment on the recorder's clock, in whole milliseconds since 1970 UTC.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct At(i64);

impl At {
    /// Reads an RFC 3339 time in UTC: `Z` or a zero offset, a fraction of any
    /// length or none. What is below a millisecond is cut off. A time in another
    /// zone, and any other text, gives `None`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        const PATTERN: &[u8] = b"dddd-dd-ddTdd:dd:dd";
        let (moment, rest) = text.split_at_checked(PATTERN.len())?;
        let written_so = moment.bytes().zip(PATTERN).all(|(byte, rule)| match rule {
            b'd' => byte.is_ascii_digit(),
            b'T' => byte.eq_ignore_ascii_case(&b'T'),
            _ => byte == *rule,
        });
        let rest = ["Z", "z", "+00:00", "-00:00"]
            .iter()
            .find_map(|zone| rest.strip_suffix(zone))?;
        let fraction = match rest.strip_prefix('.') {
            None if rest.is_empty() => "0",
            Some(digits) if !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit()) => {
                digits.get(..3).unwrap_or(digits)
            }
            _ => return None,
        };
        if !written_so {
            return None;
        }
        let timestamp: jiff::Timestamp = format!("{moment}.{fraction}Z").parse().ok()?;
        Some(Self(timestamp.as_millisecond()))
    }

    /// The moment `milliseconds` after the start of 1970 UTC.
    #[must_use]
    pub fn from_milliseconds(milliseconds: i64) -> Self {
        Self(milliseconds)
    }

    /// Milliseconds since the start of 1970 UTC.
    #[must_use]
    pub fn milliseconds(self) -> i64 {
        self.0
    }
}

/// Writes the time as RFC 3339, UTC, with milliseconds.
impl std::fmt::Display for At {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match jiff::Timestamp::from_millisecond(self.0) {
            Ok(timestamp) => write!(f, "{timestamp:.3}"),
            Err(_) => f.write_str("out of range"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_time(text: &str, expected: &str) {
        let at = At::parse(text).unwrap_or_else(|| panic!("`{text}` was not read"));
        assert_eq!(at.to_string(), expected, "{text}");
    }

    #[test]
    fn times_are_read_and_written_in_rfc_3339_with_milliseconds() {
        // RFC 3339 §5.8 gives `1985-04-12T23:20:50.52Z` as its first example.
        check_time("1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.520Z");
        let at = At::parse("1985-04-12T23:20:50.52Z").unwrap();
        // Computed with `date -u -d 1985-04-12T23:20:50Z +%s` of GNU coreutils.
        assert_eq!(at.milliseconds(), 482_196_050_520);
        assert_eq!(At::from_milliseconds(482_196_050_520), at);
    }

    #[test]
    fn a_fraction_may_have_any_length_and_is_cut_to_milliseconds() {
        for (text, expected) in [
            ("2026-05-02T10:00:00Z", "2026-05-02T10:00:00.000Z"),
            ("2026-05-02T10:00:00.1Z", "2026-05-02T10:00:00.100Z"),
            ("2026-05-02T10:00:00.1239Z", "2026-05-02T10:00:00.123Z"),
            (
                "2026-05-02T10:00:00.12345678901234567890Z",
                "2026-05-02T10:00:00.123Z",
            ),
        ] {
            check_time(text, expected);
        }
    }

    #[test]
    fn every_spelling_of_utc_that_rfc_3339_knows_is_read() {
        // RFC 3339 §5.6 (`T` and `Z` may be lower case) and §4.3 (`-00:00`).
        for text in [
            "2026-05-02t10:00:00.000z",
            "2026-05-02T10:00:00.000+00:00",
            "2026-05-02T10:00:00.000-00:00",
        ] {
            check_time(text, "2026-05-02T10:00:00.000Z");
        }
    }

    #[test]
    fn a_leap_second_counts_as_the_second_before_it() {
        // RFC 3339 §5.8 gives `1990-12-31T23:59:60Z` as an example.
        check_time("1990-12-31T23:59:60Z", "1990-12-31T23:59:59.000Z");
    }

    #[test]
    fn times_that_are_not_utc_or_not_rfc_3339_are_refused() {
        for text in [
            "1996-12-19T16:39:57-08:00",
            "2026-05-02T10:00:00",
            "2026-05-02",
            "2026-05-02 10:00:00Z",
            "2026-05-02T10:00Z",
            "2026-13-02T10:00:00.000Z",
            "2026-02-30T10:00:00.000Z",
            "2026-05-02T24:00:00.000Z",
            "2026-05-02T10:60:00.000Z",
            "2026-05-02T10:00:00.Z",
            "2026-05-02T10:00:00,5Z",
            "2026-05-02T10:00:00.5ZZ",
            "2026-05-02T10:00:00Z[UTC]",
            "+2026-05-02T10:00:00Z",
            "20260502T100000Z",
            "２026-05-02T10:00:00Z",
            "yesterday",
            "",
        ] {
            assert_eq!(At::parse(text), None, "{text}");
        }
    }

    #[test]
    fn ids_hold_1_to_64_of_the_allowed_characters() {
        assert!(EntryId::new("r3s4_A-9").is_some());
        assert!(EntryId::new(&"x".repeat(64)).is_some());
        for text in ["", "a b", "é", "a.b", &"x".repeat(65)] {
            assert!(EntryId::new(text).is_none(), "{text}");
        }
    }
}
