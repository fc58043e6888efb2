//! All courts of a host, and which match is on which.
//!
//! What is on where is itself a log, the house log: one record each time a
//! match is brought onto a court, and one for each word of the desk
//! ([`crate::house`]). After a restart everything is as it was.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use rallytide_bus::{Bus, BusError, Opened, Timestamp, TopicName};
use rallytide_chart::{Admission, Chart, Entry, EntryId, Header, Refusal, RefusalCode, Seq};
use rallytide_plugin_host::{Fault, PluginSet};
use serde_json::{Map, Value};

use crate::changes::Changes;
use crate::charted::run_over;
use crate::faults::FaultBook;
use crate::house::{By, House, Word};
use crate::live::{CourtName, LiveCourt};

mod desk;
mod matches;

pub use desk::CannotDo;
pub use matches::{KnownMatch, MatchState};

/// The log of what is on where; no match may have this id.
const HOUSE: &str = "_house";
const HOUSE_HEAD: &str = r#"{"kind":"house","version":1}"#;

/// How many courts a host opens; a link with a slip in it must not fill the
/// memory. Courts with a match from an earlier run are not counted.
const COURTS_LIMIT: usize = 200;

/// All courts of a host.
pub struct Courts {
    bus: Arc<dyn Bus>,
    plugin_set: Mutex<Arc<PluginSet>>,
    house: TopicName,
    faults: Arc<FaultBook>,
    /// Held while a match is brought on: several clients may bring the same one
    /// at the same moment.
    bringing: Mutex<()>,
    /// What the house log says. Changed only under `bringing`.
    said: Mutex<House>,
    /// The matches that are on no court, as far as somebody has asked.
    aside: Mutex<BTreeMap<String, matches::Aside>>,
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
    /// If the house log cannot be made or read.
    pub fn open(bus: Arc<dyn Bus>, plugin_set: Arc<PluginSet>) -> Result<Self, CourtsError> {
        let house = house_topic();
        let known = bus.topics()?.contains(&house);
        let opened = if known {
            Some(bus.open(&house)?)
        } else {
            bus.create(&house, HOUSE_HEAD)?;
            None
        };
        let said = opened.as_ref().map(read_house).unwrap_or_default();
        let on_courts = said.on.clone();
        let faults = FaultBook::read(Arc::clone(&bus), house.clone(), opened.as_ref());
        let courts = Self {
            bus,
            plugin_set: Mutex::new(plugin_set),
            house,
            faults: Arc::new(faults),
            bringing: Mutex::new(()),
            said: Mutex::new(said),
            aside: Mutex::new(BTreeMap::new()),
            changes: Changes::default(),
            by_name: Mutex::new(BTreeMap::new()),
        };
        for (name, match_id) in on_courts {
            let court = courts.new_court(name.clone());
            if let Err(error) = courts.bring_back(&court, &match_id) {
                tracing::error!(court = %name, id = match_id, "could not bring back the match: {error}");
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

    /// Comes true whenever something that is shown has changed on any court.
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
        self.changes.tell();
        Ok(court)
    }

    /// Brings a match onto a court. Saying so again does nothing; a match that
    /// was charted before comes back with its entries. A match that is still
    /// being played gives way only if `replace` says so, and so does one that
    /// has just been set up (`may_come_back`). Blocks for the disk.
    ///
    /// # Errors
    /// `id_conflict` where the id is taken by a match with another header,
    /// `court_busy` where another match is being played, `not_stored`.
    pub fn bring_on(
        &self,
        court: &LiveCourt,
        header: Header,
        replace: Replace,
    ) -> Result<(), Refusal> {
        let _one_at_a_time = self.one_at_a_time();
        let on = court.with_original(|original, charted| {
            let same = *original == header
                || charted.chart().header().as_ref() == &header
                || self.house().knows(&header);
            (charted.chart().header().id == header.id, same)
        });
        match on {
            Some((true, true)) => return Ok(()),
            Some((true, false)) => return Err(id_conflict(&header)),
            _ => {}
        }
        let taken_off = (self.house().said(header.id.as_str())).is_some_and(|said| said.taken_off);
        if taken_off && replace == Replace::OnlyFinished {
            return Err(Refusal::new(
                RefusalCode::OtherMatch,
                format!(
                    "the desk has taken match `{}` off its court; ask the desk to put it on \
                     again, or say `\"replace\":true`",
                    header.id
                ),
            ));
        }
        self.may_give_way(court, replace)?;
        self.may_come_back(court, &header, replace)?;
        self.put_on(court, header, By::Charter)
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
        let declared_over = self.house().said(&id).is_some_and(|said| said.over);
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

    /// Whether a charter may bring a match onto a court that has one without
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
        let over = self.house().said(&id).is_some_and(|said| said.over);
        if over || replace == Replace::Any {
            return Ok(());
        }
        let by_desk = self.house().by_desk.get(court.name()) == Some(&id);
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

    fn put_on(&self, court: &LiveCourt, header: Header, by: By) -> Result<(), Refusal> {
        let id = header.id.to_string();
        let topic = topic_of(&id)?;
        if self.has_log(&topic)? {
            self.put_back(court, &topic, &header)?;
        } else {
            if self.house().header(&id).is_some_and(|plan| *plan != header) {
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
            court.begin(topic, header);
        }
        self.aside().remove(&id);
        self.say(Word::OnCourt {
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
    fn put_back(
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
        if logged.chart.header().as_ref() != header && !self.house().knows(header) {
            return Err(id_conflict(header));
        }
        court.resume(topic.clone(), logged, self.words_of(topic.as_str()));
        Ok(())
    }

    fn read(&self, topic: &TopicName) -> Result<Logged, Refusal> {
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
    fn words_of(&self, id: &str) -> Option<Header> {
        self.house().header(id).cloned()
    }

    /// Writes a word into the house log; it counts when it is durable.
    fn say(&self, word: Word) -> Result<(), Refusal> {
        self.bus
            .append(&self.house, &word.to_json().to_string())
            .and_then(|appended| appended.ticket.wait())
            .map_err(|error| not_stored(&error))?;
        self.house().take(word);
        self.changes.tell();
        Ok(())
    }

    fn one_at_a_time(&self) -> MutexGuard<'_, ()> {
        self.bringing.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn house(&self) -> MutexGuard<'_, House> {
        // A word is taken in one step that cannot fail.
        self.said.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn aside(&self) -> MutexGuard<'_, BTreeMap<String, matches::Aside>> {
        self.aside.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn bring_back(&self, court: &LiveCourt, match_id: &str) -> Result<(), String> {
        let topic = TopicName::new(match_id).map_err(|error| error.to_string())?;
        let opened = self.bus.open(&topic).map_err(|error| error.to_string())?;
        let logged = read_log(&topic, &opened).map_err(|error| error.to_string())?;
        court.resume(topic, logged, self.words_of(match_id));
        if self.house().paused.contains(court.name()) {
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

fn house_topic() -> TopicName {
    TopicName::new(HOUSE).expect("the name keeps the rule for topics")
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

/// Reads the house log. Records about other things, like the plugins' faults,
/// are left to those who know them.
fn read_house(opened: &Opened) -> House {
    let mut house = House::default();
    for record in &opened.records {
        match Word::from_text(&record.text) {
            Some(word) => house.take(word),
            None => tracing::debug!(text = record.text, "a record of the house log is no word"),
        }
    }
    house
}

/// The log of a match; refused where no match may have that id.
fn topic_of(id: &str) -> Result<TopicName, Refusal> {
    match TopicName::new(id) {
        Ok(topic) if id != HOUSE => Ok(topic),
        _ => Err(Refusal::new(
            RefusalCode::BadField,
            format!("match header: field `id` must not be `{id}`; choose another"),
        )),
    }
}

/// A match as its log holds it.
pub(crate) struct Logged {
    pub(crate) chart: Chart,
    /// Who recorded which entry.
    pub(crate) recorders: Vec<(EntryId, Arc<str>)>,
    /// When the last entry was received.
    pub(crate) received: Option<Timestamp>,
}

/// Reads a match from its log. Records that do not fit are reported and left
/// out; the rest keeps its positions.
fn read_log(topic: &TopicName, opened: &Opened) -> Result<Logged, Refusal> {
    for damage in &opened.damage {
        tracing::warn!(%topic, "the log is damaged: {damage}");
    }
    let mut chart = Chart::new(Header::from_text(&opened.head)?);
    let mut recorders = Vec::new();
    for stored in &opened.records {
        let taken = read_record(&stored.text, &chart);
        match taken {
            Ok((entry, client)) => {
                if let Some(client) = client {
                    recorders.push((entry.id.clone(), client));
                }
                chart.push_at(Seq(stored.seq), entry);
            }
            Err(refusal) => {
                tracing::warn!(%topic, seq = stored.seq, "a stored entry was left out: {refusal}");
            }
        }
    }
    Ok(Logged {
        chart,
        recorders,
        received: opened.records.last().map(|stored| stored.received),
    })
}

fn read_record(text: &str, chart: &Chart) -> Result<(Entry, Option<Arc<str>>), Refusal> {
    let source: Map<String, Value> = serde_json::from_str(text).map_err(|error| {
        Refusal::new(
            RefusalCode::Malformed,
            format!("not a JSON object: {error}"),
        )
    })?;
    let client = source.get("client").and_then(Value::as_str).map(Arc::from);
    let entry = Entry::from_json(source, &chart.header().format)?;
    match chart.admit(&entry)? {
        Admission::New => Ok((entry, client)),
        Admission::Repeat(seq) => Err(Refusal::new(
            RefusalCode::IdConflict,
            format!("entry `{}` stands at {seq} already", entry.id),
        )),
    }
}
