//! A match as the review page gets it: one JSON document, rally by rally, with
//! the defense spells of each, and what happened beside the rallies.
//!
//! A pure function of the [`MatchRecord`]. Spells are read off its initiative by the
//! rules the indicators count by; nothing is judged here.

use rallytide_chart::{EntryId, FaultKind, Team};
use rallytide_match_record::{
    MatchRecord, RecordItem, RecordedIncident, RecordedInitiative, RecordedRally, RecordedShot,
    ShownRallyEnd, ShownShot,
};
use rallytide_readings::Unavailable;
use rallytide_scoring::{Score, what_happened};
use serde::Serialize;
use serde_json::{Map, Value};

/// A match, for whoever goes through it afterwards.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct Review<'a> {
    /// The match header.
    #[serde(rename = "match")]
    #[cfg_attr(feature = "ts", ts(type = "MatchHeader"))]
    pub header: &'a Map<String, Value>,
    /// The score at the end of the chart.
    pub score: &'a Score,
    /// Its rallies in order.
    pub rallies: Vec<ReviewRally<'a>>,
    /// What happened beside them, in order: time-outs, notes, fouls, the
    /// referee's word on the score, starting servers, a team that retired.
    #[serde(rename = "asides")]
    pub incidents: Vec<ReviewIncident<'a>>,
    /// Plugins whose readings are not to be had, and why.
    pub unavailable: &'a [Unavailable],
}

/// A rally from its first entry to its end.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct ReviewRally<'a> {
    /// Counted from 1 over the match, replayed ones included.
    pub number: u32,
    /// The score as it stood when the rally began.
    pub before: &'a Score,
    /// The score after its last entry.
    pub after: &'a Score,
    /// Whether the score counts it: not if replayed, cut off or not ended.
    pub counted: bool,
    /// When its first entry happened, in milliseconds since 1970.
    pub at: i64,
    /// Its shots, assumed ones included.
    pub shots: Vec<ReviewShot<'a>>,
    /// How it ended; `None` where the chart ends in the middle of it.
    pub end: Option<&'a ShownRallyEnd>,
    /// Which fault ended it, if recorded.
    pub fault: Option<&'static str>,
    /// The defense spells that count, in order.
    pub spells: Vec<Spell>,
}

/// A shot with its time.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct ReviewShot<'a> {
    /// Number, team, player, stroke, contact, cues, and who held after it.
    #[serde(flatten)]
    pub shown: &'a ShownShot,
    /// When it happened, in milliseconds since 1970; `None` for an assumed one.
    pub at: Option<i64>,
}

/// Something beside the rallies.
#[derive(Debug, Serialize)]
#[cfg_attr(
    feature = "ts",
    derive(ts_rs::TS, schemars::JsonSchema),
    ts(rename = "ReviewAside")
)]
pub struct ReviewIncident<'a> {
    /// The rally it stands behind, by number; 0: before the first.
    pub after: u32,
    /// The rally it fell into, which is `after` then; `None`: between two.
    pub rally: Option<u32>,
    /// The entry that recorded it.
    pub entry: &'a EntryId,
    /// When it happened, in milliseconds since 1970.
    pub at: i64,
    /// The kind of entry, in the chart's words.
    pub kind: &'static str,
    /// The team it is about, if it is about one.
    pub team: Option<Team>,
    /// What happened, in words; empty for a note.
    pub what: String,
    /// The text of a note.
    pub text: Option<&'a str>,
    /// The score after it.
    pub score: &'a Score,
}

/// A time on defense that has ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct Spell {
    /// The team that was on defense.
    pub team: Team,
    /// Whether something other than its depth spoke against it.
    pub pressed: bool,
    /// How it ended.
    pub outcome: Outcome,
}

/// How a time on defense ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub enum Outcome {
    /// Nobody held any more.
    Recovered,
    /// It went straight to offense.
    Turned,
    /// The team won the rally first.
    Won,
    /// The team lost the rally first.
    Lost,
}

impl<'a> Review<'a> {
    /// The document of a match.
    #[must_use]
    pub fn new(record: &'a MatchRecord) -> Self {
        Self {
            header: record.header.to_json(),
            score: &record.closing,
            rallies: record.rallies().map(review_rally).collect(),
            incidents: incidents(record),
            unavailable: &record.unavailable,
        }
    }
}

fn review_rally(rally: &RecordedRally) -> ReviewRally<'_> {
    let end = rally.end.as_ref();
    ReviewRally {
        number: rally.number,
        before: &rally.before,
        after: &rally.after,
        counted: rally.counted,
        at: rally.began.at.milliseconds(),
        shots: rally.shots.iter().map(shot).collect(),
        end: end.map(|end| &end.shown),
        fault: end.and_then(|end| end.fault).map(FaultKind::word),
        spells: spells(rally),
    }
}

fn incidents(record: &MatchRecord) -> Vec<ReviewIncident<'_>> {
    let mut after = 0;
    let mut incidents = Vec::new();
    for part in &record.items {
        match part {
            RecordItem::Rally(rally) => after = rally.number,
            RecordItem::RecordedIncident(incident) => {
                incidents.push(review_incident(record, incident, after));
            }
        }
    }
    incidents
}

fn review_incident<'a>(
    record: &'a MatchRecord,
    incident: &'a RecordedIncident,
    after: u32,
) -> ReviewIncident<'a> {
    ReviewIncident {
        after,
        rally: incident.rally,
        entry: &incident.entry,
        at: incident.time.at.milliseconds(),
        kind: incident.play.kind().word(),
        team: incident.team(),
        what: what_happened(
            &record.header,
            &incident.before,
            &incident.play,
            &incident.after,
        ),
        text: incident.text(),
        score: &incident.after,
    }
}

fn shot(shot: &RecordedShot) -> ReviewShot<'_> {
    ReviewShot {
        shown: &shot.shown,
        at: shot.time.map(|time| time.at.milliseconds()),
    }
}

/// The defense spells of a rally. Replayed, it counts none; cut off or not
/// ended, the one still open is left out.
fn spells(rally: &RecordedRally) -> Vec<Spell> {
    let end = rally.end.as_ref();
    if end.is_some_and(|end| end.shown.how == Some("replay")) {
        return Vec::new();
    }
    let mut spells = Vec::new();
    let mut open: Option<(Team, bool)> = None;
    for state in &rally.initiative {
        let defender = state.toward.map(Team::other);
        if let Some((team, pressed)) = open
            && defender != Some(team)
        {
            let outcome = match defender {
                None => Outcome::Recovered,
                Some(_) => Outcome::Turned,
            };
            spells.push(Spell {
                team,
                pressed,
                outcome,
            });
            open = None;
        }
        if let Some(team) = defender {
            let before = open.is_some_and(|(_, pressed)| pressed);
            open = Some((team, before || is_pressed(state, team)));
        }
    }
    let winner = end.and_then(|end| end.shown.won_by);
    if let (Some((team, pressed)), Some(winner)) = (open, winner) {
        let outcome = if winner == team {
            Outcome::Won
        } else {
            Outcome::Lost
        };
        spells.push(Spell {
            team,
            pressed,
            outcome,
        });
    }
    spells
}

/// Whether anything but its depth speaks against `team`.
fn is_pressed(state: &RecordedInitiative, team: Team) -> bool {
    state
        .why
        .iter()
        .any(|reason| reason.team == Some(team) && reason.code != "depth")
}
