//! All courts of a host, and which match is on which.
//!
//! Which match is on which court is itself a log, the host log: one record each
//! time a match is started on a court, and one for whatever else the desk does
//! ([`crate::host_log`]). After a restart everything is as it was.

use std::collections::BTreeMap;
use std::sync::Arc;

use parking_lot::{Mutex, MutexGuard};
use rallytide_bus::{Bus, BusError, Opened, TopicName};
use rallytide_chart::{Header, MatchId};
use rallytide_plugin_host::{PluginFault, PluginSet};
use serde_json::Value;

use crate::cannot_do::{CannotDo, LogAttempt};
use crate::changes::ChangeSignal;
use crate::faults::FaultBook;
use crate::host_log::{HostLog, HostRecord, StartedBy};
use crate::live::{CourtName, LiveCourt};
use crate::match_log::{LoggedMatch, read_log};
use crate::walk::run_over;

mod desk;
mod host_log_file;
mod known_match;
mod matches;
mod off_court;
mod places;
mod start_by_charter;

pub use known_match::{KnownMatch, MatchPhase};
use off_court::OffCourtMatch;

/// The host log; no match may have this id.
const HOST_LOG: &str = "_house";
const HOST_LOG_HEAD: &str = r#"{"kind":"house","version":1}"#;

/// How many courts a host opens; a link with a slip in it must not fill the
/// memory. Courts with a match from an earlier run are not counted.
const COURTS_LIMIT: usize = 200;

/// All courts of a host.
pub struct Courts {
    bus: Arc<dyn Bus>,
    plugin_set: Mutex<Arc<PluginSet>>,
    host_topic: TopicName,
    faults: Arc<FaultBook>,
    /// Held while a match is started: several clients may start the same one at
    /// the same moment.
    changing: Mutex<()>,
    /// What the host log says. Changed only under `changing`.
    host_log: Mutex<HostLog>,
    /// The matches that are on no court, as far as somebody has asked.
    off_court: Mutex<BTreeMap<String, OffCourtMatch>>,
    changes: ChangeSignal,
    by_name: Mutex<BTreeMap<CourtName, Arc<LiveCourt>>>,
}

/// Why the courts could not be opened.
#[derive(Debug, thiserror::Error)]
pub enum CourtsError {
    /// The logs are not to be had.
    #[error("could not open the event log")]
    Bus(#[from] BusError),
}

impl Courts {
    /// Opens the courts as they were left. A match whose log cannot be read is
    /// reported and left out; the others are there.
    ///
    /// # Errors
    /// If the host log cannot be made or read.
    pub fn open(bus: Arc<dyn Bus>, plugin_set: Arc<PluginSet>) -> Result<Self, CourtsError> {
        let topic = host_topic();
        let opened = host_log_file::open_or_make(&*bus, &topic, HOST_LOG_HEAD)?;
        let host_log = opened.as_ref().map(read_host_log).unwrap_or_default();
        let on_courts = host_log.on.clone();
        let faults = FaultBook::read(Arc::clone(&bus), topic.clone(), opened.as_ref());
        let courts = Self {
            bus,
            plugin_set: Mutex::new(plugin_set),
            host_topic: topic,
            faults: Arc::new(faults),
            changing: Mutex::new(()),
            host_log: Mutex::new(host_log),
            off_court: Mutex::new(BTreeMap::new()),
            changes: ChangeSignal::default(),
            by_name: Mutex::new(BTreeMap::new()),
        };
        for (name, match_id) in on_courts {
            let court = courts.new_court(name.clone());
            if let Err(error) = courts.restore(&court, &match_id) {
                tracing::error!(court = %name, id = match_id, "could not start the match again: {}", error.sentence());
            }
            courts.locked().insert(name, Arc::new(court));
        }
        Ok(courts)
    }

    /// The courts there are, by name.
    #[must_use]
    pub fn all(&self) -> Vec<Arc<LiveCourt>> {
        self.locked().values().cloned().collect()
    }

    /// Signals whenever something that is shown has changed on any court.
    #[must_use]
    pub fn changes(&self) -> &ChangeSignal {
        &self.changes
    }

