//! Captions: the call, who holds the initiative and why, how the rally ended.
//!
//! What is to be said is collected as announcements, each from a moment on; the
//! next one ends the one before it.

use rallytide_chart::Play;
use rallytide_match_record::{
    MatchRecord, RecordItem, RecordedEnd, RecordedIncident, RecordedRally,
};
use rallytide_scoring::{Score, what_happened};

use super::cue::Cue;
use crate::words::{call_words, end_words, one_line, server_name, team_name, why_in_few_words};

/// How long a result or an event stays if nothing follows, in milliseconds.
const STAYS: i64 = 4_000;
/// How long before its end the call of a rally without shots is shown.
const CALL_BEFORE_END: i64 = 5_000;
/// How long the state of a rally stays that the chart leaves unended.
const UNENDED_STAYS: i64 = 8_000;

/// Something said from a moment on.
struct ShownText {
    id: String,
    from: i64,
    /// It goes at this moment, or when the next one comes.
    until: i64,
    lines: Vec<String>,
}

pub(super) fn cues(record: &MatchRecord) -> Vec<Cue> {
    let mut said: Vec<ShownText> = Vec::new();
    for (place, part) in record.items.iter().enumerate() {
        match part {
            RecordItem::Rally(rally) => {
                let earliest = said.last().map_or(0, |last| last.from);
                said.extend(rally_said(record, rally, earliest));
            }
            RecordItem::RecordedIncident(incident) => {
                said.extend(incident_said(record, incident, place));
            }
        }
    }
    let until_next = |place: usize, one: &ShownText| {
        let next = said.get(place + 1).map_or(i64::MAX, |next| next.from);
        one.until.min(next)
    };
    said.iter()
        .enumerate()
        .map(|(place, one)| (one, until_next(place, one)))
        .filter(|(one, until)| *until > one.from)
        .map(|(one, until)| Cue::caption(one.id.clone(), one.from, until, &one.lines))
        .collect()
}

/// What is said of a rally; `earliest`: nothing may be said before that.
fn rally_said(record: &MatchRecord, rally: &RecordedRally, earliest: i64) -> Vec<ShownText> {
    let number = rally.number;
    let began = record.since_start(rally.began);
    let ended = rally.end.as_ref().map(|end| record.since_start(end.time));
    let from = match (rally.shots.is_empty(), ended) {
        (true, Some(ended)) => (ended - CALL_BEFORE_END)
            .max(earliest.saturating_add(STAYS))
            .min(ended),
        _ => began,
    };
    let mut said = vec![ShownText {
        id: format!("rally-{number}"),
        from,
        until: i64::MAX,
        lines: vec![opening(record, &rally.before)],
    }];
    let mut holder = None;
    for state in &rally.initiative {
        if state.toward == holder {
            continue;
        }
        holder = state.toward;
        let words = match holder {
            None => "neutral".to_owned(),
            Some(team) => {
                let name = team_name(&record.header, team);
                match why_in_few_words(team, &state.why, &rally.shots).as_str() {
                    "" => format!("{name} on offense"),
                    why => format!("{name} on offense: {why}"),
                }
            }
        };
        said.push(ShownText {
            id: format!("rally-{number}-{}", said.len()),
            from: record.since_start(state.time),
            until: i64::MAX,
            lines: vec![call_words(&rally.before), words],
        });
    }
    match (&rally.end, ended) {
        (Some(end), Some(ended)) => said.push(ShownText {
            id: format!("rally-{number}-end"),
            from: ended,
            until: ended + STAYS,
            lines: result(record, rally, end),
        }),
        _ => {
            if let Some(last) = said.last_mut() {
                last.until = last.from + UNENDED_STAYS;
            }
        }
    }
    said
}

/// "3–5–1, Jonas Lind serves".
fn opening(record: &MatchRecord, score: &Score) -> String {
    let server = server_name(&record.header, score);
    format!("{}, {server} serves", call_words(score))
}

/// How the rally ended, and what it did to the score.
fn result(record: &MatchRecord, rally: &RecordedRally, end: &RecordedEnd) -> Vec<String> {
    let header = &record.header;
    let first = capital(&end_words(header, end));
    let after = &rally.after;
    let second = if let Some(winner) = after.winner {
        format!("{} win the match", team_name(header, winner))
    } else if let (true, Some(game)) = (
        after.finished.len() > rally.before.finished.len(),
        after.finished.last(),
    ) {
        format!("Game over, {}–{}", game.a.max(game.b), game.a.min(game.b))
    } else {
        match crate::words::consequence(rally) {
            Some(what) => format!("{}: {}", capital(what), call_words(after)),
            None => String::new(),
        }
    };
    vec![first, second]
}

/// A time-out, a foul, the referee's word; nothing that falls into a rally,
/// where the captions belong to the play, and no note.
fn incident_said(
    record: &MatchRecord,
    incident: &RecordedIncident,
    place: usize,
) -> Option<ShownText> {
    if incident.rally.is_some() || matches!(*incident.play, Play::Note { .. }) {
        return None;
    }
    let what = what_happened(
        &record.header,
        &incident.before,
        &incident.play,
        &incident.after,
    );
    let from = record.since_start(incident.time);
    Some(ShownText {
        id: format!("event-{}", place + 1),
        from,
        until: from + STAYS,
        lines: vec![capital(&one_line(&what)), call_words(&incident.after)],
    })
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => String::new(),
    }
}
