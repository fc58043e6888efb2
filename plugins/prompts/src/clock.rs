//! The pause between two prompts, by the recorder's clock, which may be set back
//! or forth in the middle of a match.

/// When something was last said. All times are the recorder's, in milliseconds.
#[derive(Debug)]
pub struct Clock {
    pause: f64,
    latest: Option<f64>,
    said_at: Option<f64>,
    played_since: f64,
}

impl Clock {
    /// Nothing has been said.
    #[must_use]
    pub fn new(pause_ms: f64) -> Self {
        Self {
            pause: pause_ms,
            latest: None,
            said_at: None,
            played_since: 0.0,
        }
    }

    /// The clock stands here now. Where it was set back nothing has been played.
    pub fn tick(&mut self, at_ms: f64) {
        let gap = self.latest.map_or(0.0, |latest| at_ms - latest);
        self.played_since += gap.max(0.0);
        self.latest = Some(at_ms);
    }

    /// Something was said.
    pub fn said(&mut self, at_ms: f64) {
        self.said_at = Some(at_ms);
        self.played_since = 0.0;
    }

    /// Whether the pause has been played, and lies between the two times as well.
    #[must_use]
    pub fn is_pause_over(&self, at_ms: f64) -> bool {
        self.said_at.is_none_or(|said_at| {
            self.played_since >= self.pause && (at_ms - said_at).abs() >= self.pause
        })
    }
}
