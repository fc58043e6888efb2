//! Settings: what plugins offer, what a streamer chose, what a plugin is handed.
//!
//! A choice that is missing is the default; one that does not fit is refused
//! with what is allowed. Where settings are kept is the caller's business.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::shown::shortened;
use rallytide_readings::Name;

/// A setting that a plugin offers.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct SettingOffer {
    /// Its name, unique in its plugin.
    pub name: String,
    /// One sentence for the streamer.
    pub about: String,
    /// What it can be.
    #[serde(flatten)]
    pub form: SettingForm,
}

/// What a setting can be.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "type", rename_all = "snake_case")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub enum SettingForm {
    /// A number.
    Number {
        /// The least.
        from: f64,
        /// The greatest.
        to: f64,
        /// Where nothing is chosen.
        default: f64,
    },
    /// A whole number.
    Whole {
        /// The least.
        from: i32,
        /// The greatest.
        to: i32,
        /// Where nothing is chosen.
        default: i32,
    },
    /// Yes or no.
    Truth {
        /// Where nothing is chosen.
        default: bool,
    },
    /// One of a few.
    Choice {
        /// All of them; the first is the default.
        choices: Vec<String>,
    },
    /// Free text.
    Text {
        /// Characters allowed.
        longest: u32,
        /// Where nothing is chosen.
        default: String,
    },
}

/// The value of a setting, as it is written in a file or sent by the desk.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub enum SettingValue {
    /// Yes or no.
    Truth(bool),
    /// A whole number; stands for a number, too.
    #[cfg_attr(feature = "ts", ts(skip))]
    Whole(i32),
    /// A number.
    Number(f64),
    /// Text, or one of a few choices.
    Text(String),
}

/// What a streamer chose: by plugin, by setting.
pub type Settings = BTreeMap<String, PluginSettings>;

/// What a streamer chose for one plugin, by setting.
pub type PluginSettings = BTreeMap<String, SettingValue>;

/// A choice that does not fit what the plugin offers.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the setting `{setting}` of the plugin `{plugin}` {problem}")]
pub struct SettingRefused {
    /// Which plugin.
    pub plugin: Name,
    /// Which setting.
    pub setting: String,
    /// What was found and what is allowed.
    pub problem: String,
}

/// Every setting of a plugin with its value: as chosen, else its default.
///
/// # Errors
/// A choice that the plugin does not offer, or one out of its range.
pub(crate) fn resolve_settings(
    plugin: &Name,
    offers: &[SettingOffer],
    chosen: &PluginSettings,
) -> Result<Vec<(String, SettingValue)>, SettingRefused> {
    let refused = |setting: &str, problem: String| SettingRefused {
        plugin: plugin.clone(),
        setting: setting.to_owned(),
        problem,
    };
    let offered = |name: &String| offers.iter().any(|offer| offer.name == *name);
    if let Some(unknown) = chosen.keys().find(|name| !offered(name)) {
        let names: Vec<String> = offers
            .iter()
            .map(|offer| format!("`{}`", offer.name))
            .collect();
        let known = match names.as_slice() {
            [] => "it has no settings".to_owned(),
            names => format!("it has {}", names.join(", ")),
        };
        return Err(refused(unknown, format!("does not exist; {known}")));
    }
    let value = |offer: &SettingOffer| match chosen.get(&offer.name) {
        None => Ok(offer.form.default_value()),
        Some(value) => offer
            .form
            .fit(value)
            .map_err(|problem| refused(&offer.name, problem)),
    };
    offers
        .iter()
        .map(|offer| Ok((offer.name.clone(), value(offer)?)))
        .collect()
}

impl SettingForm {
    /// The value where nothing is chosen.
    #[must_use]
    pub fn default_value(&self) -> SettingValue {
        match self {
            Self::Number { default, .. } => SettingValue::Number(*default),
            Self::Whole { default, .. } => SettingValue::Whole(*default),
            Self::Truth { default } => SettingValue::Truth(*default),
            Self::Choice { choices } => {
                SettingValue::Text(choices.first().cloned().unwrap_or_default())
            }
            Self::Text { default, .. } => SettingValue::Text(default.clone()),
        }
    }

