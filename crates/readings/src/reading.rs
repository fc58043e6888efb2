//! A reading: one current value of an indicator, as it stands on the wire.
//!
//! Invariants of every reading that leaves this crate: reasons and flags are
//! sorted, numbers are finite and within their range, every reason names an
//! entry of the chart that was run. What an indicator means is its plugin's
//! business.

use rallytide_chart::{EntryId, Seq, Team};
use serde::Serialize;
use strum::IntoStaticStr;

use crate::name::Name;

/// One current value of an indicator.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct Reading {
    /// What it is a reading of.
    #[serde(flatten)]
    pub key: ReadingKey,
    /// What it says.
    pub value: Value,
    /// Why, sorted by code, then team, then entry.
    pub why: Vec<Reason>,
    /// Words that qualify it, such as `inferred`; sorted.
    pub flags: Vec<String>,
    /// The plugin that published it.
    pub plugin: Name,
    /// The position of the entry at which `value` last changed; 0: it has been
    /// so from the start.
    pub seq: Seq,
}

impl Reading {
    /// The indicator's name.
    #[must_use]
    pub fn indicator(&self) -> &str {
        &self.key.indicator
    }
}

/// Names a reading; at most one is current under a key. Keys sort as readings
/// do: by indicator, team, player, slot, each absent one first.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct ReadingKey {
    /// The indicator's name.
    pub indicator: Name,
    /// The team it is about; `None`: the match.
    pub team: Option<Team>,
    /// The player it is about, 0 or 1.
    pub player: Option<u32>,
    /// A further distinction within the indicator.
    pub slot: Option<Name>,
}

/// What a reading says.
#[derive(Debug, Clone, PartialEq, Serialize, IntoStaticStr)]
#[serde(tag = "type", rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub enum Value {
    /// Leaning towards a team or nobody.
    Lean {
        /// The team it leans towards.
        toward: Option<Team>,
        /// From 0 to 1.
        strength: f64,
    },
    /// A number of things.
    Count {
        /// How many.
        n: u32,
    },
    /// A part of a whole.
    Share {
        /// At most `whole`.
        part: u32,
        /// The sample size; may be 0.
        whole: u32,
    },
    /// A probability.
    Chance {
        /// From 0 to 1.
        p: f64,
    },
    /// A length of time.
    Duration {
        /// Milliseconds.
        ms: u32,
    },
    /// Text.
    Text {
        /// One line or more, of bounded length.
        text: String,
    },
    /// Yes or no.
    Flag {
        /// Whether it is so.
        on: bool,
    },
}

impl Value {
    /// The value's type as it is written.
    #[must_use]
    pub fn form(&self) -> &'static str {
        self.into()
    }
}

/// Why a reading is what it is.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct Reason {
    /// Which rule was read.
    pub code: Name,
    /// The team it speaks against.
    pub team: Option<Team>,
    /// The entry that shows it.
    pub entry: EntryId,
    /// It was inferred, not seen.
    pub inferred: bool,
    /// The place of the entry among those that were handed over, from 1: what
    /// plugins call it by.
    #[serde(skip)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub place: u32,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(indicator: &str, team: Option<Team>, slot: Option<&str>) -> ReadingKey {
        ReadingKey {
            indicator: indicator.into(),
            team,
            player: None,
            slot: slot.map(Name::from),
        }
    }

    #[test]
    fn a_reading_is_written_with_its_keys_in_the_order_of_the_wire() {
        let reading = Reading {
            key: key("initiative", None, None),
            value: Value::Lean {
                toward: Some(Team::A),
                strength: 1.0,
            },
            why: vec![Reason {
                code: "air".into(),
                team: Some(Team::B),
                entry: EntryId::new("r3s4").unwrap(),
                inferred: false,
                place: 4,
            }],
            flags: Vec::new(),
            plugin: "initiative".into(),
            seq: Seq(41),
        };
        assert_eq!(
            serde_json::to_string(&reading).unwrap(),
            r#"{"indicator":"initiative","team":null,"player":null,"slot":null,"value":{"type":"lean","toward":"a","strength":1.0},"why":[{"code":"air","team":"b","entry":"r3s4","inferred":false}],"flags":[],"plugin":"initiative","seq":41}"#
        );
    }

    #[test]
    fn every_value_is_tagged_with_its_type() {
        let cases = [
            (Value::Count { n: 3 }, r#"{"type":"count","n":3}"#),
            (
                Value::Share { part: 0, whole: 0 },
                r#"{"type":"share","part":0,"whole":0}"#,
            ),
            (Value::Chance { p: 0.5 }, r#"{"type":"chance","p":0.5}"#),
            (
                Value::Duration { ms: 640 },
                r#"{"type":"duration","ms":640}"#,
            ),
            (
                Value::Text {
                    text: "line".into(),
                },
                r#"{"type":"text","text":"line"}"#,
            ),
            (Value::Flag { on: true }, r#"{"type":"flag","on":true}"#),
        ];
        for (value, expected) in cases {
            assert_eq!(serde_json::to_string(&value).unwrap(), expected);
            assert!(expected.contains(&format!(r#""type":"{}""#, value.form())));
        }
    }

    #[test]
    fn keys_sort_by_indicator_team_and_slot_with_the_absent_first() {
        let mut keys = vec![
            key("depth", Some(Team::B), None),
            key("depth", Some(Team::A), Some("x")),
            key("depth", Some(Team::A), None),
            key("depth", None, Some("x")),
            key("depth", None, None),
            key("back", Some(Team::B), None),
        ];
        keys.reverse();
        keys.sort();
        assert_eq!(
            keys,
            vec![
                key("back", Some(Team::B), None),
                key("depth", None, None),
                key("depth", None, Some("x")),
                key("depth", Some(Team::A), None),
                key("depth", Some(Team::A), Some("x")),
                key("depth", Some(Team::B), None),
            ]
        );
    }
}
