//! How much of a match was charted, so that what was not is never shown as zero.

use rallytide_chart::{Cue, Stroke};
use rallytide_match_record::MatchRecord;

/// What a chart holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Charted {
    pub(crate) depth: Depth,
    /// Of some rally it is said how it ended.
    pub(crate) ends: bool,
    /// Some ball is marked as high.
    pub(crate) high_balls: bool,
}

/// The depth of charting, as the charter chose it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Depth {
    /// Who won each rally, and no more.
    Score,
    /// How rallies ended, and what was seen at some shots.
    Ends,
    /// Every shot.
    Shots,
}

impl Charted {
    pub(crate) fn of(record: &MatchRecord) -> Self {
        let ended = record.rallies().filter(|rally| rally.end.is_some());
        let served = record.rallies().filter(|rally| {
            let first = rally.shots.first();
            first.is_some_and(|shot| shot.shown.stroke == Some(Stroke::Serve))
        });
        let (ended, served) = (ended.count(), served.count());
        let recorded: usize = record
            .rallies()
            .map(|rally| rally.recorded_shots().count())
            .sum();
        let ends = record.rallies().any(|rally| {
            let how = rally.end.as_ref().and_then(|end| end.shown.how);
            matches!(how, Some("winner" | "ace" | "net" | "out" | "fault"))
        });
        let high_balls = record.rallies().any(|rally| {
            rally
                .shots
                .iter()
                .any(|shot| shot.shown.cues.contains(&Cue::Attackable))
        });
        // A charter who means every shot misses a serve now and then, one who charts
        // ends hardly ever has it: a quarter tells them apart (on the pages, too).
        let depth = if recorded == 0 {
            if ends { Depth::Ends } else { Depth::Score }
        } else if served * 4 >= ended {
            Depth::Shots
        } else {
            Depth::Ends
        };
        Self {
            depth,
            ends,
            high_balls,
        }
    }

    /// Whether anything was recorded that this indicator counts.
    pub(crate) fn holds(self, indicator: &str, slot: Option<&str>) -> bool {
        match (indicator, slot) {
            ("gift.share", _) if !self.ends => false,
            ("sitter.punished", _) | ("speedup.won", Some("sitter")) if !self.high_balls => false,
            _ => self.depth != Depth::Score || !needs_shots(indicator),
        }
    }
}

impl Depth {
    /// In a table.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Score => "score",
            Self::Ends => "ends",
            Self::Shots => "shots",
        }
    }

    /// For people.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Score => "score only",
            Self::Ends => "ends and cues",
            Self::Shots => "every shot",
        }
    }
}

/// First-party indicators that say nothing where no shot is charted.
fn needs_shots(indicator: &str) -> bool {
    const OF_SHOTS: &[&str] = &[
        "approach.",
        "charting.",
        "defense.",
        "escape.",
        "gift.",
        "neutral.",
        "offense.",
        "player.",
        "pressed.",
        "rally.",
        "sitter.",
        "speedup.",
        "third.",
        "unpressed.",
    ];
    matches!(indicator, "initiative" | "depth")
        || OF_SHOTS.iter().any(|group| indicator.starts_with(group))
}
