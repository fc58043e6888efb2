//! The table of events: a line for whatever happened beside the rallies.

use rallytide_court::{Aside, Chronicle};
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

pub(super) fn rows(chronicle: &Chronicle) -> Vec<Vec<String>> {
    let asides = chronicle.asides();
    asides.map(|aside| row(chronicle, aside)).collect()
}

fn row(chronicle: &Chronicle, aside: &Aside) -> Vec<String> {
    let header = &chronicle.header;
    let about = aside.team();
    let what = what_happened(header, &aside.before, &aside.play, &aside.after);
    vec![
        header.id.to_string(),
        aside.before.game.to_string(),
        maybe(aside.rally),
        aside.before.rallies.to_string(),
        text(aside.entry.as_str()),
        seconds(chronicle.since_start(aside.clocked)),
        time_source(aside.clocked).into(),
        aside.play.kind().to_string(),
        team(about),
        text(&about.map_or_else(String::new, |team| team_name(header, team))),
        text(&what),
        text(aside.text().unwrap_or_default()),
        aside.after.points.a.to_string(),
        aside.after.points.b.to_string(),
        call(&aside.after),
        list(aside.flags.iter().map(|flag| flag.word())),
    ]
}
