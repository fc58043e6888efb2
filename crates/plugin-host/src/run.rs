//! One pass of a plugin set over one chart.
//!
//! Entries come in the order of the effective chart, each with what it is to
//! its rally and the score after it; the readings follow. Nothing else enters,
//! so a run over the same chart gives the same readings, byte for byte, whether
//! the entries come one by one or all at once. After a correction a fresh run is
//! made.
//!
//! A plugin that is at fault is stopped for the rest of the run: its instance is
//! dropped and its readings are withdrawn, at the entry where it happened. Who
//! reads from it goes on, and is told that those readings are gone.

use std::sync::Arc;

use rallytide_chart::{Effective, Header, RallyStep};
use rallytide_scoring::Score;

use crate::answer::AnswerCheck;
use crate::batch::{self, Batch};
use crate::current_readings::CurrentReadings;
use crate::fault::PluginFault;
use crate::handed_entries::HandedEntries;
use crate::health::{PluginHealth, PluginState};
use crate::manifest::Manifest;
use crate::plugin_instance::PluginInstance;
use crate::plugin_set::{PluginSet, Suspended, SwitchedOff};
use crate::step::{Step, StepOutcome};
use crate::translate;
use rallytide_readings::{Name, Reading, ReadingKey};

/// Plugins at work on one match.
pub struct Run {
    instances: Vec<PluginInstance>,
    /// Whom each instance reads from: the places of instances before it.
    sources: Vec<Vec<usize>>,
    suspended: Vec<Suspended>,
    handed: HandedEntries,
    faults: Vec<PluginFault>,
    /// The score as the plugins know it.
    score: Score,
}

impl PluginSet {
    /// Starts a match: fresh instances, each handed the opening. A plugin that
    /// fails to start is stopped, as at any entry.
    #[must_use]
    pub fn start(&self, header: &Header, score: &Score) -> Run {
        self.start_without(header, score, &SwitchedOff::new())
    }

    /// The same with some plugins switched off. The others run as if those had
    /// been stopped before the match.
    #[must_use]
    pub fn start_without(&self, header: &Header, score: &Score, off: &SwitchedOff) -> Run {
        Run::start(self, header, score, off)
    }
}

impl Run {
    fn start(plugin_set: &PluginSet, header: &Header, score: &Score, off: &SwitchedOff) -> Self {
        let mut run = Self {
            instances: Vec::with_capacity(plugin_set.members().len()),
            sources: sources(plugin_set),
            suspended: plugin_set.suspended().to_vec(),
            handed: HandedEntries::default(),
            faults: Vec::new(),
            score: score.clone(),
        };
        for member in plugin_set.members() {
            let manifest = member.code.manifest();
            let read = |reading: &&Reading| manifest.reads.contains(&reading.key.indicator);
            let upstream = run.readings().filter(read).map(translate::reading);
            let upstream = upstream.collect();
            let opening = translate::opening(header, &member.settings, score, upstream);
            let owners = plugin_set.owners().clone();
            let answer_check = AnswerCheck::new(manifest, owners, header.format.team_size());
            let code = member.code.clone();
            let mut instance = match off.get(code.id()) {
                Some(why) => PluginInstance::switched_off(code, answer_check, why.clone()),
                None => PluginInstance::new(code, answer_check),
            };
            instance.start(&opening);
            run.faults.extend(instance.fault().cloned());
            run.instances.push(instance);
        }
        run
    }

    /// Hands the next entry of the effective chart to every plugin that is
    /// called for it, each after those it reads from. Entries after the one that
    /// ended the match change nothing.
    ///
    /// # Panics
    /// If `entry` is a shot and `rally` is not about it.
    pub fn step(&mut self, entry: &Effective, rally: &RallyStep, score: &Score) -> StepOutcome {
        let step = Step {
            entry,
            rally,
            score,
        };
        self.step_all(&[step]).pop().unwrap_or_default()
    }

