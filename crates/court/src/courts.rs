//! All courts of a host, and which match is on which.
//!
//! What is on where is itself a log, the house log: one record each time a
//! match is brought onto a court. After a restart everything is as it was.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use rallytide_bus::{Bus, BusError, Opened, TopicName};
use rallytide_chart::{Admission, Chart, Entry, EntryId, Header, Refusal, RefusalCode, Seq};
use rallytide_plugin_host::{Ensemble, Fault};
use serde_json::{Map, Value, json};

use crate::charted::walk_readings;
use crate::faults::FaultBook;
use crate::live::{CourtName, LiveCourt};

/// The log of what is on where; no match may have this id.
const HOUSE: &str = "_house";
const HOUSE_HEAD: &str = r#"{"kind":"house","version":1}"#;

/// How many courts a host opens; a link with a slip in it must not fill the
/// memory. Courts with a match from an earlier run are not counted.
const COURTS_LIMIT: usize = 200;

/// All courts of a host.
pub struct Courts {
    bus: Arc<dyn Bus>,
    ensemble: Mutex<Arc<Ensemble>>,
    house: TopicName,
    faults: Arc<FaultBook>,
    /// Held while a match is brought on: several clients may bring the same one
    /// at the same moment.
    bringing: Mutex<()>,
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
    pub fn open(bus: Arc<dyn Bus>, ensemble: Arc<Ensemble>) -> Result<Self, CourtsError> {
        let house = house_topic();
        let known = bus.topics()?.contains(&house);
        let opened = if known {
            Some(bus.open(&house)?)
        } else {
            bus.create(&house, HOUSE_HEAD)?;
            None
        };
        let on_courts = opened.as_ref().map(on_courts).unwrap_or_default();
        let faults = FaultBook::read(Arc::clone(&bus), house.clone(), opened.as_ref());
        let courts = Self {
            bus,
            ensemble: Mutex::new(ensemble),
            house,
            faults: Arc::new(faults),
            bringing: Mutex::new(()),
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

    /// The plugins that run.
    #[must_use]
    pub fn ensemble(&self) -> Arc<Ensemble> {
        let ensemble = self.ensemble.lock();
        Arc::clone(&ensemble.unwrap_or_else(PoisonError::into_inner))
    }

    /// Runs every match that is on under other plugins, without anybody seeing
    /// it, and gives the faults they had.
    #[must_use]
    pub fn try_plugins(&self, ensemble: &Ensemble) -> Vec<Fault> {
        let charts = self
            .all()
            .into_iter()
            .filter_map(|court| court.with_match(|charted| charted.chart().clone()));
        charts
            .flat_map(|chart| walk_readings(&chart, ensemble, |_, _| {}).faults().to_vec())
            .collect()
    }

    /// Forgets the faults of a plugin, so that it runs again wherever it was
    /// switched off for them; that happens with the next change of plugins.
    pub fn forget_faults(&self, plugin: &str) {
        self.faults.forget(plugin);
    }

    /// Goes on with other plugins on every court.
    pub fn change_plugins(&self, ensemble: &Arc<Ensemble>) {
        {
            let mut own = self.ensemble.lock().unwrap_or_else(PoisonError::into_inner);
            *own = Arc::clone(ensemble);
        }
        for court in self.all() {
            court.change_plugins(ensemble);
        }
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
        Ok(court)
    }

    /// Brings a match onto a court. Saying so again does nothing; a match that
    /// was charted before comes back with its entries. A match that is still
    /// being played gives way only if `replace` says so. Blocks for the disk.
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
        let _one_at_a_time = self.bringing.lock().unwrap_or_else(PoisonError::into_inner);
        let on = court.with_match(|charted| {
            let same = charted.chart().header().as_ref() == &header;
            let id = charted.chart().header().id.clone();
            let running = charted.chart().last_seq().0 > 0 && !charted.score().is_over();
            (same, id, running)
        });
        if let Some((same, id, running)) = on {
            if same {
                return Ok(());
            }
            if id == header.id {
                return Err(id_conflict(&header));
            }
            if running && replace == Replace::OnlyFinished {
                return Err(Refusal::new(
                    RefusalCode::CourtBusy,
                    format!(
                        "match `{id}` is being played on court `{}`; finish it first, or say \
                         `\"replace\":true` to take it off",
                        court.name()
                    ),
                ));
            }
        }
        self.put_on(court, header)
    }

    fn put_on(&self, court: &LiveCourt, header: Header) -> Result<(), Refusal> {
        let id = header.id.to_string();
        let topic = match TopicName::new(&*id) {
            Ok(topic) if id != HOUSE => topic,
            _ => {
                return Err(Refusal::new(
                    RefusalCode::BadField,
                    format!("match header: field `id` must not be `{id}`; choose another"),
                ));
            }
        };
        let known = self
            .bus
            .topics()
            .map_err(|error| not_stored(&error))?
            .contains(&topic);
        if known {
            self.put_back(court, &topic, &header)?;
        } else {
            let head = Value::Object(header.to_json().clone()).to_string();
            self.bus
                .create(&topic, &head)
                .map_err(|error| not_stored(&error))?;
            court.begin(topic, header);
        }
        let record = json!({"kind": "on_court", "court": court.name().as_str(), "match": id});
        self.bus
            .append(&self.house, &record.to_string())
            .and_then(|appended| appended.ticket.wait())
            .map_err(|error| not_stored(&error))
    }

    /// Puts a match on whose log exists already.
    fn put_back(
        &self,
        court: &LiveCourt,
        topic: &TopicName,
        header: &Header,
    ) -> Result<(), Refusal> {
        let elsewhere = self.all().into_iter().find(|other| {
            other.name() != court.name()
                && other.match_on().is_some_and(|(id, _)| id == topic.as_str())
        });
        if let Some(other) = elsewhere {
            return Err(Refusal::new(
                RefusalCode::CourtBusy,
                format!("match `{topic}` is on court `{}`", other.name()),
            ));
        }
        let opened = self.bus.open(topic).map_err(|error| not_stored(&error))?;
        let (chart, recorders) = read_log(topic, &opened).map_err(|refusal| {
            Refusal::new(
                refusal.code,
                format!("the log of match `{topic}` is damaged: {refusal}"),
            )
        })?;
        if chart.header().as_ref() != header {
            return Err(id_conflict(header));
        }
        court.resume(topic.clone(), chart, recorders);
        Ok(())
    }

    fn bring_back(&self, court: &LiveCourt, match_id: &str) -> Result<(), String> {
        let topic = TopicName::new(match_id).map_err(|error| error.to_string())?;
        let opened = self.bus.open(&topic).map_err(|error| error.to_string())?;
        let (chart, recorders) = read_log(&topic, &opened).map_err(|error| error.to_string())?;
        court.resume(topic, chart, recorders);
        Ok(())
    }

    fn new_court(&self, name: CourtName) -> LiveCourt {
        let faults = Arc::clone(&self.faults);
        LiveCourt::new(name, Arc::clone(&self.bus), faults, self.ensemble())
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
    /// Only a match that is over, or has no entries yet, gives way.
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

/// What the house log says is on each court: the last word counts.
fn on_courts(house: &Opened) -> BTreeMap<CourtName, String> {
    let mut on = BTreeMap::new();
    for record in &house.records {
        let Ok(Value::Object(record)) = serde_json::from_str(&record.text) else {
            tracing::warn!(text = record.text, "a record of the house log is no object");
            continue;
        };
        let text = |name: &str| record.get(name).and_then(Value::as_str);
        let court = text("court").and_then(CourtName::new);
        if let (Some(court), Some(match_id)) = (court, text("match")) {
            on.insert(court, match_id.to_owned());
        }
    }
    on
}

type Recorders = Vec<(EntryId, Arc<str>)>;

/// Reads a match from its log. Records that do not fit are reported and left
/// out; the rest keeps its positions.
fn read_log(topic: &TopicName, opened: &Opened) -> Result<(Chart, Recorders), Refusal> {
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
    Ok((chart, recorders))
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
