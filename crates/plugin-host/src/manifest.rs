//! What a plugin says about itself, checked.
//!
//! A [`Manifest`] that exists obeys every rule: names are well formed and
//! unique, texts are within bounds, defaults lie within their ranges. Whether
//! plugins fit together is judged where they are
//! [assembled](crate::PluginSet::assemble).

use std::collections::BTreeSet;

use rallytide_chart::Kind;
use serde::Serialize;

use crate::interface::wit;
use crate::limits::{
    ABOUT_BYTES, CHOICES_PER_SETTING, INDICATORS_PER_PLUGIN, NAME_BYTES, SETTINGS_PER_PLUGIN,
    TEXT_BYTES,
};
use crate::settings::{
    PluginSettings, SettingForm, SettingOffer, SettingRefused, SettingValue, resolve_settings,
};
use crate::shown::shortened;
use crate::translate;
use rallytide_readings::Name;

/// What a plugin says about itself.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct Manifest {
    /// Names the plugin everywhere: 1 to 64 of `a–z 0–9 -`, a letter first.
    pub id: Name,
    /// The author's version of it.
    pub version: String,
    /// One sentence for the streamer.
    pub about: String,
    /// The indicators it publishes.
    pub provides: Vec<Name>,
    /// The indicators of other plugins that it is handed.
    pub reads: Vec<Name>,
    /// The kinds of entries it is called for, besides those that change the
    /// score or a reading it reads; `None`: every entry.
    pub called_for: Option<BTreeSet<Kind>>,
    /// The settings it offers.
    pub settings: Vec<SettingOffer>,
}

impl Manifest {
    /// Checks what a plugin answered.
    ///
    /// # Errors
    /// A sentence that names the field, what was found and what is allowed.
    pub(crate) fn check(answer: wit::Manifest) -> Result<Self, String> {
        check_name("id", &answer.id, "-")?;
        check_text("version", &answer.version, NAME_BYTES)?;
        check_text("about", &answer.about, ABOUT_BYTES)?;
        check_indicators("provides", &answer.provides)?;
        check_indicators("reads", &answer.reads)?;
        if answer.provides.is_empty() {
            return Err("`provides` is empty; a plugin publishes at least one indicator".into());
        }
        let own = answer
            .reads
            .iter()
            .find(|name| answer.provides.contains(name));
        if let Some(own) = own {
            return Err(format!(
                "`{own}` stands in `provides` and in `reads`; a plugin is handed the indicators \
                 of others, its own it knows"
            ));
        }
        Ok(Self {
            id: answer.id.into(),
            version: answer.version,
            about: answer.about,
            provides: answer.provides.into_iter().map(Name::from).collect(),
            reads: answer.reads.into_iter().map(Name::from).collect(),
            called_for: answer
                .called_for
                .map(|kinds| kinds.into_iter().map(translate::kind_back).collect()),
            settings: check_settings(answer.settings)?,
        })
    }

    /// Every setting of the plugin with its value: as chosen, else its default.
    ///
    /// # Errors
    /// A choice that the plugin does not offer, or one out of its range.
    pub(crate) fn resolve_settings(
        &self,
        chosen: &PluginSettings,
    ) -> Result<Vec<(String, SettingValue)>, SettingRefused> {
        resolve_settings(&self.id, &self.settings, chosen)
    }

    /// Whether the plugin is called for every entry of this kind, whatever the
    /// entry changes.
    pub(crate) fn is_called_for(&self, kind: Kind) -> bool {
        self.called_for
            .as_ref()
            .is_none_or(|kinds| kinds.contains(&kind))
    }
}

/// A name: letters of the lower case, digits and what `more` holds, a letter first.
fn check_name(field: &str, name: &str, more: &str) -> Result<(), String> {
    let well_formed = name.starts_with(|first: char| first.is_ascii_lowercase())
        && name.len() <= NAME_BYTES
        && name
            .chars()
            .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || more.contains(c));
    if well_formed {
        return Ok(());
    }
    let marks: Vec<String> = more.chars().map(|mark| format!("`{mark}`")).collect();
    Err(format!(
        "`{field}` holds `{}`; a name is 1 to {NAME_BYTES} lower case letters, digits and {}, a \
         letter first",
        shortened(name),
        marks.join(" "),
    ))
}

fn check_text(field: &str, text: &str, limit: usize) -> Result<(), String> {
    if text.trim().is_empty() {
        return Err(format!("`{field}` is empty"));
    }
    if text.len() > limit {
        return Err(format!(
            "`{field}` is {} bytes long; {limit} are allowed",
            text.len()
        ));
    }
    if text.contains(char::is_control) {
        return Err(format!(
            "`{field}` holds a line break or another control character; it is one line of text"
        ));
    }
    Ok(())
}

fn check_indicators(field: &str, names: &[String]) -> Result<(), String> {
    if names.len() > INDICATORS_PER_PLUGIN {
        return Err(format!(
            "`{field}` names {} indicators; {INDICATORS_PER_PLUGIN} are allowed",
            names.len()
        ));
    }
    let mut seen = BTreeSet::new();
    for name in names {
        check_name(field, name, "._")?;
        if !seen.insert(name) {
            return Err(format!("`{field}` names `{name}` twice"));
        }
    }
    Ok(())
}

