//! The name of a court.

use std::sync::Arc;

use rallytide_chart::MatchId;
use serde::{Deserialize, Serialize};

/// The name of a court in links: 1–64 of `A–Z a–z 0–9 _ -`.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String")]
pub struct CourtName(Arc<str>);

impl CourtName {
    /// Checks the rule for names; `None` where `text` breaks it.
    #[must_use]
    pub fn new(text: &str) -> Option<Self> {
        MatchId::new(text).map(|name| Self(name.as_str().into()))
    }

    /// The name as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl TryFrom<String> for CourtName {
    type Error = &'static str;

    fn try_from(text: String) -> Result<Self, Self::Error> {
        Self::new(&text).ok_or("no name of a court: 1 to 64 of A-Z a-z 0-9 _ -")
    }
}

impl std::fmt::Display for CourtName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}
