//! The record of a match.

use std::sync::Arc;

use rallytide_chart::{At, EntryId, FaultKind, Flag, Header, PairOf, Play, Stroke, Team};
use rallytide_readings::{Reading, Reason, Unavailable};
use rallytide_scoring::Score;

use crate::shown::{ShownRallyEnd, ShownShot};
use crate::time::MatchTime;

/// A whole match.
#[derive(Debug, Clone)]
pub struct MatchRecord {
    /// Who plays, under which format.
    pub header: Arc<Header>,
    /// The score before the first entry.
    pub opening: Score,
    /// What happened, in order. What falls into a rally stands after it.
    pub items: Vec<RecordItem>,
    /// The score at the end of the chart.
    pub closing: Score,
    /// All readings at the end of the chart, sorted.
    pub readings: Vec<Reading>,
    /// Plugins whose readings are not to be had.
    pub unavailable: Vec<Unavailable>,
    /// When the first entry happened; `None` in a chart without entries.
    pub begins: Option<At>,
}

/// A part of the match.
#[derive(Debug, Clone)]
pub enum RecordItem {
    /// A rally.
    Rally(RecordedRally),
    /// Something beside the rallies.
    RecordedIncident(RecordedIncident),
}

/// A rally from its first entry to its end.
#[derive(Debug, Clone)]
pub struct RecordedRally {
    /// Counted from 1 over the match, replayed ones included.
    pub number: u32,
    /// The score as it stood when the rally began.
    pub before: Score,
    /// The score after its last entry.
    pub after: Score,
    /// Whether the score counts it: not if replayed, cut off or not ended.
    pub counted: bool,
    /// When its first entry happened.
    pub began: MatchTime,
    /// Its shots, assumed ones included.
    pub shots: Vec<RecordedShot>,
    /// Who held the initiative after each of its entries from the first shot on.
    pub initiative: Vec<RecordedInitiative>,
    /// How it ended; `None` where the chart ends in the middle of it.
    pub end: Option<RecordedEnd>,
    /// What the charter was told about its entries other than shots.
    pub flags: Vec<Flag>,
}

/// A shot.
#[derive(Debug, Clone)]
pub struct RecordedShot {
    /// Number, team, stroke, contact, cues, and who held after it.
    pub shown: ShownShot,
    /// When it happened; `None` for an assumed one.
    pub time: Option<MatchTime>,
    /// When it was recorded, as recorded; `None` for an assumed one.
    pub recorded: Option<At>,
    /// Which player struck it, where that was recorded and does not only follow
    /// from the score.
    pub recorded_player: Option<u32>,
    /// Whether the contact was recorded and not assumed from the stroke.
    pub contact_given: bool,
    /// How deep each team stood, by the latest entry about this moment.
    pub depths: PairOf<Option<RecordedDepth>>,
    /// What the charter was told about it.
    pub flags: Vec<Flag>,
}

/// How deep a team stood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RecordedDepth {
    /// `back`, `transition` or `line`.
    pub depth: String,
    /// It was inferred, not seen.
    pub inferred: bool,
}

/// Who held the initiative after an entry.
#[derive(Debug, Clone)]
pub struct RecordedInitiative {
    /// The entry.
    pub entry: EntryId,
    /// When it happened.
    pub time: MatchTime,
    /// Who held; `None`: nobody.
    pub toward: Option<Team>,
    /// How strongly, 0 to 1.
    pub strength: f64,
    /// Why.
    pub why: Vec<Reason>,
}

/// The end of a rally.
#[derive(Debug, Clone)]
pub struct RecordedEnd {
    /// Who won, how, by whom.
    pub shown: ShownRallyEnd,
    /// When.
    pub time: MatchTime,
    /// Which player of `by`, where that was recorded with the end.
    pub recorded_player: Option<u32>,
    /// Which fault, if recorded.
    pub fault: Option<FaultKind>,
    /// What the entry was; a rally can be cut off by many kinds.
    pub play: Arc<Play>,
}

/// Something beside the rallies: a time-out, a foul, the referee's word, a note.
#[derive(Debug, Clone)]
pub struct RecordedIncident {
    /// The entry.
    pub entry: EntryId,
    /// When.
    pub time: MatchTime,
    /// What happened.
    pub play: Arc<Play>,
    /// The rally it fell into, if it fell into one.
    pub rally: Option<u32>,
    /// The score before it.
    pub before: Score,
    /// The score after it.
    pub after: Score,
    /// What the charter was told about it.
    pub flags: Vec<Flag>,
}

impl MatchRecord {
    /// The rallies in order.
    pub fn rallies(&self) -> impl Iterator<Item = &RecordedRally> {
        self.items.iter().filter_map(|part| match part {
            RecordItem::Rally(rally) => Some(rally),
            RecordItem::RecordedIncident(_) => None,
        })
    }

    /// What happened beside the rallies, in order.
    pub fn incidents(&self) -> impl Iterator<Item = &RecordedIncident> {
        self.items.iter().filter_map(|part| match part {
            RecordItem::RecordedIncident(incident) => Some(incident),
            RecordItem::Rally(_) => None,
        })
    }

    /// Milliseconds from the first entry of the match.
    #[must_use]
    pub fn since_start(&self, time: MatchTime) -> i64 {
        let begins = self.begins.unwrap_or(time.at);
        time.at.milliseconds() - begins.milliseconds()
    }
}

impl RecordedIncident {
    /// The team it is about, if it is about one.
    #[must_use]
    pub fn team(&self) -> Option<Team> {
        match &*self.play {
            Play::TimeOut(time_out) => Some(time_out.team),
            Play::Lineup(lineup) => Some(lineup.team),
            Play::Penalty { team } | Play::Retire { team } => Some(*team),
            _ => None,
        }
    }

    /// The text of a note.
    #[must_use]
    pub fn text(&self) -> Option<&str> {
        match &*self.play {
            Play::Note { text } => Some(text),
            _ => None,
        }
    }
}

impl RecordedRally {
    /// Whether it was charted from its serve on, without a shot missed.
    #[must_use]
    pub fn is_charted_in_full(&self) -> bool {
        let first = self.shots.first();
        first.is_some_and(|shot| shot.shown.stroke == Some(Stroke::Serve))
            && self.shots.iter().all(|shot| !shot.shown.assumed)
    }

    /// The shots that somebody recorded.
    pub fn recorded_shots(&self) -> impl Iterator<Item = &RecordedShot> {
        self.shots.iter().filter(|shot| !shot.shown.assumed)
    }
}
