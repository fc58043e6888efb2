//! How often plugins were at fault in a match, and which of them are switched
//! off for it.
//!
//! A plugin that is at fault is stopped for the run and gets a new chance when
//! the chart is run again. After [`FAULTS_ALLOWED`] faults in one match it is
//! switched off for that match: it is not run there any more, and the others go
//! on as if it had been stopped before the match.
//!
//! What is counted follows from the chart alone: a fault is known by the file of
//! the plugin, the entry it was handed and how many corrections there were. So a
//! re-run after a correction counts anew, and one that says nothing new (other
//! plugins have changed, the host has started again) does not. The counts stand
//! in the host log and outlive the host. A new version of the file begins at
//! nought; switching the plugin on or setting it forgets what was counted.

use std::collections::BTreeMap;
use std::sync::Arc;

use parking_lot::{Mutex, MutexGuard};
use rallytide_bus::{Bus, Opened, TopicName};
use rallytide_chart::MatchId;
use rallytide_plugin_host::{PluginFault, PluginHealth, PluginSet, SwitchedOff};
use rallytide_readings::Name;
use serde::{Deserialize, Serialize};

use crate::charted::ChartedMatch;

/// Faults in one match with which a plugin is switched off for it.
pub const FAULTS_ALLOWED: usize = 3;

/// A plugin as it is on a court.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct PluginOnCourt {
    /// How it fares in this run.
    #[serde(flatten)]
    pub health: PluginHealth,
    /// How many faults of this file count in this match.
    pub faults: usize,
    /// The last of them.
    pub last_fault: Option<CountedFault>,
    /// Whether they were too many.
    pub switched_off_by_faults: bool,
}

/// A fault as it is counted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct CountedFault {
    /// The entry that the plugin was handed; `None`: it was starting the match.
    pub entry: Option<String>,
    /// How many corrections the chart held.
    pub revision: u64,
    /// The kind, as [`rallytide_plugin_host::PluginFaultKind::word`] writes it.
    pub kind: String,
    /// One sentence.
    pub message: String,
}

/// The counts of all matches of a host.
pub(crate) struct FaultBook {
    bus: Arc<dyn Bus>,
    log: TopicName,
    counted: Mutex<BTreeMap<FaultKey, Vec<CountedFault>>>,
}

/// What faults are counted for.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
struct FaultKey {
    #[serde(rename = "match")]
    match_id: String,
    plugin: String,
    sha256: String,
}

/// A record of the host log about faults.
#[derive(Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
enum FaultRecord {
    PluginFault {
        #[serde(flatten)]
        key: FaultKey,
        fault: CountedFault,
    },
    PluginFaultsForgotten {
        plugin: String,
    },
}

impl FaultBook {
    /// The book as the host log has it.
    pub(crate) fn read(bus: Arc<dyn Bus>, log: TopicName, opened: Option<&Opened>) -> Self {
        let mut counted = BTreeMap::new();
        for stored in opened.into_iter().flat_map(|opened| &opened.records) {
            // Most records of the host log are about other things.
            match serde_json::from_str(&stored.text) {
                Ok(FaultRecord::PluginFault { key, fault }) => {
                    let faults: &mut Vec<CountedFault> = counted.entry(key).or_default();
                    faults.push(fault);
                }
                Ok(FaultRecord::PluginFaultsForgotten { plugin }) => {
                    counted.retain(|key, _| key.plugin != plugin);
                }
                Err(_) => {}
            }
        }
        Self {
            bus,
            log,
            counted: Mutex::new(counted),
        }
    }

    /// Counts the faults of a match's run, and runs the match again without
    /// the plugins that have had too many. Says whether it did.
    pub(crate) fn judge(&self, charted: &mut ChartedMatch) -> bool {
        let mut run_again = false;
        loop {
            self.count(charted);
            let off = self.off(&charted.chart().header().id, charted.plugin_set());
            if off == *charted.switched_off() {
                return run_again;
            }
            charted.run_without(off);
            run_again = true;
        }
    }

