//! How long the rallies are, and how fast.
//!
//! Three rallies are told apart: the current one (from its first shot on), the
//! last one that counted, and the longest that counted. A rally counts when it
//! has ended; a replayed one leaves no trace.

use rallytide_plugin_kit::Shot;

/// How many shots the tempo is taken from.
const TEMPO_SHOTS: usize = 6;

/// The rallies of a match, as far as they matter here.
#[derive(Debug, Default)]
pub struct MatchRallies {
    current: Option<TimedRally>,
    last: TimedRally,
    longest: u32,
}

/// One rally's shots.
#[derive(Debug, Clone, Default)]
struct TimedRally {
    shots: u32,
    /// The latest recorded shots, oldest first, at most [`TEMPO_SHOTS`].
    latest: Vec<TimedShot>,
}

/// When a shot was recorded.
#[derive(Debug, Clone, Copy)]
struct TimedShot {
    at_ms: f64,
    inserted: bool,
}

/// What is published.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Figures {
    /// Shots of the current, else the last rally, assumed ones included.
    pub shots: u32,
    /// The longest rally that has ended.
    pub longest: u32,
    /// Milliseconds between the latest shots of the same rally as `shots`.
    pub tempo: u32,
}

impl MatchRallies {
    /// The figures as they stand.
    #[must_use]
    pub fn figures(&self) -> Figures {
        let shown = self.current.as_ref().unwrap_or(&self.last);
        Figures {
            shots: shown.shots,
            longest: self.longest,
            tempo: shown.tempo(),
        }
    }

    /// A shot is recorded.
    pub fn shot(&mut self, shot: &Shot, at_ms: f64, inserted: bool) {
        let rally = self.current.get_or_insert_default();
        rally.shots = shot.number;
        if rally.latest.len() == TEMPO_SHOTS {
            rally.latest.remove(0);
        }
        rally.latest.push(TimedShot { at_ms, inserted });
    }

    /// The rally is over and counts; one without shots has 0.
    pub fn rally_ends(&mut self) {
        self.last = self.current.take().unwrap_or_default();
        self.longest = self.longest.max(self.last.shots);
    }

    /// The rally does not count: the one before it is the last again.
    pub fn rally_is_replayed(&mut self) {
        self.current = None;
    }
}

impl TimedRally {
    /// The median gap, rounded down; 0 without a gap. A gap beside a shot that
    /// was put in later says nothing about the play, and a clock that was set
    /// back makes no gap negative.
    fn tempo(&self) -> u32 {
        let pairs = self.latest.windows(2);
        let mut gaps: Vec<f64> = pairs
            .filter(|pair| pair.iter().all(|shot| !shot.inserted))
            .map(|pair| (pair[1].at_ms - pair[0].at_ms).max(0.0))
            .collect();
        gaps.sort_by(f64::total_cmp);
        let middle = gaps.len() / 2;
        let median = match gaps.len() {
            0 => 0.0,
            odd if odd % 2 == 1 => gaps[middle],
            _ => f64::midpoint(gaps[middle - 1], gaps[middle]),
        };
        // Rounds down, and stops at what a reading can hold (49 days).
        median as u32
    }
}
