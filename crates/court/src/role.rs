//! The two ways to look at a court.

/// Who looks at a court.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The public: everything but the prompts.
    Viewer,
    /// The commentator: everything.
    Booth,
}
