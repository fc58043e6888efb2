//! A test bench for one plugin: it is loaded as the host would load it, and put
//! together with the first-party plugins that it reads from.
//!
//! Only those run besides it: whatever else a host runs changes neither what a
//! plugin says nor what it costs.

use std::collections::BTreeSet;
use std::path::Path;

use anyhow::Context;
use rallytide_plugin_host::{
    AssembleError, PluginCode, PluginLoader, PluginSet, PluginSettings, RefusedReason, SettingForm,
    SettingValue, Settings,
};
use rallytide_readings::Name;

use crate::failure::Failure;
use crate::plugins;

/// Where one plugin is loaded, again and again if need be.
pub(super) struct TestBench {
    loader: PluginLoader,
    first_party: Vec<PluginCode>,
}

impl TestBench {
    pub(super) fn new() -> Result<Self, Failure> {
        let plugin_set = plugins::plugin_set(None, &Settings::default())?;
        Ok(Self {
            loader: plugins::loader()?,
            first_party: plugin_set.plugins().cloned().collect(),
        })
    }

    /// Loads a file; one that is refused is the input's fault.
    pub(super) fn load(&self, file: &Path) -> Result<PluginCode, Failure> {
        let name = file.display().to_string();
        let bytes = std::fs::read(file)
            .with_context(|| format!("could not read the plugin file `{name}`"))
            .map_err(|error| {
                Failure::outside_with(error, Some("name a built plugin (`*.wasm`)"))
            })?;
        self.loader.load(&name, &bytes).map_err(|refused| {
            if matches!(refused.reason, RefusedReason::Host(_)) {
                return Failure::outside(refused);
            }
            let hint = refused.hint();
            let hint = hint.map_or_else(String::new, |hint| format!("\nhint: {hint}"));
            Failure::input(format!("{refused}{hint}"))
        })
    }

    /// The plugin together with those it reads from, once it is clear that it
    /// goes together with all first-party plugins.
    pub(super) fn assemble(
        &self,
        code: &PluginCode,
        chosen: &[(String, String)],
    ) -> Result<PluginSet, Failure> {
        let settings = settings(code, chosen);
        let others = || self.first_party.iter().filter(|it| it.id() != code.id());
        let beside_all = others().chain([code]).cloned().collect();
        PluginSet::assemble(beside_all, &settings).map_err(misfit)?;
        let sources = self.sources(code);
        let with_sources = others()
            .filter(|it| sources.contains(it.id()))
            .chain([code])
            .cloned()
            .collect();
        PluginSet::assemble(with_sources, &settings)
            .and_then(PluginSet::complete)
            .map_err(|error| misfit(self.naming_all(error, code)))
    }

    /// The same error with all indicators that could have been meant, not those of
    /// the sources alone.
    fn naming_all(&self, mut error: AssembleError, code: &PluginCode) -> AssembleError {
        if let AssembleError::UnknownIndicator { known, .. } = &mut error {
            let plugins = self.first_party.iter().chain([code]);
            *known = plugins
                .flat_map(|plugin| plugin.manifest().provides.iter().cloned())
                .collect();
            known.sort();
            known.dedup();
        }
        error
    }

    /// The first-party plugin that provides an indicator.
    pub(super) fn provider(&self, indicator: &Name) -> Option<&PluginCode> {
        let mut plugins = self.first_party.iter();
        plugins.find(|plugin| plugin.manifest().provides.contains(indicator))
    }

    /// The ids of all plugins it reads from, directly or through others.
    fn sources(&self, code: &PluginCode) -> BTreeSet<Name> {
        let mut sources = BTreeSet::new();
        let mut wanted: Vec<&Name> = code.manifest().reads.iter().collect();
        while let Some(indicator) = wanted.pop() {
            if let Some(source) = self.provider(indicator)
                && sources.insert(source.id().clone())
            {
                wanted.extend(&source.manifest().reads);
            }
        }
        sources
    }
}

/// A setting that does not fit is wrong usage; anything else is in the file.
fn misfit(error: AssembleError) -> Failure {
    match error {
        AssembleError::Setting(refused) => Failure::Usage(refused.to_string()),
        error => Failure::input(error.to_string()),
    }
}

/// What was typed, as values of the types that the plugin offers.
fn settings(code: &PluginCode, chosen: &[(String, String)]) -> Settings {
    let offers = &code.manifest().settings;
    let value = |(name, text): &(String, String)| {
        let offer = offers.iter().find(|offer| offer.name == *name);
        (name.clone(), typed(offer.map(|offer| &offer.form), text))
    };
    let chosen: PluginSettings = chosen.iter().map(value).collect();
    Settings::from([(code.id().to_string(), chosen)])
}

/// The value that a text stands for where this form is expected. One that does
/// not fit stays text, and is refused with the range by whoever checks it.
fn typed(form: Option<&SettingForm>, text: &str) -> SettingValue {
    let as_text = || SettingValue::Text(text.to_owned());
    match form {
        Some(SettingForm::Truth { .. }) => {
            text.parse().map_or_else(|_| as_text(), SettingValue::Truth)
        }
        Some(SettingForm::Whole { .. }) => {
            text.parse().map_or_else(|_| as_text(), SettingValue::Whole)
        }
        Some(SettingForm::Number { .. }) => text
            .parse()
            .map_or_else(|_| as_text(), SettingValue::Number),
        Some(SettingForm::Choice { .. } | SettingForm::Text { .. }) | None => as_text(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_typed_value_takes_the_type_that_the_plugin_offers() {
        let whole = SettingForm::Whole {
            from: 1,
            to: 9,
            default: 3,
        };
        let text = SettingForm::Text {
            longest: 9,
            default: String::new(),
        };
        assert_eq!(typed(Some(&whole), "7"), SettingValue::Whole(7));
        assert_eq!(typed(Some(&text), "7"), SettingValue::Text("7".into()));
        let truth = SettingForm::Truth { default: false };
        assert_eq!(typed(Some(&truth), "true"), SettingValue::Truth(true));
    }

    #[test]
    fn a_typed_value_that_does_not_fit_stays_as_it_was_typed() {
        let number = SettingForm::Number {
            from: 0.0,
            to: 1.0,
            default: 0.5,
        };
        assert_eq!(typed(Some(&number), "0.25"), SettingValue::Number(0.25));
        assert_eq!(
            typed(Some(&number), "half"),
            SettingValue::Text("half".into())
        );
        assert_eq!(typed(None, "1"), SettingValue::Text("1".into()));
    }
}