    /// The plugins that run.
    #[must_use]
    pub fn plugin_set(&self) -> Arc<PluginSet> {
        Arc::clone(&self.plugin_set.lock())
    }

    /// Runs every match that is on under other plugins, without anybody seeing
    /// it, and gives the faults they had.
    #[must_use]
    pub fn try_plugins(&self, plugin_set: &PluginSet) -> Vec<PluginFault> {
        let charts = self
            .all()
            .into_iter()
            .filter_map(|court| court.with_match(|charted| charted.chart().clone()));
        charts
            .flat_map(|chart| run_over(&chart, plugin_set).faults().to_vec())
            .collect()
    }

    /// Forgets the faults of a plugin, so that it runs again wherever it was
    /// switched off for them; that happens with the next change of plugins.
    pub fn forget_faults(&self, plugin: &str) {
        self.faults.forget(plugin);
    }

    /// Goes on with other plugins on every court.
    pub fn change_plugins(&self, plugin_set: &Arc<PluginSet>) {
        let _one_at_a_time = self.one_at_a_time();
        *self.plugin_set.lock() = Arc::clone(plugin_set);
        for court in self.all() {
            court.change_plugins(plugin_set);
        }
    }

    /// The court `name`, if there is one.
    #[must_use]
    pub fn find(&self, name: &CourtName) -> Option<Arc<LiveCourt>> {
        self.locked().get(name).cloned()
    }

    /// The court `name`, made if there is none.
    ///
    /// # Errors
    /// [`CannotDo::TooManyCourts`].
    pub fn court(&self, name: &CourtName) -> Result<Arc<LiveCourt>, CannotDo> {
        let mut courts = self.locked();
        if let Some(court) = courts.get(name) {
            return Ok(Arc::clone(court));
        }
        if courts.len() >= COURTS_LIMIT {
            return Err(CannotDo::TooManyCourts {
                limit: COURTS_LIMIT,
            });
        }
        let court = Arc::new(self.new_court(name.clone()));
        courts.insert(name.clone(), Arc::clone(&court));
        drop(courts);
        self.changes.signal();
        Ok(court)
    }

    fn start(&self, court: &LiveCourt, header: Header, by: StartedBy) -> Result<(), CannotDo> {
        let id = header.id.clone();
        let topic = topic_of(id.as_str())?;
        let gives_way = court.match_id().filter(|before| *before != id);
        if self.has_log(&topic)? {
            self.start_again(court, &topic, header)?;
        } else {
            let planned = self.header_in_use(id.as_str());
            if planned.is_some_and(|planned| planned != header) {
                return Err(CannotDo::PlannedOtherwise { id });
            }
            let head = Value::Object(header.to_json().clone()).to_string();
            let attempt = LogAttempt::StoreMatch { id: id.clone() };
            (self.bus.create(&topic, &head)).map_err(attempt.failed())?;
            court.start_new(topic, header);
        }
        self.off_court().remove(id.as_str());
        self.log(HostRecord::OnCourt {
            court: court.name().clone(),
            id: id.to_string(),
            by,
        })?;
        self.let_go_of(gives_way);
        Ok(())
    }

    /// Closes the log of a match that has left its court; what was appended is
    /// durable then. The caller holds `changing`, so that nobody has started it
    /// again meanwhile.
    fn let_go_of(&self, left: Option<MatchId>) {
        let Some(topic) = left.and_then(|id| TopicName::new(id.as_str()).ok()) else {
            return;
        };
        if let Err(error) = self.bus.close(&topic) {
            tracing::warn!(
                %topic, %error,
                "the log of a match that has left its court could not be closed in good order"
            );
        }
    }

    /// Whether the match has been begun.
    fn has_log(&self, topic: &TopicName) -> Result<bool, CannotDo> {
        Ok(self.topics()?.contains(topic))
    }

    /// The logs there are.
    fn topics(&self) -> Result<Vec<TopicName>, CannotDo> {
        self.bus.topics().map_err(LogAttempt::List.failed())
    }

