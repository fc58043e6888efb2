//! What viewers are sent: snapshots and updates, encoded once for each role.

use std::sync::Arc;

use rallytide_readings::{KnownIndicator, Reading, ReadingKey, Unavailable};
use rallytide_scoring::Score;
use serde::Serialize;
use serde_json::{Map, Value};

use crate::book::{RallyPatch, ShownRallyBook};
use crate::role::Role;

/// The whole state of a court.
#[derive(Debug, Serialize)]
#[serde(tag = "type", rename = "snapshot")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct Snapshot<'a> {
    /// The position of the last entry, 0 without one.
    pub seq: u64,
    /// Raised by each correction.
    pub revision: u64,
    /// Why a snapshot comes in the middle of a feed: `corrected`, `match`,
    /// `plugins`, `words`, `paused`, `resumed`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "ts", ts(optional))]
    pub reason: Option<&'static str>,
    /// The match header; `null` on a court without a match.
    #[serde(rename = "match")]
    #[cfg_attr(feature = "ts", ts(type = "MatchHeader | null"))]
    pub header: Option<&'a Map<String, Value>>,
    /// The score.
    pub score: Option<&'a Score>,
    /// All current readings, sorted.
    pub readings: Vec<&'a Reading>,
    /// The current rally and the last ones.
    pub rally: Option<ShownRallyBook<'a>>,
    /// Plugins whose readings are not to be had, and why.
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    #[cfg_attr(feature = "ts", ts(optional, as = "Option<Vec<Unavailable>>"))]
    pub unavailable: &'a [Unavailable],
    /// The latest time-out, technical foul, replay or corrected score since
    /// the last shot, as its entry; what a page opened now has to say.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "ts", ts(optional, type = "Record<string, unknown>"))]
    pub between: Option<&'a Map<String, Value>>,
    /// The desk has paused play; said only while it lasts.
    #[serde(skip_serializing_if = "is_not")]
    #[cfg_attr(feature = "ts", ts(optional, as = "Option<bool>"))]
    pub paused: bool,
}

/// What one entry changed.
#[derive(Debug, Serialize)]
#[serde(tag = "type", rename = "update")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct Update<'a> {
    /// The position of the entry.
    pub seq: u64,
    /// As in the last snapshot.
    pub revision: u64,
    /// The entry as it is in the effective chart.
    #[cfg_attr(feature = "ts", ts(type = "Record<string, unknown>"))]
    pub entry: &'a Map<String, Value>,
    /// The score, if it is another one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "ts", ts(optional))]
    pub score: Option<&'a Score>,
    /// The readings that are new or different, sorted.
    pub readings: Vec<&'a Reading>,
    /// The readings that are no more.
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    #[cfg_attr(feature = "ts", ts(optional, as = "Option<Vec<ReadingKey>>"))]
    pub gone: &'a [ReadingKey],
    /// What changed in the rally.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "ts", ts(optional))]
    pub rally: Option<&'a RallyPatch>,
    /// Plugins whose readings are not to be had, if that has changed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "ts", ts(optional))]
    pub unavailable: Option<&'a [Unavailable]>,
    /// As in the snapshot.
    #[serde(skip_serializing_if = "is_not")]
    #[cfg_attr(feature = "ts", ts(optional, as = "Option<bool>"))]
    pub paused: bool,
}

/// A message as each role gets it. Where there is nothing to keep from
/// viewers, both are the same text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Encoded {
    viewer: Arc<str>,
    booth: Arc<str>,
}

impl Encoded {
    /// The text for a role.
    #[must_use]
    pub fn text(&self, role: Role) -> &Arc<str> {
        match role {
            Role::Viewer => &self.viewer,
            Role::Booth => &self.booth,
        }
    }
}

impl Snapshot<'_> {
    /// Encodes the snapshot for both roles.
    #[must_use]
    pub fn encode(mut self) -> Encoded {
        let booth = encode(&self);
        let all = self.readings.len();
        self.readings.retain(|reading| is_for_viewers(reading));
        let viewer = if self.readings.len() == all {
            Arc::clone(&booth)
        } else {
            encode(&self)
        };
        Encoded { viewer, booth }
    }
}

impl Update<'_> {
    /// Encodes the update for both roles.
    #[must_use]
    pub fn encode(mut self) -> Encoded {
        let booth = encode(&self);
        let all = self.readings.len();
        let prompt_gone = self
            .gone
            .iter()
            .any(|key| KnownIndicator::Prompt.names(key));
        self.readings.retain(|reading| is_for_viewers(reading));
        if self.readings.len() == all && !prompt_gone {
            return Encoded {
                viewer: Arc::clone(&booth),
                booth,
            };
        }
        let gone: Vec<ReadingKey> = self
            .gone
            .iter()
            .filter(|key| !KnownIndicator::Prompt.names(key))
            .cloned()
            .collect();
        let viewer = encode(&Update {
            gone: &gone,
            ..self
        });
        Encoded { viewer, booth }
    }
}

/// Serde hands the field over by reference.
#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_not(said: &bool) -> bool {
    !said
}

/// Prompts are for the booth alone.
fn is_for_viewers(reading: &Reading) -> bool {
    !KnownIndicator::Prompt.names(&reading.key)
}

fn encode(message: &impl Serialize) -> Arc<str> {
    serde_json::to_string(message)
        .expect("messages hold only strings, numbers that are finite, and maps with text keys")
        .into()
}
