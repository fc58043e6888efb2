//! The table of readings: a line for each at the end of the chart.

use rallytide_chart::Team;
use rallytide_match_record::MatchRecord;
use rallytide_readings::{KnownIndicator, Reading, Value};

use super::cell::{fraction, list, maybe, team, text, yes_no};
use crate::charting::Charted;
use crate::interval::wilson;
use crate::words::{player_name, seconds, team_name};

pub(super) const COLUMNS: &[(&str, &str)] = &[
    ("match", "the match's id"),
    ("indicator", "the indicator's name"),
    (
        "label",
        "what it is called for people; empty where it has no such name",
    ),
    ("team", "the team it is about: `a` or `b`; empty: the match"),
    ("team_name", "that team's name"),
    (
        "player",
        "the player it is about, `0` or `1`; empty: the team",
    ),
    ("player_name", "that player's name"),
    ("slot", "a further distinction within the indicator"),
    (
        "type",
        "the type of the value: `lean` `count` `share` `chance` `duration` `text` `flag`",
    ),
    (
        "value",
        "the number: a count, a share or chance from 0 to 1, a lean's strength, seconds; 1 and 0 for yes and no",
    ),
    ("part", "of a share: how many"),
    ("whole", "of a share: of how many (the sample)"),
    (
        "range_low",
        "of a share: lower end of its 95 % range (Wilson score interval)",
    ),
    ("range_high", "of a share: upper end of that range"),
    ("toward", "of a lean: the team it leans to"),
    ("text", "of a text: its words"),
    (
        "flags",
        "what else is said of it, separated by blanks; `not_charted`: what it counts was not charted, and it has no value",
    ),
    ("plugin", "the plugin that computed it"),
];

pub(super) fn rows(record: &MatchRecord) -> Vec<Vec<String>> {
    let charted = Charted::of(record);
    let readings = record.readings.iter();
    readings
        .map(|reading| row(record, charted, reading))
        .collect()
}

fn row(record: &MatchRecord, charted: Charted, reading: &Reading) -> Vec<String> {
    let header = &record.header;
    let key = &reading.key;
    let slot = key.slot.as_deref();
    let name = key
        .team
        .zip(key.player)
        .and_then(|(team, player)| player_name(header, team, player));
    let mut cells = vec![
        header.id.to_string(),
        text(&key.indicator),
        crate::label(&key.indicator, slot)
            .unwrap_or_default()
            .into(),
        team(key.team),
        text(
            &key.team
                .map_or_else(String::new, |one| team_name(header, one)),
        ),
        maybe(key.player),
        text(&name.unwrap_or_default()),
        text(slot.unwrap_or_default()),
        reading.value.form().into(),
    ];
    let is_charted =
        KnownIndicator::from_name(&key.indicator).is_none_or(|known| charted.holds(known, slot));
    let flags = reading.flags.iter().map(String::as_str);
    let not_charted = (!is_charted).then_some("not_charted");
    cells.extend(if is_charted {
        value(&reading.value)
    } else {
        Default::default()
    });
    cells.extend([text(&list(flags.chain(not_charted))), text(&reading.plugin)]);
    cells
}

/// The columns from `value` to `text`.
fn value(value: &Value) -> [String; 7] {
    let mut cells: [String; 7] = Default::default();
    match value {
        Value::Lean { toward, strength } => {
            cells[0] = fraction(*strength);
            cells[5] = toward.map_or("nobody", Team::word).into();
        }
        Value::Count { n } => cells[0] = n.to_string(),
        Value::Share { part, whole } => {
            cells[1] = part.to_string();
            cells[2] = whole.to_string();
            if *whole > 0 {
                let (low, high) = wilson(*part, *whole);
                cells[0] = fraction(f64::from(*part) / f64::from(*whole));
                cells[3] = fraction(low);
                cells[4] = fraction(high);
            }
        }
        Value::Chance { p } => cells[0] = fraction(*p),
        Value::Duration { ms } => cells[0] = seconds(i64::from(*ms)),
        Value::Text { text: words } => cells[6] = text(words),
        Value::Flag { on } => cells[0] = yes_no(*on),
    }
    cells
}
