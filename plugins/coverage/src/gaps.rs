//! Whether a rally was charted without a gap.
//!
//! It is, if it begins with a serve and no shot of it is assumed; a rally
//! without shots begins with nothing.

use rallytide_plugin_kit::{Shot, Stroke};

/// A rally on its way, as far as it was charted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Charted {
    /// None before the first shot.
    without_gap: Option<bool>,
}

impl Charted {
    /// Takes the next shot of the rally.
    pub fn shot(&mut self, shot: &Shot) {
        let without_gap = self.without_gap.get_or_insert(shot.stroke == Stroke::Serve);
        *without_gap &= !shot.missed_before;
    }

    /// Whether the rally, if it ends here, was charted without a gap.
    #[must_use]
    pub fn is_without_gap(self) -> bool {
        self.without_gap == Some(true)
    }
}
