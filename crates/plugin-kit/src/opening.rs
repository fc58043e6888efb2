//! What a match starts with, and reading its settings.

use crate::{MatchHeader, Score, Setting, SettingValue, Upstream};

/// What a plugin is handed before the first entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// The match.
    pub header: MatchHeader,
    /// Every setting of the manifest, with its value for this match.
    pub settings: Vec<Setting>,
    /// The score.
    pub score: Score,
    /// The readings of the indicators in the manifest's `reads`.
    pub upstream: Upstream,
}

/// The host hands over every setting of the manifest with a value in its range,
/// so a setting can only be missing where the manifest does not offer it under
/// this name and type: a slip of the author, found by the first test.
impl Opening {
    /// The value of a `whole` setting.
    ///
    /// # Panics
    /// If the manifest offers no such setting.
    #[must_use]
    #[track_caller]
    pub fn whole(&self, name: &str) -> i32 {
        match self.setting(name) {
            SettingValue::Whole(value) => *value,
            other => wrong_type(name, "whole", other),
        }
    }

    /// The value of a `number` setting.
    ///
    /// # Panics
    /// If the manifest offers no such setting.
    #[must_use]
    #[track_caller]
    pub fn number(&self, name: &str) -> f64 {
        match self.setting(name) {
            SettingValue::Number(value) => *value,
            other => wrong_type(name, "number", other),
        }
    }

    /// The value of a `truth` setting.
    ///
    /// # Panics
    /// If the manifest offers no such setting.
    #[must_use]
    #[track_caller]
    pub fn truth(&self, name: &str) -> bool {
        match self.setting(name) {
            SettingValue::Truth(value) => *value,
            other => wrong_type(name, "truth", other),
        }
    }

    /// The value of a `text` or `choice` setting.
    ///
    /// # Panics
    /// If the manifest offers no such setting.
    #[must_use]
    #[track_caller]
    pub fn text(&self, name: &str) -> &str {
        match self.setting(name) {
            SettingValue::Text(value) => value,
            other => wrong_type(name, "text or choice", other),
        }
    }

    #[track_caller]
    fn setting(&self, name: &str) -> &SettingValue {
        let mut settings = self.settings.iter();
        match settings.find(|setting| setting.name == name) {
            Some(setting) => &setting.value,
            None => panic!("the manifest offers no setting `{name}`"),
        }
    }
}

#[track_caller]
fn wrong_type(name: &str, asked: &str, found: &SettingValue) -> ! {
    panic!("the setting `{name}` is not of the type {asked}: it is {found:?}")
}
