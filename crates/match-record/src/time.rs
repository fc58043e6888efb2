//! When something happened in a match.

use rallytide_chart::At;

/// A moment on the recorder's clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MatchTime {
    /// When it happened; from entry to entry it never goes back.
    pub at: At,
    /// Not what was recorded: put between the entries around it.
    pub estimated: bool,
}
