//! One plugin of a run: its instance while it runs, why it does not if it does
//! not, and what is counted about it.
//!
//! Invariant: there is an instance if and only if nothing has ended it; with
//! the end of an instance its log is all that stays of it.

use std::time::Duration;

use rallytide_chart::{Effective, EntryId, Seq};

use crate::answer::{AnswerCheck, ReadingChanges};
use crate::current_readings::{CurrentReadings, Delta};
use crate::fault::{HostFault, PluginFault, PluginFaultKind, Violation};
use crate::handed_entries::{EntriesSoFar, HandedEntries};
use crate::health::{PluginHealth, PluginState};
use crate::interface::wit;
use crate::limits::READINGS_PER_PLUGIN;
use crate::loader::PluginCode;
use crate::log::PluginLog;
use crate::manifest::Manifest;
use crate::shown::shortened_to;
use crate::wasm_instance::{Called, InstantiateError, WasmInstance};
use rallytide_readings::Name;

/// How much is shown of the sentence with which a plugin refuses its settings.
const SENTENCE_SHOWN: usize = 200;

/// One plugin of a run.
pub(crate) struct PluginInstance {
    code: PluginCode,
    answer_check: AnswerCheck,
    state: InstanceState,
    current: CurrentReadings,
    calls: u64,
    fuel: u64,
    most_fuel: u64,
    time: Duration,
    /// What of the time is held against it.
    charged: Duration,
    most_time: Duration,
    memory: usize,
}

enum InstanceState {
    Running(Box<WasmInstance>),
    Ended { reason: EndReason, log: PluginLog },
}

impl InstanceState {
    fn ended_at_once(reason: EndReason) -> Self {
        let log = PluginLog::default();
        Self::Ended { reason, log }
    }
}

/// Why a plugin runs no more.
#[derive(Debug, Clone)]
enum EndReason {
    /// It was at fault.
    Fault(PluginFault),
    /// The host could not make an instance of it.
    Host(HostFault),
    /// It was not to run at all.
    SwitchedOff(String),
}

impl PluginInstance {
    /// A plugin with a fresh instance, or ended already if there can be none.
    pub(crate) fn new(code: PluginCode, answer_check: AnswerCheck) -> Self {
        let ended = InstanceState::ended_at_once;
        let state = match code.instance() {
            Ok(instance) => InstanceState::Running(Box::new(instance)),
            Err(InstantiateError::Host(fault)) => ended(EndReason::Host(fault)),
            // It was in order when it was loaded.
            Err(InstantiateError::Mistyped(detail)) => {
                ended(EndReason::Host(HostFault::new("make an instance", detail)))
            }
            Err(InstantiateError::Violation(violation)) => {
                ended(EndReason::Fault(fault(code.id(), violation, None, Seq(0))))
            }
        };
        Self::with_state(code, answer_check, state)
    }

    /// A plugin that is not to run; `why` in one sentence.
    pub(crate) fn switched_off(code: PluginCode, answer_check: AnswerCheck, why: String) -> Self {
        Self::with_state(
            code,
            answer_check,
            InstanceState::ended_at_once(EndReason::SwitchedOff(why)),
        )
    }

    fn with_state(code: PluginCode, answer_check: AnswerCheck, state: InstanceState) -> Self {
        Self {
            code,
            answer_check,
            state,
            current: CurrentReadings::default(),
            calls: 0,
            fuel: 0,
            most_fuel: 0,
            time: Duration::ZERO,
            charged: Duration::ZERO,
            most_time: Duration::ZERO,
            memory: 0,
        }
    }

    /// Starts a match; an empty answer if the plugin does not run.
    pub(crate) fn start(&mut self, opening: &wit::Opening) -> Delta {
        let InstanceState::Running(instance) = &mut self.state else {
            return Delta::default();
        };
        let called = instance.start(opening);
        self.memory = instance.memory();
        let answer = self.count(called).and_then(|answer| {
            answer.map_err(|sentence| {
                let sentence = shortened_to(&sentence, SENTENCE_SHOWN);
                Violation::new(
                    PluginFaultKind::SettingsRefused,
                    format!("it refused its settings: {sentence}"),
                )
            })
        });
        let nothing = HandedEntries::default();
        let changes = answer.and_then(|answer| self.answer_check.check(answer, nothing.first(0)));
        self.settle(changes, None, Seq(0))
    }

    /// Hands over an entry; an empty answer if the plugin does not run.
    pub(crate) fn step(
        &mut self,
        moment: &wit::Moment,
        entry: &Effective,
        handed: EntriesSoFar<'_>,
    ) -> Delta {
        let InstanceState::Running(instance) = &mut self.state else {
            return Delta::default();
        };
        let called = instance.step(moment, entry.seq);
        self.memory = instance.memory();
        let answer = self.count(called);
        let changes = answer.and_then(|answer| self.answer_check.check(answer, handed));
        self.settle(changes, Some(&entry.id), entry.seq)
    }

