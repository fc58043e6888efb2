//! All courts of a host, and which match is on which.
//!
//! Which match is on which court is itself a log, the host log: one record each
//! time a match is started on a court, and one for whatever else the desk does
//! ([`crate::host_log`]). After a restart everything is as it was.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use rallytide_bus::{Bus, BusError, Opened, TopicName};
use rallytide_chart::{Header, Refusal, RefusalCode};
use rallytide_plugin_host::{Fault, PluginSet};
use serde_json::Value;

use crate::changes::Changes;
use crate::charted::run_over;
use crate::faults::FaultBook;
use crate::host_log::{HostLog, HostRecord, StartedBy};
use crate::live::{CourtName, LiveCourt};
use crate::match_log::{LoggedMatch, read_log};

mod desk;
mod host_log_file;
mod matches;
mod off_court;

pub use desk::CannotDo;
pub use matches::{KnownMatch, MatchState};
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
    changes: Changes,
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
            changes: Changes::default(),
            by_name: Mutex::new(BTreeMap::new()),
        };
        for (name, match_id) in on_courts {
            let court = courts.new_court(name.clone());
            if let Err(error) = courts.restore(&court, &match_id) {
                tracing::error!(court = %name, id = match_id, "could not start the match again: {error}");
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
    pub fn changes(&self) -> &Changes {
        &self.changes
    }

    /// The plugins that run.
    #[must_use]
    pub fn plugin_set(&self) -> Arc<PluginSet> {
        let plugin_set = self.plugin_set.lock();
        Arc::clone(&plugin_set.unwrap_or_else(PoisonError::into_inner))
    }

    /// Runs every match that is on under other plugins, without anybody seeing
    /// it, and gives the faults they had.
    #[must_use]
    pub fn try_plugins(&self, plugin_set: &PluginSet) -> Vec<Fault> {
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
        {
            let mut own = self
                .plugin_set
                .lock()
                .unwrap_or_else(PoisonError::into_inner);
            *own = Arc::clone(plugin_set);
        }
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
    /// `too_many_courts` where there are too many already.
    pub fn court(&self, name: &CourtName) -> Result<Arc<LiveCourt>, Refusal> {
        let mut courts = self.locked();
        if let Some(court) = courts.get(name) {
            return Ok(Arc::clone(court));
        }
        if courts.len() >= COURTS_LIMIT {
            return Err(Refusal::new(
                RefusalCode::TooManyCourts,
                format!("this host has {COURTS_LIMIT} courts already; use one of them"),
            ));
        }
        let court = Arc::new(self.new_court(name.clone()));
        courts.insert(name.clone(), Arc::clone(&court));
        drop(courts);
        self.changes.signal();
        Ok(court)
    }

    /// Starts a match that a charter brings. Saying so again does nothing; a match
    /// that was charted before comes back with its entries. A match that is still
    /// being played gives way only if `replace` says so, and so does one that
    /// has just been set up (`may_come_back`). Blocks for the disk.
    ///
    /// # Errors
    /// `id_conflict` where the id is taken by a match with another header,
    /// `court_busy` where another match is being played, `not_stored`.
    pub fn start_by_charter(
        &self,
        court: &LiveCourt,
        header: Header,
        replace: Replace,
    ) -> Result<(), Refusal> {
        let _one_at_a_time = self.one_at_a_time();
        let on = court.with_original(|original, charted| {
            let same = *original == header
                || charted.chart().header().as_ref() == &header
                || self.host_log().knows(&header);
            (charted.chart().header().id == header.id, same)
        });
        match on {
            Some((true, true)) => return Ok(()),
            Some((true, false)) => return Err(id_conflict(&header)),
            _ => {}
        }
        let removed = (self.host_log().decisions(header.id.as_str()))
            .is_some_and(|decisions| decisions.removed);
        if removed && replace == Replace::OnlyFinished {
            return Err(Refusal::new(
                RefusalCode::OtherMatch,
                format!(
                    "the desk has taken match `{}` off its court; ask the desk to put it on \
                     again, or say `\"replace\":true`",
                    header.id
                ),
            ));
        }
        self.is_not_the_desks(court)?;
        self.may_give_way(court, replace)?;
        self.may_come_back(court, &header, replace)?;
        self.is_next(court, &header)?;
        self.start(court, header, StartedBy::Charter)
    }

    /// A match that the desk has planned or put on gives way to the desk alone,
    /// whatever a charter's client says, until it is over.
    fn is_not_the_desks(&self, court: &LiveCourt) -> Result<(), Refusal> {
        let Some((on, is_over)) = court.with_match(|charted| {
            let header = charted.chart().header();
            (header.as_ref().clone(), charted.score().is_over())
        }) else {
            return Ok(());
        };
        let id = on.id.as_str();
        let host_log = self.host_log();
        let planned = host_log.header(id).is_some();
        let by_desk = host_log
            .by_desk
            .get(court.name())
            .is_some_and(|one| one == id);
        let declared_over = host_log.decisions(id).is_some_and(|one| one.over);
        if is_over || declared_over || !(planned || by_desk) {
            return Ok(());
        }
        Err(Refusal::new(
            RefusalCode::CourtBusy,
            format!(
                "the desk has started {} on court `{}`; chart that match, or ask the desk for \
                 another one",
                versus(&on),
                court.name()
            ),
        ))
    }

    /// Where the desk has planned matches for a court, a charter's own match does
    /// not go before them; one of them may be begun by a charter.
    fn is_next(&self, court: &LiveCourt, header: &Header) -> Result<(), Refusal> {
        if self.host_log().header(header.id.as_str()).is_some()
            || self.has_log(&topic_of(header.id.as_str())?)?
        {
            return Ok(());
        }
        let planned: Vec<Header> = {
            let host_log = self.host_log();
            let decisions = host_log.matches.values();
            decisions
                .filter_map(|one| one.headers.last())
                .filter(|planned| planned.court == court.name().as_str())
                .cloned()
                .collect()
        };
        for one in planned {
            if self.has_log(&topic_of(one.id.as_str())?)? {
                continue;
            }
            return Err(Refusal::new(
                RefusalCode::CourtBusy,
                format!(
                    "the desk has planned {} on court `{}`; wait until the desk starts it, or \
                     ask the desk for another match",
                    versus(&one),
                    court.name()
                ),
            ));
        }
        Ok(())
    }

    /// Whether the match on a court, if there is one, gives way to another.
    fn may_give_way(&self, court: &LiveCourt, replace: Replace) -> Result<(), Refusal> {
        let running = court.with_match(|charted| {
            let running = charted.chart().last_seq().0 > 0 && !charted.score().is_over();
            running.then(|| charted.chart().header().id.to_string())
        });
        let Some(Some(id)) = running else {
            return Ok(());
        };
        let declared_over = self
            .host_log()
            .decisions(&id)
            .is_some_and(|decisions| decisions.over);
        if declared_over || replace == Replace::Any {
            return Ok(());
        }
        Err(Refusal::new(
            RefusalCode::CourtBusy,
            format!(
                "match `{id}` is being played on court `{}`; finish it first, or say \
                 `\"replace\":true` to take it off",
                court.name()
            ),
        ))
    }

    /// Whether a charter may start a match on a court that has one without
    /// entries. That one has just been set up, so a laptop that comes back with
    /// an earlier match, or with one of its own while the desk has put this one
    /// on, does not take it off: its charter is told, and keeps what it has.
    fn may_come_back(
        &self,
        court: &LiveCourt,
        header: &Header,
        replace: Replace,
    ) -> Result<(), Refusal> {
        let empty = court.with_match(|charted| {
            let empty = charted.chart().last_seq().0 == 0;
            empty.then(|| charted.chart().header().id.to_string())
        });
        let Some(Some(id)) = empty else {
            return Ok(());
        };
        let over = self
            .host_log()
            .decisions(&id)
            .is_some_and(|decisions| decisions.over);
        if over || replace == Replace::Any {
            return Ok(());
        }
        let by_desk = self.host_log().by_desk.get(court.name()) == Some(&id);
        let begun = self.has_log(&topic_of(header.id.as_str())?)?;
        if !by_desk && !begun {
            return Ok(());
        }
        Err(Refusal::new(
            RefusalCode::CourtBusy,
            format!(
                "match `{id}` has been set up on court `{}`; chart that one, ask the desk to put \
                 match `{}` on again, or say `\"replace\":true` to take it off",
                court.name(),
                header.id
            ),
        ))
    }

    fn start(&self, court: &LiveCourt, header: Header, by: StartedBy) -> Result<(), Refusal> {
        let id = header.id.to_string();
        let topic = topic_of(&id)?;
        if self.has_log(&topic)? {
            self.start_again(court, &topic, &header)?;
        } else {
            if self
                .host_log()
                .header(&id)
                .is_some_and(|plan| *plan != header)
            {
                return Err(Refusal::new(
                    RefusalCode::IdConflict,
                    format!(
                        "match header: the desk has planned a match `{id}` with another header; \
                         take that one, or give this one an id of its own"
                    ),
                ));
            }
            let head = Value::Object(header.to_json().clone()).to_string();
            self.bus
                .create(&topic, &head)
                .map_err(|error| not_stored(&error))?;
            court.start_new(topic, header);
        }
        self.off_court().remove(&id);
        self.log(HostRecord::OnCourt {
            court: court.name().clone(),
            id,
            by,
        })
    }

    /// Whether the match has been begun.
    fn has_log(&self, topic: &TopicName) -> Result<bool, Refusal> {
        let topics = self.bus.topics().map_err(|error| not_stored(&error))?;
        Ok(topics.contains(topic))
    }

    /// Puts a match on whose log exists already.
    fn start_again(
        &self,
        court: &LiveCourt,
        topic: &TopicName,
        header: &Header,
    ) -> Result<(), Refusal> {
        if let Some(other) = self.court_with(topic.as_str(), Some(court.name())) {
            return Err(Refusal::new(
                RefusalCode::CourtBusy,
                format!("match `{topic}` is on court `{}`", other.name()),
            ));
        }
        let logged = self.read(topic)?;
        if logged.chart.header().as_ref() != header && !self.host_log().knows(header) {
            return Err(id_conflict(header));
        }
        court.start_logged(topic.clone(), logged, self.header_in_use(topic.as_str()));
        Ok(())
    }

    fn read(&self, topic: &TopicName) -> Result<LoggedMatch, Refusal> {
        let opened = self.bus.open(topic).map_err(|error| not_stored(&error))?;
        read_log(topic, &opened).map_err(|refusal| {
            Refusal::new(
                refusal.code,
                format!("the log of match `{topic}` is damaged: {refusal}"),
            )
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
    fn log(&self, record: HostRecord) -> Result<(), Refusal> {
        host_log_file::append(&*self.bus, &self.host_topic, &record.to_text())
            .map_err(|error| not_stored(&error))?;
        self.host_log().take(record);
        self.changes.signal();
        Ok(())
    }

    fn one_at_a_time(&self) -> MutexGuard<'_, ()> {
        self.changing.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn host_log(&self) -> MutexGuard<'_, HostLog> {
        // A record is taken in one step that cannot fail.
        self.host_log.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn off_court(&self) -> MutexGuard<'_, BTreeMap<String, OffCourtMatch>> {
        self.off_court
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
    }

    fn restore(&self, court: &LiveCourt, match_id: &str) -> Result<(), String> {
        let topic = TopicName::new(match_id).map_err(|error| error.to_string())?;
        let opened = self.bus.open(&topic).map_err(|error| error.to_string())?;
        let logged = read_log(&topic, &opened).map_err(|error| error.to_string())?;
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
        self.by_name.lock().unwrap_or_else(PoisonError::into_inner)
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

fn versus(header: &Header) -> String {
    format!("{} v {}", header.teams.a.name, header.teams.b.name)
}

fn id_conflict(header: &Header) -> Refusal {
    Refusal::new(
        RefusalCode::IdConflict,
        format!(
            "match header: a match `{}` with another header exists; give this one an id of its own",
            header.id
        ),
    )
}

fn not_stored(error: &BusError) -> Refusal {
    let hint = error
        .hint()
        .map_or_else(String::new, |hint| format!("; {hint}"));
    Refusal::new(
        RefusalCode::NotStored,
        format!("the match could not be stored: {error}{hint}"),
    )
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

/// The log of a match; refused where no match may have that id.
fn topic_of(id: &str) -> Result<TopicName, Refusal> {
    match TopicName::new(id) {
        Ok(topic) if id != HOST_LOG => Ok(topic),
        _ => Err(Refusal::new(
            RefusalCode::BadField,
            format!("match header: field `id` must not be `{id}`; choose another"),
        )),
    }
}
