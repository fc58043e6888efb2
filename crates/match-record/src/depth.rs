//! How deep a match was charted: what two charts have to have in common before
//! their numbers can be compared, and what no number may claim to rest on.

use rallytide_chart::Stroke;
use serde::Serialize;

use crate::record::MatchRecord;

/// The depth of charting, as the charter chose it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ChartingDepth {
    /// Who won each rally, and no more.
    Score,
    /// How rallies ended, and what was seen at some shots.
    Ends,
    /// Every shot.
    Shots,
}

impl ChartingDepth {
    /// In a table.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Score => "score",
            Self::Ends => "ends",
            Self::Shots => "shots",
        }
    }

    /// For people.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Score => "score only",
            Self::Ends => "ends and cues",
            Self::Shots => "every shot",
        }
    }
}

impl MatchRecord {
    /// How deep the match was charted, told from what the chart holds: it is
    /// recorded nowhere.
    #[must_use]
    pub fn charting_depth(&self) -> ChartingDepth {
        let ended = self.rallies().filter(|rally| rally.end.is_some()).count();
        let served = self.rallies().filter(|rally| {
            let first = rally.shots.first();
            first.is_some_and(|shot| shot.shown.stroke == Some(Stroke::Serve))
        });
        let has_shots = self
            .rallies()
            .any(|rally| rally.recorded_shots().next().is_some());
        // A charter who means every shot misses a serve now and then, one who charts
        // ends hardly ever has it: a quarter tells them apart (on the pages, too).
        match has_shots {
            true if served.count() * 4 >= ended => ChartingDepth::Shots,
            true => ChartingDepth::Ends,
            false if self.tells_ends() => ChartingDepth::Ends,
            false => ChartingDepth::Score,
        }
    }

    /// Whether it is said of some rally how it ended.
    #[must_use]
    pub fn tells_ends(&self) -> bool {
        self.rallies().any(|rally| {
            let how = rally.end.as_ref().and_then(|end| end.shown.how);
            matches!(how, Some("winner" | "ace" | "net" | "out" | "fault"))
        })
    }
}
