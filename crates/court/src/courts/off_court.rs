//! What the courts remember of a match that is on none of them.

use rallytide_chart::{Chart, Header, Team};
use rallytide_scoring::PlayByPlay;
use serde_json::Value;

/// What is remembered of a match that is on no court, so that its log need not
/// be read again.
#[derive(Debug, Clone)]
pub(super) struct OffCourtMatch {
    pub(super) original: Header,
    pub(super) entries: usize,
    pub(super) winner: Option<&'static str>,
    pub(super) score: Value,
}

impl OffCourtMatch {
    pub(super) fn of(chart: &Chart) -> Self {
        let mut play = PlayByPlay::new(chart.header());
        for entry in chart.effective() {
            play.step(&entry);
        }
        Self {
            original: chart.header().as_ref().clone(),
            entries: chart.entries().len(),
            winner: play.score().winner.map(Team::word),
            score: serde_json::to_value(play.score()).unwrap_or_default(),
        }
    }
}
