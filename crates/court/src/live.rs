//! A court as the host runs it: the match on it, its log, its viewers.
//!
//! One lock holds the state. An entry is judged, given its position by the log,
//! run through score and plugins and published under that lock, so every viewer
//! sees the same order. Nothing waits for the disk meanwhile: what a charter is
//! told waits for the [`Receipt`], viewers may see an entry earlier.

use std::num::NonZeroUsize;
use std::sync::Arc;

use parking_lot::{Mutex, MutexGuard};
use rallytide_bus::{Bus, BusError, DEFAULT_RING, Hub, Subscription, Ticket, Timestamp, TopicName};
use rallytide_chart::{Chart, EntryId, Flag, Header, MatchId, Seq};
use rallytide_plugin_host::PluginSet;
use serde_json::{Map, Value};

use crate::cannot_do::CannotDo;
use crate::changes::ChangeSignal;
use crate::charted::ChartedMatch;
use crate::charters::Charters;
use crate::faults::{FaultBook, PluginOnCourt};
use crate::match_log::LoggedMatch;
use crate::messages::Encoded;
use audience::Audience;

mod audience;
mod desk;
mod name;
mod notice;
mod submission;
mod viewer;

pub use audience::Viewers;
pub use desk::{DESK, LastEntry, OnCourt};
pub use name::CourtName;
pub use notice::{Notice, NoticeCode};
pub use viewer::{Viewer, ViewerStart, empty_court};

/// A court.
pub struct LiveCourt {
    name: CourtName,
    bus: Arc<dyn Bus>,
    faults: Arc<FaultBook>,
    state: Mutex<CourtState>,
    hub: Hub<Encoded>,
    notices: Hub<Notice>,
    charters: Charters,
    audience: Arc<Audience>,
    changes: ChangeSignal,
}

/// How many notices are kept for charters' clients that are slow to hear them;
/// one that misses some is told nothing worse than the next.
const NOTICES: NonZeroUsize = NonZeroUsize::new(16).expect("16 is not zero");

struct CourtState {
    /// The plugins that matches are begun with.
    plugin_set: Arc<PluginSet>,
    current: Option<CurrentMatch>,
}

impl CourtState {
    fn match_id(&self) -> Option<MatchId> {
        let current = self.current.as_ref()?;
        Some(current.charted.chart().header().id.clone())
    }
}

/// The match that is on.
struct CurrentMatch {
    topic: TopicName,
    /// The header that the log begins with; the chart may be under another one
    /// with other names.
    original: Header,
    /// When the last entry was received.
    received: Option<Timestamp>,
    charted: ChartedMatch,
    /// The snapshot of this moment, if somebody has asked for it.
    snapshot: Option<Encoded>,
}

/// What a charter's client is told when it says hello.
#[derive(Debug, Clone, PartialEq)]
pub struct Welcome {
    /// The court.
    pub court: CourtName,
    /// The header of the match on it, if there is one.
    pub header: Option<Map<String, Value>>,
    /// The position of the last entry, 0 without one.
    pub last_seq: u64,
    /// The score, as JSON.
    pub score: Option<Value>,
    /// What this client has sent before, after the position it asked for.
    pub ids: Vec<EntryId>,
}

/// An entry that was taken in, or had been before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Accepted {
    /// Which.
    pub id: EntryId,
    /// Its position.
    pub seq: Seq,
    /// What the charter should be told.
    pub flags: Vec<Flag>,
}

/// An accepted entry with the promise that it will be durable. The charter may
/// be told only when [`Receipt::durable`] has returned.
#[derive(Debug)]
pub struct Receipt {
    /// What the charter will be told.
    pub accepted: Accepted,
    ticket: Ticket,
}

impl Receipt {
    /// Waits until the entry is durable.
    ///
    /// # Errors
    /// The log failed: the entry may be lost, the charter has to keep it.
    pub async fn durable(self) -> Result<Accepted, BusError> {
        self.ticket.durable().await?;
        Ok(self.accepted)
    }
}

