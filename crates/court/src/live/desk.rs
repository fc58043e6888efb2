//! What the desk does with a court: removes the match, gives it another header,
//! pauses play, records the referee's decisions whoever has a seat.

use rallytide_chart::{Header, MatchId};
use serde_json::{Map, Value};

use super::{LiveCourt, Receipt};
use crate::cannot_do::CannotDo;
use crate::charted::ChartedMatch;
use crate::derived::Pause;
use crate::seat::Recorder;

/// The client that entries of the desk are recorded as.
pub const DESK: &str = "desk";

/// The match on a court, for the desk.
#[derive(Debug, Clone, PartialEq)]
pub struct OnCourt {
    /// Its header, in the words in use.
    pub header: Header,
    /// The score, as JSON.
    pub score: Value,
    /// Whether the score says that it is over.
    pub is_over: bool,
    /// Who has won, `a` or `b`.
    pub winner: Option<&'static str>,
    /// How many entries were recorded.
    pub entries: usize,
    /// The last one.
    pub last_entry: Option<LastEntry>,
    /// Whether play is paused.
    pub is_paused: bool,
}

/// The last entry of a match.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LastEntry {
    /// Its id.
    pub id: String,
    /// Its kind.
    pub kind: String,
    /// When it was recorded, by the recorder's clock.
    pub at: String,
    /// When the host received it.
    pub received: Option<String>,
}

impl LiveCourt {
    /// The match that is on, as the desk shows it.
    #[must_use]
    pub fn on_court(&self) -> Option<OnCourt> {
        let state = self.locked();
        let current = state.current.as_ref()?;
        let charted = &current.charted;
        let last = charted.chart().entries().last();
        Some(OnCourt {
            header: charted.chart().header().as_ref().clone(),
            score: serde_json::to_value(charted.score()).unwrap_or_default(),
            is_over: charted.score().is_over(),
            winner: charted.score().winner.map(rallytide_chart::Team::word),
            entries: charted.chart().entries().len(),
            last_entry: last.map(|(_, entry)| LastEntry {
                id: entry.id.to_string(),
                kind: text(entry.to_json(), "kind"),
                at: entry.at.to_string(),
                received: current.received.map(|time| format!("{time:.3}")),
            }),
            is_paused: charted.is_paused(),
        })
    }

    /// Takes in an entry of the desk: the referee's word counts whoever has a
    /// charter's seat.
    ///
    /// # Errors
    /// Why not; nothing is stored then.
    pub fn submit_by_desk(
        &self,
        match_id: &MatchId,
        source: Map<String, Value>,
    ) -> Result<Receipt, CannotDo> {
        let mut state = self.locked();
        let current = self.current(&mut state, match_id)?;
        let receipt = self.take_one(current, source, &Recorder::without_seat(DESK))?;
        self.tell_charters();
        Ok(receipt)
    }

    /// Looks at the match that is on together with the header its log begins
    /// with.
    pub(crate) fn with_original<T>(
        &self,
        look: impl FnOnce(&Header, &ChartedMatch) -> T,
    ) -> Option<T> {
        let state = self.locked();
        let current = state.current.as_ref()?;
        Some(look(&current.original, &current.charted))
    }

    /// Removes the match; viewers are shown an empty court, charters are told.
    pub(crate) fn remove_match(&self) {
        self.clear();
        self.tell_charters();
    }

    /// Removes the match without a word to the charters yet.
    pub(crate) fn clear(&self) {
        let mut state = self.locked();
        if let Some(match_id) = state.match_id() {
            tracing::info!(court = %self.name, %match_id, "a match was taken off the court");
        }
        state.current = None;
        self.charters.free_seats();
        self.hub.restart(0);
        self.changes.signal();
    }

    /// Hands the match over to another court as it is; nothing of this can fail.
    pub(crate) fn hand_over_to(&self, other: &Self) {
        let moved = self.locked().current.take();
        self.clear();
        if let Some(mut moved) = moved {
            moved.snapshot = None;
            other.start(moved);
        }
    }

    /// Gives the match that is on another header, everywhere at once: the plugins
    /// are handed the names, so the chart is run again.
    pub(crate) fn change_header(&self, header: &Header) {
        let (chart, plugin_set, off) = {
            let state = self.locked();
            let Some(current) = &state.current else {
                return;
            };
            if current.charted.chart().header().id != header.id {
                return;
            }
            let plugin_set = std::sync::Arc::clone(current.charted.plugin_set());
            let off = current.charted.switched_off().clone();
            let chart = current.charted.chart().with_header(header.clone());
            (chart, plugin_set, off)
        };
        let fresh = ChartedMatch::from_chart_without(chart, plugin_set, off);
        self.go_on_with(fresh, "words");
        self.tell_charters();
    }

    /// Pauses play, or lets it go on.
    pub(crate) fn set_paused(&self, paused: bool) {
        let (pause, reason) = if paused {
            (Pause::On, "paused")
        } else {
            (Pause::Off, "resumed")
        };
        let mut state = self.locked();
        if let Some(current) = &mut state.current {
            current.charted.set_pause(pause);
            tracing::info!(court = %self.name, "play is {reason}");
            let message = current.charted.snapshot(Some(reason));
            self.show(current, message);
        }
        drop(state);
        self.tell_charters();
    }
}

fn text(object: &Map<String, Value>, name: &str) -> String {
    let text = object.get(name).and_then(Value::as_str);
    text.unwrap_or_default().to_owned()
}
