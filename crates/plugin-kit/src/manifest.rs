//! Putting a manifest together.

use crate::{Manifest, PlayKind, SettingOffer, SettingType};

impl Manifest {
    /// A manifest without indicators and settings. `id` is lower case, digits
    /// and `-`; `about` is one sentence for the streamer.
    #[must_use]
    pub fn new(id: &str, version: &str, about: &str) -> Self {
        Self {
            id: id.into(),
            version: version.into(),
            about: about.into(),
            provides: Vec::new(),
            reads: Vec::new(),
            called_for: None,
            settings: Vec::new(),
        }
    }

    /// Adds indicators that the plugin publishes.
    #[must_use]
    pub fn provides(mut self, indicators: &[&str]) -> Self {
        let indicators = indicators.iter().map(|name| (*name).to_owned());
        self.provides.extend(indicators);
        self
    }

    /// Adds indicators of other plugins that the plugin wants to be handed.
    #[must_use]
    pub fn reads(mut self, indicators: &[&str]) -> Self {
        let indicators = indicators.iter().map(|name| (*name).to_owned());
        self.reads.extend(indicators);
        self
    }

    /// Says for which kinds of entries the plugin wants to be called, instead of
    /// for every one. It is called as well where the score or a reading that it
    /// reads changes.
    #[must_use]
    pub fn called_for(mut self, kinds: &[PlayKind]) -> Self {
        self.called_for
            .get_or_insert_default()
            .extend_from_slice(kinds);
        self
    }

    /// Adds a setting. `name` is lower case, digits and `_`.
    #[must_use]
    pub fn setting(mut self, name: &str, about: &str, form: SettingType) -> Self {
        self.settings.push(SettingOffer {
            name: name.into(),
            about: about.into(),
            form,
        });
        self
    }
}