fn check_settings(offers: Vec<wit::SettingOffer>) -> Result<Vec<SettingOffer>, String> {
    if offers.len() > SETTINGS_PER_PLUGIN {
        return Err(format!(
            "`settings` offers {} settings; {SETTINGS_PER_PLUGIN} are allowed",
            offers.len()
        ));
    }
    let mut checked: Vec<SettingOffer> = Vec::with_capacity(offers.len());
    for offer in offers {
        check_name("settings", &offer.name, "_")?;
        if checked.iter().any(|other| other.name == offer.name) {
            return Err(format!("`settings` offers `{}` twice", offer.name));
        }
        check_text(&offer.name, &offer.about, ABOUT_BYTES)?;
        let form = check_form(offer.form).map_err(|why| format!("`{}` {why}", offer.name))?;
        checked.push(SettingOffer {
            name: offer.name,
            about: offer.about,
            form,
        });
    }
    Ok(checked)
}

fn check_form(form: wit::SettingType) -> Result<SettingForm, String> {
    Ok(match form {
        wit::SettingType::Number((from, to, default)) => {
            // Comparisons with what is not a number are false.
            if !(from <= default && default <= to && from.is_finite() && to.is_finite()) {
                return Err(format!(
                    "has {default} as its default; that has to be a number from {from} to {to}"
                ));
            }
            SettingForm::Number { from, to, default }
        }
        wit::SettingType::Whole((from, to, default)) => {
            if !(from..=to).contains(&default) {
                return Err(format!(
                    "has {default} as its default; that has to be from {from} to {to}"
                ));
            }
            SettingForm::Whole { from, to, default }
        }
        wit::SettingType::Truth(default) => SettingForm::Truth { default },
        wit::SettingType::Choice(choices) => {
            if choices.is_empty() || choices.len() > CHOICES_PER_SETTING {
                return Err(format!(
                    "has {} choices; 1 to {CHOICES_PER_SETTING} are allowed",
                    choices.len()
                ));
            }
            for choice in &choices {
                check_text("choices", choice, NAME_BYTES)?;
            }
            let unique: BTreeSet<&String> = choices.iter().collect();
            if unique.len() < choices.len() {
                return Err("has a choice twice".into());
            }
            SettingForm::Choice { choices }
        }
        wit::SettingType::Text((longest, default)) => {
            let longest = longest.min(TEXT_BYTES as u32);
            if default.chars().count() > longest as usize {
                return Err(format!(
                    "has a default that is longer than {longest} characters"
                ));
            }
            SettingForm::Text { longest, default }
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer() -> wit::Manifest {
        wit::Manifest {
            id: "tilt-2".into(),
            version: "0.1.0".into(),
            about: "Tilts.".into(),
            provides: vec!["tilt.now_2".into()],
            reads: vec!["initiative".into()],
            called_for: None,
            settings: vec![wit::SettingOffer {
                name: "weight".into(),
                about: "How much.".into(),
                form: wit::SettingType::Number((0.0, 1.0, 0.5)),
            }],
        }
    }

    #[track_caller]
    fn refused(change: impl FnOnce(&mut wit::Manifest), expected: &str) {
        let mut changed = answer();
        change(&mut changed);
        let message = Manifest::check(changed).unwrap_err();
        assert!(message.contains(expected), "{message}");
    }

    #[test]
    fn a_manifest_that_keeps_the_rules_is_taken() {
        let manifest = Manifest::check(answer()).unwrap();
        assert_eq!(manifest.id, "tilt-2");
        assert_eq!(manifest.settings.len(), 1);
    }

    #[test]
    fn ids_are_lower_case_letters_digits_and_hyphens() {
        for id in ["", "Tilt", "2tilt", "ti lt", "ti_lt", "tilt/x", "é"] {
            refused(|manifest| manifest.id = id.into(), "`id` holds");
        }
        refused(|manifest| manifest.id = "x".repeat(65), "`id` holds");
    }

    #[test]
    fn indicators_are_well_formed_unique_and_at_most_64() {
        refused(|m| m.provides = vec![], "at least one indicator");
        refused(|m| m.provides = vec!["A".into()], "`provides` holds `A`");
        refused(|m| m.provides.push("tilt.now_2".into()), "twice");
        refused(|m| m.reads.push("initiative".into()), "twice");
        refused(|m| m.reads.push("tilt.now_2".into()), "its own it knows");
        let many = |count| (0..count).map(|n| format!("i{n}")).collect::<Vec<_>>();
        refused(|m| m.provides = many(65), "names 65 indicators");
        let mut most = answer();
        most.provides = many(64);
        assert!(Manifest::check(most).is_ok());
    }

    #[test]
    fn texts_are_one_line_within_bounds() {
        refused(|m| m.about = " ".into(), "`about` is empty");
        refused(|m| m.about = "x".repeat(301), "301 bytes");
        refused(|m| m.about = "two\nlines".into(), "line break");
        refused(|m| m.version = String::new(), "`version` is empty");
    }

    #[test]
    fn defaults_lie_within_their_ranges() {
        use wit::SettingType::{Choice, Number, Text, Whole};
        let form = |form| move |m: &mut wit::Manifest| m.settings[0].form = form;
        refused(form(Number((0.0, 1.0, 1.5))), "`weight` has 1.5");
        refused(form(Number((0.0, 1.0, f64::NAN))), "has NaN");
        refused(form(Number((0.0, f64::INFINITY, 1.0))), "to inf");
        refused(form(Number((2.0, 1.0, 1.5))), "from 2 to 1");
        refused(form(Whole((1, 5, 0))), "from 1 to 5");
        refused(form(Choice(vec![])), "0 choices");
        refused(form(Choice(vec!["x".into(), "x".into()])), "twice");
        refused(form(Text((2, "abc".into()))), "longer than 2");
        refused(|m| m.settings.push(m.settings[0].clone()), "`weight` twice");
        refused(|m| m.settings[0].name = "We".into(), "`settings` holds");
    }
}