    /// The plugins of the set that are switched off for a match.
    pub(crate) fn off(&self, match_id: &MatchId, plugin_set: &PluginSet) -> SwitchedOff {
        let counted = self.locked();
        let off = plugin_set.plugins().filter_map(|code| {
            let key = FaultKey::new(match_id, code.id(), code.sha256());
            let faults = counted.get(&key)?;
            let last = faults.last()?;
            let id = code.id();
            (faults.len() >= FAULTS_ALLOWED).then(|| {
                let why = format!(
                    "the plugin `{id}` is switched off for this match after {} faults; the last \
                     one: {}. Switch it on, or put a new version of it into the plugin folder",
                    faults.len(),
                    last.message
                );
                (id.clone(), why)
            })
        });
        off.collect()
    }

    /// Forgets all faults of a plugin: it has proven itself, or a person wants
    /// it back.
    pub(crate) fn forget(&self, plugin: &str) {
        let mut counted = self.locked();
        let before = counted.len();
        counted.retain(|key, _| key.plugin != plugin);
        if counted.len() < before {
            self.store(&FaultRecord::PluginFaultsForgotten {
                plugin: plugin.to_owned(),
            });
        }
    }

    /// How a plugin is on a court.
    pub(crate) fn seen(&self, match_id: &MatchId, health: PluginHealth) -> PluginOnCourt {
        let counted = self.locked();
        let key = FaultKey::new(match_id, &health.plugin, &health.sha256);
        let faults = counted.get(&key).map_or(&[][..], Vec::as_slice);
        PluginOnCourt {
            faults: faults.len(),
            last_fault: faults.last().cloned(),
            switched_off_by_faults: faults.len() >= FAULTS_ALLOWED,
            health,
        }
    }

    fn count(&self, charted: &ChartedMatch) {
        let match_id = &charted.chart().header().id;
        let revision = charted.chart().revision();
        for fault in charted.run().faults() {
            let Some(code) = charted.plugin_set().plugin(&fault.plugin) else {
                continue;
            };
            let key = FaultKey::new(match_id, code.id(), code.sha256());
            self.count_one(key, counted_fault(fault, revision));
        }
    }

    fn count_one(&self, key: FaultKey, fault: CountedFault) {
        let mut counted = self.locked();
        let faults = counted.entry(key.clone()).or_default();
        let known = faults
            .iter()
            .any(|other| (other.revision, &other.entry) == (fault.revision, &fault.entry));
        if known {
            return;
        }
        faults.push(fault.clone());
        tracing::info!(
            match_id = key.match_id,
            fault = faults.len(),
            "a plugin was stopped: {}",
            fault.message
        );
        self.store(&FaultRecord::PluginFault { key, fault });
    }

    /// Nobody waits for the disk: a count that is lost with the host is found
    /// again when the chart is run.
    fn store(&self, record: &FaultRecord) {
        let text = serde_json::to_string(record).expect("a record holds texts and numbers only");
        if let Err(error) = self.bus.append(&self.log, &text) {
            tracing::error!(%error, "a plugin's fault could not be written into the host log");
        }
    }

    fn locked(&self) -> MutexGuard<'_, BTreeMap<FaultKey, Vec<CountedFault>>> {
        self.counted.lock()
    }
}

impl FaultKey {
    fn new(match_id: &MatchId, plugin: &Name, sha256: &str) -> Self {
        Self {
            match_id: match_id.to_string(),
            plugin: plugin.to_string(),
            sha256: sha256.to_owned(),
        }
    }
}

fn counted_fault(fault: &PluginFault, revision: u64) -> CountedFault {
    CountedFault {
        entry: fault.entry.as_ref().map(ToString::to_string),
        revision,
        kind: fault.kind.word().to_owned(),
        message: fault.to_string(),
    }
}