    /// The value in the form the plugin expects.
    fn fit(&self, value: &SettingValue) -> Result<SettingValue, String> {
        let fitting = match (self, value) {
            (Self::Number { from, to, .. }, SettingValue::Number(number))
                if (*from..=*to).contains(number) =>
            {
                Some(value.clone())
            }
            (Self::Number { from, to, .. }, SettingValue::Whole(number))
                if (*from..=*to).contains(&f64::from(*number)) =>
            {
                Some(SettingValue::Number(f64::from(*number)))
            }
            (Self::Whole { from, to, .. }, SettingValue::Whole(number))
                if (*from..=*to).contains(number) =>
            {
                Some(value.clone())
            }
            (Self::Truth { .. }, SettingValue::Truth(_)) => Some(value.clone()),
            (Self::Choice { choices }, SettingValue::Text(text)) if choices.contains(text) => {
                Some(value.clone())
            }
            (Self::Text { longest, .. }, SettingValue::Text(text))
                if text.chars().count() <= *longest as usize =>
            {
                Some(value.clone())
            }
            _ => None,
        };
        fitting.ok_or_else(|| format!("is {value}; it has to be {}", self.allowed()))
    }

    fn allowed(&self) -> String {
        match self {
            Self::Number { from, to, .. } => format!("a number from {from} to {to}"),
            Self::Whole { from, to, .. } => format!("a whole number from {from} to {to}"),
            Self::Truth { .. } => "`true` or `false`".into(),
            Self::Choice { choices } => {
                let quoted: Vec<String> = choices.iter().map(|c| format!("`{c}`")).collect();
                format!("one of {}", quoted.join(", "))
            }
            Self::Text { longest, .. } => format!("a text of at most {longest} characters"),
        }
    }
}

impl std::fmt::Display for SettingValue {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Truth(value) => write!(f, "`{value}`"),
            Self::Whole(value) => write!(f, "{value}"),
            Self::Number(value) => write!(f, "{value}"),
            Self::Text(value) => write!(f, "`{}`", shortened(value)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn offers() -> Vec<SettingOffer> {
        let offer = |name: &str, form| SettingOffer {
            name: name.into(),
            about: "Something.".into(),
            form,
        };
        vec![
            offer(
                "weight",
                SettingForm::Number {
                    from: 0.0,
                    to: 1.0,
                    default: 0.5,
                },
            ),
            offer(
                "rallies",
                SettingForm::Whole {
                    from: 1,
                    to: 9,
                    default: 3,
                },
            ),
            offer(
                "words",
                SettingForm::Choice {
                    choices: vec!["few".into(), "many".into()],
                },
            ),
            offer(
                "name",
                SettingForm::Text {
                    longest: 3,
                    default: String::new(),
                },
            ),
            offer("on", SettingForm::Truth { default: true }),
        ]
    }

    fn resolved(chosen: &PluginSettings) -> Result<Vec<(String, SettingValue)>, SettingRefused> {
        resolve_settings(&Name::from("tilt"), &offers(), chosen)
    }

    #[track_caller]
    fn refused(setting: &str, json: &str, expected: &str) {
        let value: SettingValue = serde_json::from_str(json).unwrap();
        let chosen = PluginSettings::from([(setting.to_owned(), value)]);
        let error = resolved(&chosen).unwrap_err();
        assert_eq!(error.to_string(), expected);
    }

    #[test]
    fn what_is_not_chosen_is_the_default() {
        let settings = resolved(&PluginSettings::new()).unwrap();
        assert_eq!(
            settings,
            vec![
                ("weight".into(), SettingValue::Number(0.5)),
                ("rallies".into(), SettingValue::Whole(3)),
                ("words".into(), SettingValue::Text("few".into())),
                ("name".into(), SettingValue::Text(String::new())),
                ("on".into(), SettingValue::Truth(true)),
            ]
        );
    }

    #[test]
    fn a_whole_number_stands_for_a_number_but_not_the_other_way() {
        let chosen = PluginSettings::from([("weight".into(), SettingValue::Whole(1))]);
        let settings = resolved(&chosen).unwrap();
        assert_eq!(settings[0].1, SettingValue::Number(1.0));
        refused(
            "rallies",
            "1.5",
            "the setting `rallies` of the plugin `tilt` is 1.5; it has to be a whole number from 1 to 9",
        );
    }

    #[test]
    fn choices_out_of_range_are_refused_with_the_range() {
        refused(
            "weight",
            "1.5",
            "the setting `weight` of the plugin `tilt` is 1.5; it has to be a number from 0 to 1",
        );
        refused(
            "words",
            "\"none\"",
            "the setting `words` of the plugin `tilt` is `none`; it has to be one of `few`, `many`",
        );
        refused(
            "name",
            "\"long\"",
            "the setting `name` of the plugin `tilt` is `long`; it has to be a text of at most 3 characters",
        );
        refused(
            "on",
            "1",
            "the setting `on` of the plugin `tilt` is 1; it has to be `true` or `false`",
        );
    }

    #[test]
    fn an_unknown_setting_is_refused_with_the_known_ones() {
        refused(
            "wieght",
            "1",
            "the setting `wieght` of the plugin `tilt` does not exist; it has `weight`, `rallies`, `words`, `name`, `on`",
        );
    }
}
