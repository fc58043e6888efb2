//! One rally: its heading, its ribbon, its shots in words.

use maud::{Markup, html};
use rallytide_chart::Team;
use rallytide_match_record::{MatchRecord, RecordedRally, RecordedShot};

use super::{ribbon, shapes};
use crate::words::{
    call_words, clock_words, consequence, counted, end_words, reasons_against, server_name,
    shot_words, striker, team_name,
};

/// A link to a rally, for the list at the top of a game.
pub(super) fn link(rally: &RecordedRally) -> Markup {
    html! { a href={ "#rally-" (rally.number) } { (rally.number) } }
}

pub(super) fn article(record: &MatchRecord, rally: &RecordedRally) -> Markup {
    let header = &record.header;
    let number = rally.number;
    let winner = rally.end.as_ref().and_then(|end| end.shown.won_by);
    html! {
        article.rally id={ "rally-" (number) } {
            h3 {
                span.number { "Rally " (number) }
                " " span.call { (call_words(&rally.before)) }
                " " span.serve { bdi { (server_name(header, &rally.before)) } " serves" }
                " " span.clock { (clock_words(record.since_start(rally.began))) }
            }
            p.end {
                @if let Some(team) = winner { (shapes::inline(team)) " " }
                (end(record, rally))
            }
            @if !rally.shots.is_empty() {
                (ribbon::rows(record, rally))
                details {
                    summary { (counted(rally.shots.len(), "shot")) " in words" }
                    ol.shots {
                        @for shot in &rally.shots { (shot_line(record, rally, shot)) }
                    }
                }
            }
        }
    }
}

/// "won by Okafor / Lind, ball out by Petra Marek; side out, 3–5–1".
pub(super) fn end(record: &MatchRecord, rally: &RecordedRally) -> String {
    let Some(end) = &rally.end else {
        return "The chart ends in this rally.".into();
    };
    let words = end_words(&record.header, end);
    let mut words = match words.chars().next() {
        Some(first) => first.to_uppercase().collect::<String>() + &words[first.len_utf8()..],
        None => words,
    };
    if let Some(what) = consequence(rally) {
        words = format!("{words}; {what}");
    }
    match call_words(&rally.after).as_str() {
        "" => words + ".",
        _ if !rally.counted => words + ".",
        call => format!("{words}, now {call}."),
    }
}

fn shot_line(record: &MatchRecord, rally: &RecordedRally, shot: &RecordedShot) -> Markup {
    let header = &record.header;
    let shown = &shot.shown;
    html! {
        li value=(shown.n) {
            (shapes::inline(shown.team)) " "
            span.what { bdi { (striker(header, shot)) } ": " (shot_words(shown)) "." }
            @if !rally.initiative.is_empty() && !shown.assumed {
                " " span.state { (state(record, rally, shot)) }
            }
        }
    }
}

/// "Marek / Sato on offense. Against Okafor / Lind: high ball".
fn state(record: &MatchRecord, rally: &RecordedRally, shot: &RecordedShot) -> String {
    let header = &record.header;
    let shown = &shot.shown;
    let flag = |word: &str| shown.flags.iter().any(|flag| flag == word);
    let mut words = match shown.toward {
        Some(team) => format!("{} on offense", team_name(header, team)),
        None => "Neutral".into(),
    };
    if flag("contested") {
        words.push_str(", both pressed");
    }
    if flag("carried") && shown.toward.is_some() {
        words.push_str(", unchanged until the next shot");
    }
    for team in Team::ALL {
        let against = reasons_against(*team, &shown.why, &rally.shots);
        if !against.is_empty() {
            words = format!("{words}. Against {}: {against}", team_name(header, *team));
        }
    }
    words + "."
}