impl LiveCourt {
    /// A court without a match.
    pub(crate) fn new(
        name: CourtName,
        bus: Arc<dyn Bus>,
        faults: Arc<FaultBook>,
        plugin_set: Arc<PluginSet>,
        changes: ChangeSignal,
    ) -> Self {
        Self {
            name,
            bus,
            faults,
            state: Mutex::new(CourtState {
                plugin_set,
                current: None,
            }),
            hub: Hub::new(0, DEFAULT_RING),
            notices: Hub::new(0, NOTICES),
            charters: Charters::default(),
            audience: Arc::default(),
            changes,
        }
    }

    /// The court's name.
    #[must_use]
    pub fn name(&self) -> &CourtName {
        &self.name
    }

    /// Id and title of the match that is on.
    #[must_use]
    pub fn match_on(&self) -> Option<(String, String)> {
        self.locked().current.as_ref().map(|current| {
            let header = current.charted.chart().header();
            (header.id.to_string(), header.title.clone())
        })
    }

    /// Who charts here.
    #[must_use]
    pub fn charters(&self) -> &Charters {
        &self.charters
    }

    /// How many look at the court, by role.
    #[must_use]
    pub fn viewers(&self) -> Viewers {
        self.audience.count()
    }

    /// Answers a charter's client.
    #[must_use]
    pub fn welcome(&self, client: &str, after: Seq) -> Welcome {
        let state = self.locked();
        let charted = state.current.as_ref().map(|current| &current.charted);
        Welcome {
            court: self.name.clone(),
            header: charted.map(|charted| charted.chart().header().to_json().clone()),
            last_seq: charted.map_or(0, |charted| charted.chart().last_seq().0),
            score: charted.and_then(|charted| serde_json::to_value(charted.score()).ok()),
            ids: charted.map_or_else(Vec::new, |charted| charted.recorded_by(client, after)),
        }
    }

    /// The id of the match that is on.
    #[must_use]
    pub fn match_id(&self) -> Option<MatchId> {
        self.locked().match_id()
    }

    /// Tells the charters of this court that the desk has changed it.
    pub(crate) fn tell_charters(&self) {
        self.notify(Notice::court_changed(None));
    }

    /// Tells the charters of this court something.
    pub fn notify(&self, notice: Notice) {
        self.notices.publish(0, notice);
    }

    /// What the charters of this court are told from now on.
    #[must_use]
    pub fn notices(&self) -> Subscription<Notice> {
        match self.notices.subscribe(None) {
            rallytide_bus::Subscribed::Resumed(notices)
            | rallytide_bus::Subscribed::Behind(notices) => notices,
        }
    }

