//! The name of a court.

use std::sync::Arc;

use rallytide_chart::{ID_RULE, MatchId};
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
    type Error = String;

    fn try_from(text: String) -> Result<Self, Self::Error> {
        Self::new(&text).ok_or_else(|| format!("`{text}` is no name of a court: {ID_RULE}"))
    }
}

impl std::fmt::Display for CourtName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use rallytide_bus::TopicName;

    use super::*;

    /// A match is kept in a log of its name and a court is written into links:
    /// the rule of the bus, which knows no matches, has to be the same.
    #[test]
    fn ids_of_matches_names_of_courts_and_topics_follow_one_rule() {
        let singles = ('\0'..='\u{ff}').map(String::from);
        let lengths = [0, 1, 63, 64, 65].map(|length| "x".repeat(length));
        for text in singles.chain(lengths) {
            let is_id = MatchId::new(&text).is_some();
            assert_eq!(TopicName::new(text.clone()).is_ok(), is_id, "{text:?}");
            assert_eq!(CourtName::new(&text).is_some(), is_id, "{text:?}");
        }
    }
}
