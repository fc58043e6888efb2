//! `GET /event.json`: the event as everybody may see it. Named field by field, so
//! that nothing a header holds besides goes out by itself.

use rallytide_chart::{Header, TeamSheet};
use rallytide_court::{KnownMatch, MatchPhase};
use serde::Serialize;
use serde_json::Value;

use super::desk::CourtPhase;

/// Courts, schedule and results.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct EventDay {
    /// By name.
    pub(crate) courts: Vec<EventCourt>,
    /// In the order in which they were planned; those that the desk did not plan
    /// follow, by id.
    pub(crate) matches: Vec<EventMatch>,
}

/// A court.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct EventCourt {
    pub(crate) court: String,
    pub(crate) state: CourtPhase,
    /// The id of the match that is on.
    #[serde(rename = "match")]
    pub(crate) match_id: Option<String>,
    /// The id of the first match that is planned for it.
    pub(crate) next: Option<String>,
}

/// A match.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct EventMatch {
    pub(crate) id: String,
    /// For people; may be empty, as the next two.
    pub(crate) title: String,
    pub(crate) round: String,
    pub(crate) time: String,
    pub(crate) state: MatchPhase,
    /// The court it is on, else the one it is planned for.
    pub(crate) court: Option<String>,
    pub(crate) teams: EventTeams,
    pub(crate) format: EventFormat,
    /// Where it stands, or how it ended; `null` for one that is only planned.
    #[cfg_attr(
        feature = "schema",
        ts(type = "Score | null"),
        schemars(with = "Option<rallytide_scoring::Score>")
    )]
    pub(crate) score: Option<Value>,
}

/// How long a match is.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct EventFormat {
    /// Points that win a game.
    pub(crate) points: u32,
    /// The match is the best of so many games.
    pub(crate) games: u32,
}

/// Who plays.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct EventTeams {
    pub(crate) a: EventTeam,
    pub(crate) b: EventTeam,
}

/// A team by its names.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct EventTeam {
    pub(crate) name: String,
    /// Empty where they are not named.
    pub(crate) players: Vec<String>,
}

impl From<&KnownMatch> for EventMatch {
    fn from(one: &KnownMatch) -> Self {
        let header = &one.header;
        let planned = Some(&header.court).filter(|court| !court.is_empty());
        let on = one.court.as_ref().map(ToString::to_string);
        Self {
            id: header.id.to_string(),
            title: header.title.clone(),
            round: text(header, "round"),
            time: text(header, "time"),
            state: one.state,
            court: on.or_else(|| planned.cloned()),
            teams: EventTeams {
                a: (&header.teams.a).into(),
                b: (&header.teams.b).into(),
            },
            format: EventFormat {
                points: header.format.points,
                games: header.format.games,
            },
            score: one.score.clone(),
        }
    }
}

impl From<&TeamSheet> for EventTeam {
    fn from(sheet: &TeamSheet) -> Self {
        Self {
            name: sheet.name.clone(),
            players: sheet.players.clone(),
        }
    }
}

/// What the desk adds to a header for people; a chart may hold anything there.
fn text(header: &Header, field: &str) -> String {
    let value = header.to_json().get(field).and_then(Value::as_str);
    value.unwrap_or_default().to_owned()
}
