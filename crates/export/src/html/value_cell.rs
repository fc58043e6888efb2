//! One value as a cell of a table: shares with their sample and range.

use maud::{Markup, html};
use rallytide_readings::{Reading, Value};

use crate::interval::wilson;

/// Below this many cases a share is said as "2 of 3", never as a percentage.
const LEAST_FOR_PERCENT: u32 = 8;

pub(super) fn value_cell(reading: Option<&Reading>) -> Markup {
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
