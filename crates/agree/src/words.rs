//! The report for people.

use std::fmt::Write;

use rallytide_chart::EntryId;

use crate::kappa::Kappa;
use crate::report::{Agreement, Difference, KindReport};

/// How the two charts are called.
#[derive(Debug, Clone, Copy)]
pub struct Names<'a> {
    /// The first one.
    pub a: &'a str,
    /// The second one.
    pub b: &'a str,
}

/// How many confusions of a kind are told.
const MOST_CONFUSIONS: usize = 3;

/// The report as lines of text; `most_places` of the differences are listed.
#[must_use]
pub fn in_words(agreement: &Agreement, names: Names<'_>, most_places: usize) -> String {
    let mut out = String::new();
    // Writing into a text cannot fail.
    let _ = head(&mut out, agreement, names)
        .and_then(|()| table(&mut out, agreement))
        .and_then(|()| confusions(&mut out, agreement))
        .and_then(|()| places(&mut out, agreement, most_places));
    out
}

fn head(out: &mut String, agreement: &Agreement, names: Names<'_>) -> std::fmt::Result {
    for warning in &agreement.warnings {
        writeln!(out, "warning: {warning}\n")?;
    }
    for (letter, name, size) in [("a", names.a, &agreement.a), ("b", names.b, &agreement.b)] {
        writeln!(
            out,
            "{letter}  {name}: match `{}`, charted: {}, rallies {}, shots {}",
            size.id,
            size.charted.words(),
            size.rallies,
            size.shots
        )?;
    }
    match &agreement.clocks {
        Some(clocks) => {
            let seconds = clocks.offset_ms.unsigned_abs() as f64 / 1000.0;
            let way = if clocks.offset_ms < 0 {
                "behind"
            } else {
                "ahead of"
            };
            writeln!(
                out,
                "b's clock is {seconds:.1} s {way} a's (half of the rallies within {:.1} s of that)",
                clocks.spread_ms as f64 / 1000.0
            )?;
        }
        None => writeln!(
            out,
            "the clocks cannot be compared; rallies and shots were paired without times"
        )?,
    }
    let rallies = agreement.rallies;
    writeln!(
        out,
        "\nrallies  {} in both, {} only in a, {} only in b",
        rallies.both, rallies.only_a, rallies.only_b
    )?;
    let shots = agreement.shots;
    let counts = &agreement.shot_counts;
    if counts.rallies == 0 {
        return writeln!(out, "shots    no rally has shots in both charts");
    }
    let all = 2 * shots.both + shots.only_a + shots.only_b;
    writeln!(
        out,
        "shots    {} in both, {} only in a, {} only in b ({} of the shots seen were seen by \
         both), in the {} rallies with shots in both charts",
        shots.both,
        shots.only_a,
        shots.only_b,
        percent(2 * shots.both, all),
        counts.rallies
    )?;
    writeln!(
        out,
        "         the same number of shots in {} of {} rallies ({}), at most one apart in {}",
        counts.same,
        counts.rallies,
        percent(counts.same, counts.rallies),
        counts.within_one
    )
}

/// Rounded down, so that only what is whole is 100 %.
fn percent(part: usize, whole: usize) -> String {
    match (part * 100).checked_div(whole) {
        Some(share) => format!("{share} %"),
        None => "–".into(),
    }
}

fn table(out: &mut String, agreement: &Agreement) -> std::fmt::Result {
    writeln!(
        out,
        "\n{:<30}{:>7}{:>8}{:>7}{:>8}  95 % range",
        "what", "cases", "agreed", "", "kappa"
    )?;
    for kind in &agreement.kinds {
        let share = percent(kind.agreed as usize, kind.cases as usize);
        let (kappa, range) = kappa_words(kind.kappa);
        writeln!(
            out,
            "{:<30}{:>7}{:>8}{share:>7}{kappa:>8}  {range}",
            kind.about, kind.cases, kind.agreed
        )?;
        if kind.weighted.is_some() {
            let (kappa, range) = kappa_words(kind.weighted);
            writeln!(
                out,
                "{:<52}{kappa:>8}  {range}",
                "  … one step apart counts as half agreed"
            )?;
        }
        if kind.cases > 0 {
            for note in &kind.notes {
                writeln!(out, "  {note}")?;
            }
        }
    }
    writeln!(
        out,
        "\nkappa: 1 is full agreement, 0 no more than chance. The range treats cases as \
         independent; shots of\none rally are not quite, so the true range is somewhat wider."
    )
}

fn kappa_words(kappa: Option<Kappa>) -> (String, String) {
    match kappa {
        None => ("–".into(), String::new()),
        Some(kappa) => (
            format!("{:.2}", kappa.value),
            format!("{:.2} to {:.2}", kappa.low, kappa.high),
        ),
    }
}

fn confusions(out: &mut String, agreement: &Agreement) -> std::fmt::Result {
    let told = agreement
        .kinds
        .iter()
        .filter(|kind| !kind.confusions.is_empty());
    let mut is_first = true;
    for kind in told {
        if is_first {
            writeln!(out, "\nmost often confused")?;
            is_first = false;
        }
        writeln!(out, "  {}: {}", kind.about, kind_confusions(kind))?;
    }
    Ok(())
}

fn kind_confusions(kind: &KindReport) -> String {
    let told: Vec<String> = kind
        .confusions
        .iter()
        .take(MOST_CONFUSIONS)
        .map(|one| {
            let (a, b) = (plain(one.a), plain(one.b));
            format!("a says {a} where b says {b} ({})", one.count)
        })
        .collect();
    told.join(", ")
}

/// A word of the chart for people.
fn plain(word: &str) -> String {
    match word {
        "atp" => "around the post".to_owned(),
        _ => word.replace('_', " "),
    }
}

fn places(out: &mut String, agreement: &Agreement, most: usize) -> std::fmt::Result {
    let all = agreement.differences.len();
    if all == 0 {
        return writeln!(out, "\nno differences");
    }
    let shown = all.min(most);
    if shown == 0 {
        return writeln!(out, "\n{all} differences");
    }
    writeln!(out, "\ndifferences ({shown} of {all})")?;
    for place in agreement.differences.iter().take(most) {
        writeln!(out, "  {}", place_words(place, agreement))?;
    }
    Ok(())
}

fn place_words(place: &Difference, agreement: &Agreement) -> String {
    let about = agreement
        .kinds
        .iter()
        .find(|kind| kind.kind == place.kind)
        .map_or(place.kind, |kind| kind.about);
    format!(
        "{about}: a {}, b {}",
        side_words(
            &place.a,
            place.rally_a,
            place.shot_a,
            place.entry_a.as_ref()
        ),
        side_words(
            &place.b,
            place.rally_b,
            place.shot_b,
            place.entry_b.as_ref()
        )
    )
}

/// What one chart says, and where: `dink (rally 3, shot 4, entry x)`.
fn side_words(
    said: &str,
    rally: Option<u32>,
    shot: Option<u32>,
    entry: Option<&EntryId>,
) -> String {
    let place: Vec<String> = [
        rally.map(|rally| format!("rally {rally}")),
        shot.map(|shot| format!("shot {shot}")),
        entry.map(|entry| format!("entry {}", entry.as_str())),
    ]
    .into_iter()
    .flatten()
    .collect();
    if place.is_empty() {
        plain(said)
    } else {
        format!("{} ({})", plain(said), place.join(", "))
    }
}
