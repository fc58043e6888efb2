//! Both teams' numbers side by side, each with its sample.

use maud::{Markup, html};
use rallytide_chart::Team;
use rallytide_court::Chronicle;
use rallytide_plugin_host::{Reading, Value};

use super::shapes;
use crate::indicators::{Named, OF_MATCH, OF_TEAMS};
use crate::interval::wilson;
use crate::words::team_name;

/// Below this many cases a share is said as "2 of 3", never as a percentage.
const LEAST_FOR_PERCENT: u32 = 8;

pub(super) fn section(chronicle: &Chronicle) -> Markup {
    let is_over = chronicle.closing.is_over();
    let wanted = |named: &&Named| !(named.momentary && is_over);
    let has_cases = |named: &Named| {
        let both = Team::ALL.iter();
        both.filter_map(|team| find(chronicle, named, Some(*team)))
            .any(says_something)
    };
    // A row that leans on the first one says nothing without it.
    let group_has_cases = OF_TEAMS.first().is_some_and(has_cases);
    let of_teams: Vec<_> = OF_TEAMS
        .iter()
        .filter(wanted)
        .filter(|named| has_cases(named) && (group_has_cases || !named.leans_on_above()))
        .map(|named| {
            (
                named,
                Team::ALL
                    .iter()
                    .map(|team| find(chronicle, named, Some(*team))),
            )
        })
        .map(|(named, values)| (named, values.collect::<Vec<_>>()))
        .collect();
    let of_match: Vec<_> = OF_MATCH
        .iter()
        .filter(wanted)
        .filter_map(|named| Some((named, find(chronicle, named, None)?)))
        .filter(|(_, reading)| says_something(reading))
        .collect();
    html! {
        section.numbers aria-labelledby="numbers" {
            h2 id="numbers" { "Both teams' numbers" }
            @if of_teams.is_empty() && of_match.is_empty() {
                p { "No numbers: the chart holds too little, or the plugins that make them were not there." }
            }
            @if !of_teams.is_empty() {
                table {
                    thead {
                        tr {
                            th scope="col" { "Number" }
                            @for team in Team::ALL {
                                th scope="col" {
                                    (shapes::inline(*team)) " " bdi { (team_name(&chronicle.header, *team)) }
                                }
                            }
                        }
                    }
                    tbody {
                        @for (named, values) in &of_teams {
                            tr {
                                th scope="row" { (named.label) }
                                @for value in values { td { (value_cell(*value)) } }
                            }
                        }
                    }
                }
            }
            @if !of_match.is_empty() {
                dl.match-numbers {
                    @for (named, reading) in &of_match {
                        div { dt { (named.label) } dd { (value_cell(Some(reading))) } }
                    }
                }
            }
            @for missing in &chronicle.unavailable {
                p.missing { "Not available: " (missing.plugin) " (" (missing.message) ")" }
            }
        }
    }
}

/// Whether there was anything to count: not in a chart without shots.
fn says_something(reading: &Reading) -> bool {
    match reading.value {
        Value::Share { whole, .. } => whole > 0,
        Value::Count { n } => n > 0,
        _ => true,
    }
}

fn find<'a>(chronicle: &'a Chronicle, named: &Named, team: Option<Team>) -> Option<&'a Reading> {
    chronicle.readings.iter().find(|reading| {
        reading.indicator() == named.indicator
            && reading.key.team == team
            && reading.key.player.is_none()
            && reading.key.slot.as_deref() == named.slot
    })
}

fn value_cell(reading: Option<&Reading>) -> Markup {
    let Some(reading) = reading else {
        return html! { span.missing { "not available" } };
    };
    match &reading.value {
        Value::Share { part, whole } => share(*part, *whole),
        Value::Count { n } => html! { (n) },
        Value::Chance { p } => html! { (percent(*p)) },
        Value::Duration { ms } => html! { (format!("{:.1} s", f64::from(*ms) / 1000.0)) },
        Value::Text { text } => html! { (text) },
        Value::Flag { on } => html! { @if *on { "yes" } @else { "no" } },
        Value::Lean { strength, .. } => html! { (percent(*strength)) },
    }
}

fn share(part: u32, whole: u32) -> Markup {
    if whole == 0 {
        return html! { span.missing { "none" } };
    }
    if whole < LEAST_FOR_PERCENT {
        return html! { (part) " of " (whole) };
    }
    let (low, high) = wilson(part, whole);
    html! {
        (part) " of " (whole) " (" (percent(f64::from(part) / f64::from(whole))) ")"
        span.range { (percent(low).replace('%', "")) " to " (percent(high)) }
    }
}

/// Never rounded to "none" or "all" when it is neither.
fn percent(share: f64) -> String {
    if share > 0.0 && share < 0.005 {
        "under 1%".into()
    } else if (0.995..1.0).contains(&share) {
        "over 99%".into()
    } else {
        format!("{:.0}%", share * 100.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_percentage_never_says_none_or_all_when_it_is_neither() {
        for (share, expected) in [
            (0.0, "0%"),
            (0.001, "under 1%"),
            (0.5, "50%"),
            (0.999, "over 99%"),
            (1.0, "100%"),
        ] {
            assert_eq!(percent(share), expected);
        }
    }
}