    /// Takes the answer over into the current readings, or stops the plugin for it.
    fn settle(
        &mut self,
        answer: Result<ReadingChanges, Violation>,
        entry: Option<&EntryId>,
        seq: Seq,
    ) -> Delta {
        let within = answer.and_then(|changes| match self.current.len_after(&changes) {
            readings if readings > READINGS_PER_PLUGIN => Err(Violation::new(
                PluginFaultKind::TooMany,
                format!(
                    "it would have {readings} readings at a time; {READINGS_PER_PLUGIN} are allowed"
                ),
            )),
            _ => Ok(changes),
        });
        match within {
            Ok(changes) => self.current.apply(self.code.id(), seq, changes),
            Err(violation) => {
                let fault = fault(self.id(), violation, entry.cloned(), seq);
                let log = self.log().clone();
                self.state = InstanceState::Ended {
                    reason: EndReason::Fault(fault.clone()),
                    log,
                };
                self.current.withdraw(fault)
            }
        }
    }

    /// The readings it has published.
    pub(crate) fn current(&self) -> &CurrentReadings {
        &self.current
    }

    /// What ended it, if that was its own doing.
    pub(crate) fn fault(&self) -> Option<&PluginFault> {
        match &self.state {
            InstanceState::Ended {
                reason: EndReason::Fault(fault),
                ..
            } => Some(fault),
            _ => None,
        }
    }

    /// The plugin's id.
    pub(crate) fn id(&self) -> &Name {
        self.code.id()
    }

    /// What it says about itself.
    pub(crate) fn manifest(&self) -> &Manifest {
        self.code.manifest()
    }

    /// Whether it runs.
    pub(crate) fn runs(&self) -> bool {
        matches!(self.state, InstanceState::Running(_))
    }

    /// Why it does not run, in one sentence.
    pub(crate) fn why_ended(&self) -> Option<String> {
        match &self.state {
            InstanceState::Running(_) => None,
            InstanceState::Ended {
                reason: EndReason::Fault(fault),
                ..
            } => Some(fault.to_string()),
            InstanceState::Ended {
                reason: EndReason::Host(fault),
                ..
            } => Some(fault.to_string()),
            InstanceState::Ended {
                reason: EndReason::SwitchedOff(why),
                ..
            } => Some(why.clone()),
        }
    }

    /// How it is.
    pub(crate) fn health(&self) -> PluginHealth {
        let state = match &self.state {
            InstanceState::Running(_) => PluginState::Running,
            InstanceState::Ended {
                reason: EndReason::Fault(fault),
                ..
            } => PluginState::Stopped {
                fault: fault.clone(),
            },
            InstanceState::Ended {
                reason: EndReason::Host(fault),
                ..
            } => PluginState::Failed {
                fault: fault.clone(),
            },
            InstanceState::Ended {
                reason: EndReason::SwitchedOff(why),
                ..
            } => PluginState::SwitchedOff { why: why.clone() },
        };
        PluginHealth {
            state,
            calls: self.calls,
            fuel: self.fuel,
            most_fuel: self.most_fuel,
            time_us: microseconds(self.time),
            most_time_us: microseconds(self.most_time),
            memory_bytes: self.memory,
            readings: self.current.len(),
            log: self.log().lines().cloned().collect(),
            log_dropped: self.log().dropped(),
            ..PluginHealth::waiting(&self.code)
        }
    }

    fn count<T>(&mut self, called: Called<T>) -> Result<T, Violation> {
        self.calls += 1;
        self.fuel += called.fuel;
        self.most_fuel = self.most_fuel.max(called.fuel);
        self.time += called.time;
        self.most_time = self.most_time.max(called.time);
        self.charged += called.charged;
        let allowed = self.code.time_for(self.calls);
        if self.charged > allowed && called.outcome.is_ok() {
            return Err(Violation::new(
                PluginFaultKind::OutOfTime,
                format!(
                    "its first {} calls took more than the {} ms that so many may take together",
                    self.calls,
                    allowed.as_millis()
                ),
            ));
        }
        if let InstanceState::Running(instance) = &mut self.state
            && self.charged > allowed / 2
        {
            instance.watch();
        }
        called.outcome
    }

    fn log(&self) -> &PluginLog {
        match &self.state {
            InstanceState::Running(instance) => instance.log(),
            InstanceState::Ended { log, .. } => log,
        }
    }
}

fn microseconds(time: Duration) -> u64 {
    u64::try_from(time.as_micros()).unwrap_or(u64::MAX)
}

fn fault(plugin: &Name, violation: Violation, entry: Option<EntryId>, seq: Seq) -> PluginFault {
    PluginFault {
        plugin: plugin.clone(),
        kind: violation.kind,
        message: violation.message,
        entry,
        seq,
    }
}
