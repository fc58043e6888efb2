//! Both teams' statistics side by side, each with its sample.

use maud::{Markup, html};
use rallytide_chart::Team;
use rallytide_match_record::{ChartingDepth, MatchRecord};
use rallytide_readings::{KnownIndicator, Reading, Value};

use super::value_cell::value_cell;
use super::{players, shapes};
use crate::charting::Charted;
use crate::indicators::{Named, OF_MATCH, OF_TEAMS};
use crate::words::team_name;

pub(super) fn section(record: &MatchRecord) -> Markup {
    let charted = Charted::of(record);
    let of_teams = rows_of_teams(record, charted);
    let of_match: Vec<_> = OF_MATCH
        .iter()
        .filter(|named| is_wanted(record, charted, named))
        .filter_map(|named| Some((named, find(record, named, None)?)))
        .filter(|(_, reading)| says_something(reading))
        .collect();
    html! {
        section.numbers aria-labelledby="numbers" {
            h2 id="numbers" { "Team statistics" }
            @for words in not_charted(charted) { p.missing { (words) } }
            @if of_teams.is_empty() && of_match.is_empty() {
                p { "No statistics: too little was charted, or the plugins that count were not running." }
            }
            @for team in Team::ALL {
                @if let Some(words) = under_pressure(record, charted, *team) {
                    p.lead { (shapes::inline(*team)) " " bdi { (team_name(&record.header, *team)) } ": " (words) }
                }
            }
            @if !of_teams.is_empty() {
                table {
                    thead {
                        tr {
                            th scope="col" { "Statistic" }
                            @for team in Team::ALL {
                                th scope="col" {
                                    (shapes::inline(*team)) " " bdi { (team_name(&record.header, *team)) }
                                }
                            }
                        }
                    }
                    tbody {
                        @for (label, values) in &of_teams {
                            tr {
                                th scope="row" { (label) }
                                @for value in values { td { (value_cell(*value)) } }
                            }
                        }
                    }
                }
            }
            (players::table(record, charted))
            @if !of_match.is_empty() {
                dl.match-numbers {
                    @for (named, reading) in &of_match {
                        div { dt { (named.label) } dd { (value_cell(Some(reading))) } }
                    }
                }
            }
            @for missing in &record.unavailable {
                p.missing { "Not available: " (missing.plugin) " (" (missing.message) ")" }
            }
        }
    }
}

/// The rows that have something to say: label, and a value for each team.
fn rows_of_teams(
    record: &MatchRecord,
    charted: Charted,
) -> Vec<(&'static str, Vec<Option<&Reading>>)> {
    let mut rows = Vec::new();
    let mut above_is_there = false;
    for named in OF_TEAMS {
        let values: Vec<_> = Team::ALL
            .iter()
            .map(|team| find(record, named, Some(*team)))
            .collect();
        let is_there = is_wanted(record, charted, named)
            && values.iter().flatten().any(|one| says_something(one));
        let leans = named.leans_on_above();
        if !leans {
            above_is_there = is_there;
        }
        if is_there {
            let label = if leans && !above_is_there {
                named.alone_label()
            } else {
                named.label
            };
            rows.push((label, values));
        }
    }
    rows
}

fn is_wanted(record: &MatchRecord, charted: Charted, named: &Named) -> bool {
    !(named.momentary && record.closing.is_over()) && charted.holds(named.indicator, named.slot)
}

/// What cannot be counted, because it was not charted.
fn not_charted(charted: Charted) -> Vec<&'static str> {
    match charted.depth {
        ChartingDepth::Score => vec!["Charted: score only. No shot statistics."],
        depth => {
            let mut said = Vec::new();
            if depth == ChartingDepth::Ends {
                said.push("Not every shot was charted: shot statistics count only what was.");
            }
            if !charted.ends {
                said.push("How rallies ended was not charted: unforced errors are not counted.");
            }
            if !charted.high_balls {
                said.push("No high ball was marked: they are not counted.");
            }
            said
        }
    }
}

/// "Rallies won under pressure 26 of 58, otherwise 32 of 41".
fn under_pressure(record: &MatchRecord, charted: Charted, team: Team) -> Option<String> {
    let share = |indicator: KnownIndicator| {
        let named = OF_TEAMS.iter().find(|named| named.indicator == indicator)?;
        match find(record, named, Some(team))?.value {
            Value::Share { part, whole } if charted.holds(indicator, None) => Some((part, whole)),
            _ => None,
        }
    };
    let (pressed, otherwise) = (
        share(KnownIndicator::PressedWon)?,
        share(KnownIndicator::UnpressedWon)?,
    );
    (pressed.1 > 0).then(|| {
        format!(
            "Rallies won under pressure {} of {}, otherwise {} of {}",
            pressed.0, pressed.1, otherwise.0, otherwise.1
        )
    })
}

/// Whether there was anything to count: not in a chart without shots.
fn says_something(reading: &Reading) -> bool {
    match reading.value {
        Value::Share { whole, .. } => whole > 0,
        Value::Count { n } => n > 0,
        _ => true,
    }
}

fn find<'a>(record: &'a MatchRecord, named: &Named, team: Option<Team>) -> Option<&'a Reading> {
    record.readings.iter().find(|reading| {
        named.indicator.names(&reading.key)
            && reading.key.team == team
            && reading.key.player.is_none()
            && reading.key.slot.as_deref() == named.slot
    })
}