    /// The same for many entries, with an outcome for each. Much quicker than one
    /// by one: plugins run at the same time, each behind those it reads from.
    ///
    /// # Panics
    /// As [`Run::step`].
    pub fn step_all(&mut self, steps: &[Step<'_>]) -> Vec<StepOutcome> {
        let mut scored = Vec::with_capacity(steps.len());
        let before = self.handed.count();
        for step in steps {
            if self.score.is_over() {
                break;
            }
            scored.push(self.score != *step.score);
            self.score.clone_from(step.score);
            self.handed.push(&step.entry.id);
        }
        let batch = Batch {
            steps: &steps[..scored.len()],
            scored: &scored,
            handed: &self.handed,
            before,
        };
        let deltas_by_plugin = batch::run_over(&mut self.instances, &self.sources, &batch);
        let mut outcomes = vec![StepOutcome::default(); steps.len()];
        for deltas in deltas_by_plugin {
            for (place, delta) in deltas {
                outcomes[place].add(delta);
            }
        }
        for outcome in &mut outcomes {
            outcome.sort();
            self.faults.extend(outcome.faults.iter().cloned());
        }
        outcomes
    }

    /// All current readings, sorted.
    pub fn readings(&self) -> impl Iterator<Item = &Reading> {
        let current = self.instances.iter().map(PluginInstance::current);
        let mut readings: Vec<&Reading> = current.flat_map(CurrentReadings::readings).collect();
        readings.sort_unstable_by(|a, b| a.key.cmp(&b.key));
        readings.into_iter()
    }

    /// The current reading of `indicator` about the match.
    #[must_use]
    pub fn reading(&self, indicator: &str) -> Option<&Arc<Reading>> {
        let key = ReadingKey {
            indicator: Name::from(indicator),
            team: None,
            player: None,
            slot: None,
        };
        self.instances
            .iter()
            .find_map(|instance| instance.current().get(&key))
    }

    /// Every fault of the run, in order.
    #[must_use]
    pub fn faults(&self) -> &[PluginFault] {
        &self.faults
    }

    /// The plugins whose readings are missing, each with the reason in
    /// one sentence.
    pub fn unavailable(&self) -> impl Iterator<Item = (String, String)> {
        let ended = self.instances.iter().filter_map(|instance| {
            let why = instance.why_ended()?;
            Some((instance.id().to_string(), why))
        });
        let suspended = self.suspended.iter().map(|suspended| {
            let missing: Vec<String> = suspended.missing.iter().map(ToString::to_string).collect();
            let id = suspended.code.id();
            let why = format!("the plugin `{id}` waits for {}", missing.join(" and "));
            (id.to_string(), why)
        });
        ended.chain(suspended)
    }

    /// How each plugin is: first those that run or ran, in their order, then
    /// those that wait.
    #[must_use]
    pub fn health(&self) -> Vec<PluginHealth> {
        let suspended = self.suspended.iter().map(|suspended| PluginHealth {
            state: PluginState::Suspended {
                missing: suspended.missing.clone(),
            },
            ..PluginHealth::waiting(&suspended.code)
        });
        let instances = self.instances.iter().map(PluginInstance::health);
        instances.chain(suspended).collect()
    }
}

/// Whom each member reads from: places of members before it, in their order.
fn sources(plugin_set: &PluginSet) -> Vec<Vec<usize>> {
    let members = plugin_set.members();
    let of = |reader: &Manifest| {
        let provides = |source: &Manifest| {
            let mut provided = source.provides.iter();
            provided.any(|indicator| reader.reads.contains(indicator))
        };
        (0..members.len())
            .filter(|source| provides(members[*source].code.manifest()))
            .collect()
    };
    members
        .iter()
        .map(|member| of(member.code.manifest()))
        .collect()
}

impl std::fmt::Debug for Run {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Run")
            .field("plugins", &self.instances.len())
            .field("faults", &self.faults)
            .finish_non_exhaustive()
    }
}