    /// The match that is on, if it is the one that is meant.
    fn current<'a>(
        &self,
        state: &'a mut CourtState,
        match_id: &MatchId,
    ) -> Result<&'a mut CurrentMatch, CannotDo> {
        let court = || self.name.clone();
        let Some(current) = state.current.as_mut() else {
            return Err(CannotDo::NoMatch { court: court() });
        };
        let on = &current.charted.chart().header().id;
        if on != match_id {
            return Err(CannotDo::OtherMatch {
                court: court(),
                on: on.clone(),
                meant: match_id.clone(),
            });
        }
        Ok(current)
    }

    /// Looks at the match that is on; `None` if there is none.
    pub fn with_match<T>(&self, look: impl FnOnce(&ChartedMatch) -> T) -> Option<T> {
        self.locked()
            .current
            .as_ref()
            .map(|current| look(&current.charted))
    }

    /// How each plugin is on the match that is on; empty without one.
    #[must_use]
    pub fn plugins(&self) -> Vec<PluginOnCourt> {
        let seen = self.with_match(|charted| {
            let id = &charted.chart().header().id;
            let health = charted.run().health().into_iter();
            health.map(|health| self.faults.seen(id, health)).collect()
        });
        seen.unwrap_or_default()
    }

    /// Starts a match whose log has just been made.
    pub(crate) fn start_new(&self, topic: TopicName, header: Header) {
        let charted = self.charted(Chart::new(header.clone()));
        self.start(CurrentMatch {
            topic,
            original: header,
            received: None,
            charted,
            snapshot: None,
        });
    }

    /// Starts a match that was charted before, under `header` if it was given
    /// another one since.
    pub(crate) fn start_logged(
        &self,
        topic: TopicName,
        logged: LoggedMatch,
        header: Option<Header>,
    ) {
        let original = logged.chart.header().as_ref().clone();
        let chart = match header {
            Some(header) => logged.chart.with_header(header),
            None => logged.chart,
        };
        let mut charted = self.charted(chart);
        for (id, by) in logged.recorders {
            charted.note_recorder(&id, Some(by));
        }
        self.start(CurrentMatch {
            topic,
            original,
            received: logged.received,
            charted,
            snapshot: None,
        });
    }

    /// Goes on with other plugins. The match is run under them beside the live
    /// one; viewers then get one snapshot, and no entry is lost or delayed by
    /// more than what was recorded meanwhile.
    pub(crate) fn change_plugins(&self, plugin_set: &Arc<PluginSet>) {
        let chart = {
            let mut state = self.locked();
            state.plugin_set = Arc::clone(plugin_set);
            let current = state.current.as_ref();
            current.map(|current| current.charted.chart().clone())
        };
        let Some(chart) = chart else { return };
        let off = self.faults.off(&chart.header().id, plugin_set);
        let fresh = ChartedMatch::from_chart_without(chart, Arc::clone(plugin_set), off);
        self.go_on_with(fresh, "plugins");
    }

    /// Puts `fresh`, the same match run another way, in the place of the one
    /// that is on.
    fn go_on_with(&self, fresh: ChartedMatch, reason: &'static str) {
        let mut state = self.locked();
        let Some(current) = &mut state.current else {
            return;
        };
        if current.charted.chart().header().id != fresh.chart().header().id {
            // Another match was started meanwhile.
            return;
        }
        current.charted = current.charted.run_as(fresh);
        self.faults.judge(&mut current.charted);
        let message = current.charted.changed(reason);
        self.show(current, message);
    }

    /// Shows viewers the whole state of the match that is on.
    fn show(&self, current: &mut CurrentMatch, message: Encoded) {
        current.snapshot = None;
        let seq = current.charted.chart().last_seq().0;
        self.hub.publish(seq, message);
        self.changes.signal();
    }

    /// A chart with everything derived, without the plugins that were at fault
    /// in its match too often.
    fn charted(&self, chart: Chart) -> ChartedMatch {
        let plugin_set = Arc::clone(&self.locked().plugin_set);
        let off = self.faults.off(&chart.header().id, &plugin_set);
        let mut charted = ChartedMatch::from_chart_without(chart, plugin_set, off);
        self.faults.judge(&mut charted);
        charted
    }

    /// Viewers find that what they were reading has ended, and are shown the
    /// match that is on now.
    fn start(&self, match_on: CurrentMatch) {
        let mut state = self.locked();
        self.charters.free_seats();
        let chart = match_on.charted.chart();
        let (seq, entries) = (chart.last_seq().0, chart.entries().len());
        let match_id = &chart.header().id;
        tracing::info!(court = %self.name, %match_id, entries, "a match is on the court");
        state.current = Some(match_on);
        self.hub.restart(seq);
        self.changes.signal();
    }

    fn locked(&self) -> MutexGuard<'_, CourtState> {
        // A panic while the lock was held left the state of a moment before or
        // after an entry, never between: the chart is changed in one step and
        // everything derived is replaced as a whole.
        self.state.lock()
    }
}
