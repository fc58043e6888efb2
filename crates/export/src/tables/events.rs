//! The table of events: a line for whatever happened beside the rallies.

use rallytide_match_record::{MatchRecord, RecordedIncident};
use rallytide_scoring::what_happened;

use super::cell::{call, list, maybe, team, text};
use crate::words::{seconds, team_name, time_source};

pub(super) const COLUMNS: &[(&str, &str)] = &[
    ("match", "the match's id"),
    ("game", "the game it fell into, from 1"),
    ("rally", "the rally it fell into; empty between two rallies"),
    ("rallies_before", "how many rallies the score had counted"),
    ("entry", "the id of the entry"),
    ("match_seconds", "seconds from the first entry of the match"),
    (
        "time",
        "`recorded`, or `estimated` for an entry put in later",
    ),
    ("kind", "the kind of entry, in the chart's words"),
    ("team", "the team it is about: `a` or `b`"),
    ("team_name", "that team's name"),
    ("what", "what happened, in words"),
    ("text", "the text of a note"),
    ("points_a", "team a's points after it"),
    ("points_b", "team b's points after it"),
    ("call_after", "the call after it, after the word `call`"),
    ("flags", "what the charter was told, separated by blanks"),
];

pub(super) fn rows(record: &MatchRecord) -> Vec<Vec<String>> {
    let incidents = record.incidents();
    incidents.map(|incident| row(record, incident)).collect()
}

fn row(record: &MatchRecord, incident: &RecordedIncident) -> Vec<String> {
    let header = &record.header;
    let about = incident.team();
    let what = what_happened(header, &incident.before, &incident.play, &incident.after);
    vec![
        header.id.to_string(),
        incident.before.game.to_string(),
        maybe(incident.rally),
        incident.before.rallies.to_string(),
        text(incident.entry.as_str()),
        seconds(record.since_start(incident.time)),
        time_source(incident.time).into(),
        incident.play.kind().to_string(),
        team(about),
        text(&about.map_or_else(String::new, |team| team_name(header, team))),
        text(&what),
        text(incident.text().unwrap_or_default()),
        incident.after.points.a.to_string(),
        incident.after.points.b.to_string(),
        call(&incident.after),
        list(incident.flags.iter().map(|flag| flag.word())),
    ]
}