    /// Starts a match whose log exists already.
    fn start_again(
        &self,
        court: &LiveCourt,
        topic: &TopicName,
        header: Header,
    ) -> Result<(), CannotDo> {
        if let Some(other) = self.court_with(topic.as_str(), Some(court.name())) {
            return Err(CannotDo::OnCourt {
                id: topic.to_string(),
                court: other.name().clone(),
            });
        }
        let logged = self.read(topic)?;
        if *logged.chart.header().as_ref() != header && !self.host_log().knows(&header) {
            return Err(CannotDo::OtherHeader { id: header.id });
        }
        court.start_logged(topic.clone(), logged, self.header_in_use(topic.as_str()));
        Ok(())
    }

    fn read(&self, topic: &TopicName) -> Result<LoggedMatch, CannotDo> {
        let id = topic.to_string();
        let attempt = LogAttempt::Read { id: id.clone() };
        let opened = self.bus.open(topic).map_err(attempt.failed())?;
        read_log(topic, &opened).map_err(|refusal| CannotDo::DamagedLog {
            id,
            source: Box::new(refusal),
        })
    }

    /// The court that a match is on, but for `not_this`.
    fn court_with(&self, id: &str, not_this: Option<&CourtName>) -> Option<Arc<LiveCourt>> {
        self.all().into_iter().find(|other| {
            Some(other.name()) != not_this && other.match_on().is_some_and(|(on, _)| on == id)
        })
    }

    /// The header that the desk gave a match.
    fn header_in_use(&self, id: &str) -> Option<Header> {
        self.host_log().header(id).cloned()
    }

    /// Writes a record into the host log; it counts when it is durable.
    fn log(&self, record: HostRecord) -> Result<(), CannotDo> {
        let text = record.to_text();
        if HostRecord::from_text(&text).is_none() {
            // A restart would not find it.
            return Err(CannotDo::TooDeep);
        }
        host_log_file::append(&*self.bus, &self.host_topic, &text)
            .map_err(LogAttempt::StoreHostRecord.failed())?;
        self.host_log().take(record);
        self.changes.signal();
        Ok(())
    }

    fn one_at_a_time(&self) -> MutexGuard<'_, ()> {
        self.changing.lock()
    }

    fn host_log(&self) -> MutexGuard<'_, HostLog> {
        self.host_log.lock()
    }

    fn off_court(&self) -> MutexGuard<'_, BTreeMap<String, OffCourtMatch>> {
        self.off_court.lock()
    }

    fn restore(&self, court: &LiveCourt, match_id: &str) -> Result<(), CannotDo> {
        let topic = topic_of(match_id)?;
        let logged = self.read(&topic)?;
        court.start_logged(topic, logged, self.header_in_use(match_id));
        if self.host_log().paused.contains(court.name()) {
            court.set_paused(true);
        }
        Ok(())
    }

    fn new_court(&self, name: CourtName) -> LiveCourt {
        let faults = Arc::clone(&self.faults);
        let changes = self.changes.clone();
        LiveCourt::new(
            name,
            Arc::clone(&self.bus),
            faults,
            self.plugin_set(),
            changes,
        )
    }

    fn locked(&self) -> MutexGuard<'_, BTreeMap<CourtName, Arc<LiveCourt>>> {
        self.by_name.lock()
    }
}

fn host_topic() -> TopicName {
    TopicName::new(HOST_LOG).expect("the name keeps the rule for topics")
}

/// Whether a match that is being played may be taken off its court.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Replace {
    /// Only a match that is over gives way, and one without entries to a new
    /// match, unless the desk has put it on.
    OnlyFinished,
    /// Any match gives way; its log stays.
    Any,
}

/// Reads the host log. Records about other things, like the plugins' faults,
/// are left to those who know them.
fn read_host_log(opened: &Opened) -> HostLog {
    let mut host_log = HostLog::default();
    for stored in &opened.records {
        match HostRecord::from_text(&stored.text) {
            Some(record) => host_log.take(record),
            None => tracing::debug!(
                text = stored.text,
                "a record of the host log is left to others"
            ),
        }
    }
    host_log
}

/// The log of a match.
fn topic_of(id: &str) -> Result<TopicName, CannotDo> {
    match TopicName::new(id) {
        Ok(topic) if id != HOST_LOG => Ok(topic),
        _ => Err(CannotDo::ReservedId { id: id.to_owned() }),
    }
}
