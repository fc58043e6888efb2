//! The entries of a match as the desk reads them: newest first, with what became
//! of each, the score after it and the rally it belongs to.

use rallytide_chart::{Body, Play, Seq};
use rallytide_scoring::PlayByPlay;
use serde::Serialize;
use serde_json::{Map, Value};

use crate::charted::ChartedMatch;
use crate::seat::Recorder;

/// An entry with its place in the match.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedEntry {
    /// Its position in the log.
    pub seq: Seq,
    /// The entry as it is in force; as it was recorded, if it was retracted.
    pub entry: Map<String, Value>,
    /// What became of it.
    pub fate: EntryFate,
    /// The correction that made it so; retracting that one undoes it.
    pub correction: Option<String>,
    /// Who recorded it.
    pub by: Option<Recorder>,
    /// The score after it, as JSON.
    pub score: Value,
    /// The rally it belongs to, counted from 1, replayed ones included.
    pub rally: u32,
}

/// What became of an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub enum EntryFate {
    /// It stands as it was recorded.
    Original,
    /// It was put right.
    Amended,
    /// It never happened.
    Retracted,
    /// It was missed and put in later.
    Inserted,
}

impl ChartedMatch {
    /// At most `limit` entries, newest first in the order of the effective chart;
    /// with `before`, those that stand before the entry of that position.
    #[must_use]
    pub fn listed(&self, before: Option<Seq>, limit: usize) -> Vec<ListedEntry> {
        let laid = self.chart().laid_out();
        let end = before
            .and_then(|seq| laid.iter().position(|one| one.seq == seq))
            .unwrap_or(laid.len());
        let start = end.saturating_sub(limit);
        let mut play = PlayByPlay::new(self.chart().header());
        let mut rally = 1;
        let mut listed = Vec::with_capacity(end - start);
        for (place, one) in laid.into_iter().take(end).enumerate() {
            let own_rally = rally;
            if let Some(effective) = &one.effective {
                play.step(effective);
                if matches!(*effective.play, Play::RallyEnd(_) | Play::Replay) {
                    rally += 1;
                }
            }
            if place < start {
                continue;
            }
            let fate = match (&one.effective, &one.decided_by, &one.recorded.body) {
                (None, ..) => EntryFate::Retracted,
                (_, Some(_), _) => EntryFate::Amended,
                (_, None, Body::Correction(_)) => EntryFate::Inserted,
                (_, None, Body::Play(_)) => EntryFate::Original,
            };
            listed.push(ListedEntry {
                seq: one.seq,
                entry: match &one.effective {
                    Some(effective) => effective.to_json(),
                    None => one.recorded.to_json().clone(),
                },
                fate,
                correction: one.decided_by.map(|id| id.to_string()),
                by: self.recorder(&one.recorded.id).cloned(),
                score: serde_json::to_value(play.score()).unwrap_or_default(),
                rally: own_rally,
            });
        }
        listed.reverse();
        listed
    }
}
