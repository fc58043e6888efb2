//! Chapters: the rallies, one after the other.

use rallytide_match_record::{MatchRecord, RecordedRally};

use super::cue::Cue;
use crate::words::{call_words, clock_words, counted, team_name};

/// How long the last chapter goes on after the last entry, in milliseconds.
const LAST_RALLY_GOES_ON: i64 = 5_000;

pub(super) fn cues(record: &MatchRecord) -> Vec<Cue> {
    let rallies: Vec<&RecordedRally> = record.rallies().collect();
    let began = |rally: &RecordedRally| record.since_start(rally.began);
    let place = |place: usize| {
        let rally = rallies[place];
        let end = match rallies.get(place + 1) {
            Some(next) => began(next),
            None => last_moment(record, rally) + LAST_RALLY_GOES_ON,
        };
        let id = format!("rally-{}", rally.number);
        Cue::chapter(id, began(rally), end, &title(record, rally))
    };
    (0..rallies.len())
        .map(place)
        .filter(|cue| cue.end > cue.start)
        .collect()
}

fn last_moment(record: &MatchRecord, rally: &RecordedRally) -> i64 {
    let ends = rally.end.as_ref().map(|end| end.time);
    let struck = rally.shots.iter().filter_map(|shot| shot.time);
    let last = struck.chain(ends).last().unwrap_or(rally.began);
    record.since_start(last)
}

/// "Game 2, 3–5–1, to Okafor / Lind (rally 34, 12 shots, 0:12)".
fn title(record: &MatchRecord, rally: &RecordedRally) -> String {
    let winner = rally.end.as_ref().and_then(|end| end.shown.won_by);
    let to = match winner {
        Some(team) => format!("to {}", team_name(&record.header, team)),
        None => "not counted".into(),
    };
    let lasted = last_moment(record, rally) - record.since_start(rally.began);
    let size = match rally.shots.len() {
        0 => String::new(),
        shots => format!(", {}, {}", counted(shots, "shot"), clock_words(lasted)),
    };
    format!(
        "Game {}, {}, {to} (rally {}{size})",
        rally.before.game,
        call_words(&rally.before),
        rally.number,
    )
}
