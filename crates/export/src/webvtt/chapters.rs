//! Chapters: the rallies, one after the other.

use rallytide_court::{Chronicle, ToldRally};

use super::cue::Cue;
use crate::words::{call_words, clock_words, counted, team_name};

/// How long the last chapter goes on after the last entry, in milliseconds.
const LAST_RALLY_GOES_ON: i64 = 5_000;

pub(super) fn cues(chronicle: &Chronicle) -> Vec<Cue> {
    let rallies: Vec<&ToldRally> = chronicle.rallies().collect();
    let began = |rally: &ToldRally| chronicle.since_start(rally.began);
    let place = |place: usize| {
        let rally = rallies[place];
        let end = match rallies.get(place + 1) {
            Some(next) => began(next),
            None => last_moment(chronicle, rally) + LAST_RALLY_GOES_ON,
        };
        let id = format!("rally-{}", rally.number);
        Cue::chapter(id, began(rally), end, &title(chronicle, rally))
    };
    (0..rallies.len())
        .map(place)
        .filter(|cue| cue.end > cue.start)
        .collect()
}

fn last_moment(chronicle: &Chronicle, rally: &ToldRally) -> i64 {
    let ends = rally.end.as_ref().map(|end| end.clocked);
    let struck = rally.shots.iter().filter_map(|shot| shot.clocked);
    let last = struck.chain(ends).last().unwrap_or(rally.began);
    chronicle.since_start(last)
}

/// "Game 2, 3–5–1, to Okafor / Lind (rally 34, 12 shots, 0:12)".
fn title(chronicle: &Chronicle, rally: &ToldRally) -> String {
    let winner = rally.end.as_ref().and_then(|end| end.view.won_by);
    let to = match winner {
        Some(team) => format!("to {}", team_name(&chronicle.header, team)),
        None => "not counted".into(),
    };
    let lasted = last_moment(chronicle, rally) - chronicle.since_start(rally.began);
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
