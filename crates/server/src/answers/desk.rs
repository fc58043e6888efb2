//! `GET /desk/state`: everything the desk shows, asked for each second.

use std::sync::Arc;

use rallytide_court::{Courts, MatchPhase, OnCourt, PlaceNow, Seat};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// The whole state.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct HostState {
    /// The host's clock.
    pub(crate) now: String,
    #[serde(flatten)]
    pub(crate) tagged: TaggedState,
}

/// What makes a new state; the time alone does not.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct TaggedState {
    /// The version of the program.
    pub(crate) version: &'static str,
    pub(crate) courts: Vec<CourtState>,
    /// In the order in which they were planned; those that the desk did not plan
    /// follow, by id.
    pub(crate) matches: Vec<MatchState>,
    pub(crate) text_files: TextFilesState,
}

/// A court.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct CourtState {
    pub(crate) court: String,
    pub(crate) state: CourtPhase,
    /// The id of the match that is on.
    #[serde(rename = "match")]
    pub(crate) match_id: Option<String>,
    #[cfg_attr(
        feature = "schema",
        ts(type = "Score | null"),
        schemars(with = "Option<rallytide_scoring::Score>")
    )]
    pub(crate) score: Option<Value>,
    /// How many entries were recorded.
    pub(crate) entries: usize,
    pub(crate) last_entry: Option<LastEntry>,
    pub(crate) charters: Vec<Charter>,
    pub(crate) viewers: ViewerCount,
}

/// How far the match on a court is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) enum CourtPhase {
    Empty,
    Ready,
    Playing,
    Paused,
    Finished,
}

impl CourtPhase {
    pub(crate) fn of(courts: &Courts, on: Option<&OnCourt>) -> Self {
        match on {
            None => Self::Empty,
            Some(on) if on.is_over || courts.is_declared_over(on.header.id.as_str()) => {
                Self::Finished
            }
            Some(on) if on.is_paused => Self::Paused,
            Some(on) if on.entries == 0 => Self::Ready,
            Some(_) => Self::Playing,
        }
    }
}

/// The last entry of a match.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct LastEntry {
    pub(crate) id: String,
    pub(crate) kind: String,
    /// When it was recorded, by the recorder's clock.
    pub(crate) at: String,
    /// When the host received it.
    pub(crate) received: Option<String>,
}

/// A charter's client that is connected.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct Charter {
    pub(crate) client: Arc<str>,
    pub(crate) seat: Seat,
    /// Whether it has taken its seat over.
    pub(crate) holds: bool,
    /// The address it comes from, as the host sees it.
    pub(crate) address: Option<Arc<str>>,
    /// The match it charts; `null`: whatever is on.
    #[serde(rename = "match")]
    pub(crate) match_id: Option<Arc<str>>,
    /// How late its entries come, if that is known; never of the seat `cues`.
    pub(crate) late_ms: Option<i64>,
    /// Its clock minus the host's, if that is known.
    pub(crate) clock_ms: Option<i64>,
}

/// How many look at a court.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct ViewerCount {
    pub(crate) viewer: usize,
    pub(crate) booth: usize,
}

/// A match the host knows.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct MatchState {
    pub(crate) id: String,
    #[cfg_attr(feature = "schema", ts(type = "DeskHeader"))]
    pub(crate) header: Map<String, Value>,
    pub(crate) state: MatchPhase,
    /// The court it is on, else the one it is planned for.
    pub(crate) court: Option<String>,
    /// How many entries were recorded.
    pub(crate) entries: usize,
    #[cfg_attr(
        feature = "schema",
        ts(type = "Team | null"),
        schemars(with = "Option<rallytide_chart::Team>")
    )]
    pub(crate) winner: Option<&'static str>,
    /// Where it stands, or how it ended; `null` for one that is only planned.
    #[cfg_attr(
        feature = "schema",
        ts(type = "Score | null"),
        schemars(with = "Option<rallytide_scoring::Score>")
    )]
    pub(crate) score: Option<Value>,
    /// Its places that other matches fill.
    pub(crate) places: Vec<PlaceState>,
}

/// A place of a match that another match fills.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct PlaceState {
    /// Whose place it is.
    #[cfg_attr(
        feature = "schema",
        ts(type = "Team"),
        schemars(with = "rallytide_chart::Team")
    )]
    pub(crate) team: &'static str,
    #[cfg_attr(feature = "schema", ts(type = "\"winner\" | \"loser\""))]
    pub(crate) outcome: &'static str,
    /// The id of the other match.
    pub(crate) of: String,
    /// What people call it, like `QF 2`.
    pub(crate) called: String,
    /// Who has the place by the other match; `null` while that is not decided.
    pub(crate) now: Option<PlaceTeam>,
    /// Whether this match was begun with another team than that.
    pub(crate) differs: bool,
}

/// A team by its names.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct PlaceTeam {
    pub(crate) name: String,
    /// Empty where they are not named.
    pub(crate) players: Vec<String>,
}

impl From<&PlaceNow> for PlaceState {
    fn from(now: &PlaceNow) -> Self {
        Self {
            team: now.team.word(),
            outcome: now.place.outcome.word(),
            of: now.place.of.clone(),
            called: now.place.called.clone(),
            now: now.sheet.as_ref().map(|sheet| PlaceTeam {
                name: sheet.name.clone(),
                players: sheet.players.clone(),
            }),
            differs: now.differs,
        }
    }
}

/// The text files for streaming programs.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct TextFilesState {
    /// Where they are written; `null`: nowhere.
    pub(crate) folder: Option<String>,
    /// Why they cannot be written at the moment.
    pub(crate) problem: Option<String>,
}

/// Where text files are to be written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct TextFilesChoice {
    /// `null`: nothing is written any more; the files stay as they are.
    pub(crate) folder: Option<String>,
}
