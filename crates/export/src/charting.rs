//! How much of a match was charted, so that what was not is never shown as zero.

use rallytide_chart::Cue;
use rallytide_match_record::{ChartingDepth, MatchRecord};
use rallytide_readings::KnownIndicator;

/// What a chart holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Charted {
    pub(crate) depth: ChartingDepth,
    /// Of some rally it is said how it ended.
    pub(crate) ends: bool,
    /// Some ball is marked as high.
    pub(crate) high_balls: bool,
}

impl Charted {
    pub(crate) fn of(record: &MatchRecord) -> Self {
        let high_balls = record.rallies().any(|rally| {
            rally
                .shots
                .iter()
                .any(|shot| shot.shown.cues.contains(&Cue::Attackable))
        });
        Self {
            depth: record.charting_depth(),
            ends: record.tells_ends(),
            high_balls,
        }
    }

    /// Whether anything was recorded that this indicator counts.
    pub(crate) fn holds(self, indicator: KnownIndicator, slot: Option<&str>) -> bool {
        match (indicator, slot) {
            (KnownIndicator::GiftShare, _) if !self.ends => false,
            (KnownIndicator::SitterPunished, _) | (KnownIndicator::SpeedupWon, Some("sitter"))
                if !self.high_balls =>
            {
                false
            }
            _ => self.depth != ChartingDepth::Score || !indicator.needs_shots(),
        }
    }
}
