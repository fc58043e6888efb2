//! The name of a topic, checked once.
//!
//! A topic name becomes a file name, so the one constructor lets nothing
//! through that could leave the folder or differ between file systems, letter
//! case excepted: on a case-insensitive one `Final` and `final` are one topic,
//! and creating the second is refused as existing.

use std::fmt;
use std::str::FromStr;

/// The longest topic name, in characters.
const MAX_LENGTH: usize = 64;

/// The name of a topic: 1 to 64 of `A-Z a-z 0-9 _ -`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TopicName(String);

impl TopicName {
    /// Checks a name.
    ///
    /// # Errors
    /// [`TopicNameError`] if it is empty, longer than 64 characters or holds
    /// any other character.
    pub fn new(name: impl Into<String>) -> Result<Self, TopicNameError> {
        let name = name.into();
        let allowed = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
        if name.is_empty() {
            return Err(TopicNameError::Empty);
        }
        if let Some(found) = name.chars().find(|&c| !allowed(c)) {
            return Err(TopicNameError::Character { found, name });
        }
        if name.len() > MAX_LENGTH {
            return Err(TopicNameError::TooLong { length: name.len() });
        }
        Ok(Self(name))
    }

    /// The name as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for TopicName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl FromStr for TopicName {
    type Err = TopicNameError;

    fn from_str(name: &str) -> Result<Self, Self::Err> {
        Self::new(name)
    }
}

/// Why a text is no topic name.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TopicNameError {
    /// It is empty.
    #[error("a topic name has 1 to 64 characters, this one is empty")]
    Empty,
    /// It is too long.
    #[error("a topic name has 1 to 64 characters, this one has {length}")]
    TooLong {
        /// Its length in characters.
        length: usize,
    },
    /// It holds a character that is not allowed.
    #[error("a topic name is made of `A-Z a-z 0-9 _ -`, {name:?} holds {found:?}")]
    Character {
        /// The first such character.
        found: char,
        /// The whole text.
        name: String,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_digits_underscore_and_hyphen_make_a_topic_name() {
        for name in ["a", "pier-cup_FINAL-2", &"x".repeat(64)] {
            assert_eq!(TopicName::new(name).unwrap().as_str(), name);
        }
    }

    #[test]
    fn names_that_could_leave_the_folder_are_refused() {
        for name in ["..", "a/b", "a\\b", "a.b", "C:", "a b", "é", "a\0", "a\n"] {
            let refused = TopicName::new(name).unwrap_err();
            assert!(
                matches!(refused, TopicNameError::Character { .. }),
                "{name:?}: {refused}"
            );
        }
    }

    #[test]
    fn empty_and_overlong_names_are_refused_with_the_limit() {
        assert_eq!(TopicName::new(""), Err(TopicNameError::Empty));
        let refused = TopicName::new("x".repeat(65)).unwrap_err().to_string();
        assert_eq!(
            refused,
            "a topic name has 1 to 64 characters, this one has 65"
        );
    }
}
