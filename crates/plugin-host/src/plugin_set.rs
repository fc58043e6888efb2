//! Plugins put together: who reads from whom, in which order they run, which
//! ones have to wait.
//!
//! Invariants: every indicator has one owner, every plugin runs after those it
//! reads from, and the order is the same whatever order the plugins came in.
//! What one run of a chart needs is in [`run`](crate::run).

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use serde::Serialize;

use crate::answer::Owners;
use crate::loader::PluginCode;
use crate::settings::{SettingRefused, SettingValue, Settings};
use rallytide_readings::Name;

/// Plugins in the order in which they run, with their settings.
///
/// Assembling once serves any number of runs; it is not changed by them.
#[derive(Debug, Clone)]
pub struct PluginSet {
    members: Vec<Member>,
    suspended: Vec<Suspended>,
    owners: Owners,
}

/// Plugins that are not to run on a match, each with the reason in one sentence.
pub type SwitchedOff = BTreeMap<Name, String>;

/// A plugin that can run.
#[derive(Debug, Clone)]
pub(crate) struct Member {
    pub(crate) code: PluginCode,
    pub(crate) settings: Arc<Vec<(String, SettingValue)>>,
}

/// A plugin that waits for a source.
#[derive(Debug, Clone)]
pub struct Suspended {
    /// The plugin.
    pub code: PluginCode,
    /// What it waits for.
    pub missing: Vec<MissingSource>,
}

/// An indicator that is read but not published.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct MissingSource {
    /// The indicator.
    pub indicator: Name,
    /// Its plugin, if that is there but suspended itself.
    pub suspended: Option<Name>,
}

impl std::fmt::Display for MissingSource {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.suspended {
            None => write!(f, "`{}`, which no plugin provides", self.indicator),
            Some(plugin) => write!(
                f,
                "`{}` of the plugin `{plugin}`, which is suspended itself",
                self.indicator
            ),
        }
    }
}

/// Why plugins do not go together.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AssembleError {
    /// Two plugins have one id.
    #[error("the files `{}` and `{}` both hold a plugin `{id}`; one of them has to go", files[0], files[1])]
    SameId {
        /// The id.
        id: Name,
        /// The files, sorted.
        files: [String; 2],
    },
    /// Two plugins provide one indicator.
    #[error("the plugins `{}` and `{}` both provide `{indicator}`; an indicator belongs to one plugin", plugins[0], plugins[1])]
    ProvidedTwice {
        /// The indicator.
        indicator: Name,
        /// The plugins, sorted.
        plugins: [Name; 2],
    },
    /// Plugins read from each other in a circle.
    #[error("plugins read from each other in a circle: {}", described(.0))]
    Circle(Vec<CircleLink>),
    /// A plugin reads an indicator that nobody provides.
    #[error("the plugin `{plugin}` reads `{indicator}`, which no plugin provides; there are {}", listed(.known))]
    UnknownIndicator {
        /// The plugin.
        plugin: Name,
        /// The indicator.
        indicator: Name,
        /// All indicators that are provided, sorted.
        known: Vec<Name>,
    },
    /// A setting does not fit.
    #[error(transparent)]
    Setting(#[from] SettingRefused),
}

impl AssembleError {
    /// What to change, where the error itself does not say.
    #[must_use]
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::ProvidedTwice { .. } => Some(
                "name the new plugin's indicator after the plugin itself; to replace a plugin, \
                 give the new one its id",
            ),
            Self::Circle(_) => Some("one of them has to do without what it reads of the next"),
            Self::SameId { .. } | Self::UnknownIndicator { .. } | Self::Setting(_) => None,
        }
    }
}

/// One link of a circle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CircleLink {
    /// This plugin …
    pub plugin: Name,
    /// … reads this indicator of the next one.
    pub reads: Name,
}

fn described(circle: &[CircleLink]) -> String {
    let first = circle.first().map_or("", |link| link.plugin.as_str());
    let links: Vec<String> = circle
        .iter()
        .map(|link| format!("`{}` reads `{}` of", link.plugin, link.reads))
        .collect();
    format!("{} `{first}`", links.join(" "))
}

fn listed(names: &[Name]) -> String {
    match names {
        [] => "none".into(),
        names => {
            let quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
            quoted.join(", ")
        }
    }
}

impl PluginSet {
    /// Puts plugins together. One whose source is missing is suspended, and so
    /// is who reads from it; the others run. Settings of plugins that are not
    /// there are left alone: they may come back.
    ///
    /// # Errors
    /// Two plugins of one id or one indicator, a circle, a setting out of range.
    pub fn assemble(plugins: Vec<PluginCode>, settings: &Settings) -> Result<Self, AssembleError> {
        let plugins = by_id(plugins)?;
        let owners = owners(&plugins)?;
        let order = running_order(&plugins, &owners)?;
        let missing = missing_sources(&plugins, &owners);
        let nothing = BTreeMap::new();
        let mut members = Vec::new();
        let mut suspended = Vec::new();
        for id in order {
            let code = plugins[&id].clone();
            let chosen = settings.get(id.as_str()).unwrap_or(&nothing);
            let settings = Arc::new(code.manifest().resolve_settings(chosen)?);
            match missing.get(&id) {
                Some(missing) => suspended.push(Suspended {
                    code,
                    missing: missing.clone(),
                }),
                None => members.push(Member { code, settings }),
            }
        }
        Ok(Self {
            members,
            suspended,
            owners: Arc::new(owners),
        })
    }

    /// The same plugin set, if nothing in it waits for a source: for plugins that
    /// are new, where a source that is missing is most likely a mistake.
    ///
    /// # Errors
    /// The first plugin that reads what nobody provides.
    pub fn complete(self) -> Result<Self, AssembleError> {
        let unknown = self.suspended.iter().find_map(|suspended| {
            let missing = &suspended.missing;
            let unknown = missing.iter().find(|it| it.suspended.is_none())?;
            Some((suspended.code.id().clone(), unknown.indicator.clone()))
        });
        match unknown {
            None => Ok(self),
            Some((plugin, indicator)) => Err(AssembleError::UnknownIndicator {
                plugin,
                indicator,
                known: self.owners.keys().cloned().collect(),
            }),
        }
    }

    /// The plugins that run, in their order.
    pub fn plugins(&self) -> impl Iterator<Item = &PluginCode> {
        self.members.iter().map(|member| &member.code)
    }

    /// The plugins that wait for a source.
    #[must_use]
    pub fn suspended(&self) -> &[Suspended] {
        &self.suspended
    }

    /// The plugin of this id, if it is one of those that run.
    #[must_use]
    pub fn plugin(&self, id: &str) -> Option<&PluginCode> {
        self.plugins().find(|code| *code.id() == *id)
    }

    pub(crate) fn members(&self) -> &[Member] {
        &self.members
    }

    pub(crate) fn owners(&self) -> &Owners {
        &self.owners
    }
}

type ById = BTreeMap<Name, PluginCode>;

fn by_id(plugins: Vec<PluginCode>) -> Result<ById, AssembleError> {
    let mut by_id = ById::new();
    for code in plugins {
        if let Some(other) = by_id.insert(code.id().clone(), code.clone()) {
            let mut files = [other.file().to_owned(), code.file().to_owned()];
            files.sort();
            return Err(AssembleError::SameId {
                id: code.id().clone(),
                files,
            });
        }
    }
    Ok(by_id)
}

fn owners(plugins: &ById) -> Result<BTreeMap<Name, Name>, AssembleError> {
    let mut owners: BTreeMap<Name, Name> = BTreeMap::new();
    for (id, code) in plugins {
        for indicator in &code.manifest().provides {
            if let Some(other) = owners.insert(indicator.clone(), id.clone()) {
                return Err(AssembleError::ProvidedTwice {
                    indicator: indicator.clone(),
                    plugins: [other, id.clone()],
                });
            }
        }
    }
    Ok(owners)
}

/// The plugins each after those it reads from; among those that could come
/// next, by id.
fn running_order(
    plugins: &ById,
    owners: &BTreeMap<Name, Name>,
) -> Result<Vec<Name>, AssembleError> {
    let mut waiting_for: BTreeMap<&Name, BTreeSet<&Name>> = plugins
        .iter()
        .map(|(id, code)| {
            let reads = &code.manifest().reads;
            (id, reads.iter().filter_map(|it| owners.get(it)).collect())
        })
        .collect();
    let mut order = Vec::with_capacity(plugins.len());
    while !waiting_for.is_empty() {
        let ready = waiting_for
            .iter()
            .find(|(_, sources)| sources.is_empty())
            .map(|(id, _)| (*id).clone());
        let Some(next) = ready else {
            let stuck: BTreeSet<&Name> = waiting_for.keys().copied().collect();
            return Err(AssembleError::Circle(circle(plugins, owners, &stuck)));
        };
        waiting_for.remove(&next);
        for sources in waiting_for.values_mut() {
            sources.remove(&next);
        }
        order.push(next);
    }
    Ok(order)
}

/// A circle among plugins that all wait for one of each other: whoever follows
/// sources from any of them comes to a plugin twice.
fn circle(
    plugins: &ById,
    owners: &BTreeMap<Name, Name>,
    stuck: &BTreeSet<&Name>,
) -> Vec<CircleLink> {
    let mut path: Vec<CircleLink> = Vec::new();
    let mut at = stuck.first().copied();
    while let Some(plugin) = at {
        if let Some(start) = path.iter().position(|link| link.plugin == *plugin) {
            return path.split_off(start);
        }
        let next = plugins[plugin].manifest().reads.iter().find_map(|reads| {
            let source = owners.get(reads)?;
            stuck.contains(source).then_some((reads, source))
        });
        at = next.map(|(reads, source)| {
            path.push(CircleLink {
                plugin: plugin.clone(),
                reads: reads.clone(),
            });
            source
        });
    }
    path
}

/// What each plugin that cannot run is missing.
fn missing_sources(
    plugins: &ById,
    owners: &BTreeMap<Name, Name>,
) -> BTreeMap<Name, Vec<MissingSource>> {
    let mut missing: BTreeMap<Name, Vec<MissingSource>> = BTreeMap::new();
    loop {
        let mut found = missing.clone();
        for (id, code) in plugins {
            let reads = code.manifest().reads.iter();
            let sources: Vec<MissingSource> = reads
                .filter_map(|indicator| match owners.get(indicator) {
                    None => Some((indicator, None)),
                    Some(owner) if missing.contains_key(owner) => Some((indicator, Some(owner))),
                    Some(_) => None,
                })
                .map(|(indicator, suspended)| MissingSource {
                    indicator: indicator.clone(),
                    suspended: suspended.cloned(),
                })
                .collect();
            if !sources.is_empty() {
                found.insert(id.clone(), sources);
            }
        }
        if found == missing {
            return missing;
        }
        missing = found;
    }
}
