//! What each player did, where players are named: every share says on how many
//! named shots it rests.

use maud::{Markup, html};
use rallytide_chart::Team;
use rallytide_match_record::MatchRecord;
use rallytide_readings::{KnownIndicator, Reading, Value};

use super::shapes;
use super::value_cell::value_cell;
use crate::charting::Charted;
use crate::indicators::{Named, OF_PLAYERS};
use crate::words::player_name;

/// A line a player; nothing where no shot and no error has a player.
pub(super) fn table(record: &MatchRecord, charted: Charted) -> Markup {
    let header = &record.header;
    let lines: Vec<_> = Team::ALL
        .iter()
        .flat_map(|team| (0..header.format.team_size()).map(move |player| (*team, player)))
        .filter_map(|(team, player)| Some((team, player_name(header, team, player)?, player)))
        .map(|(team, name, player)| {
            let values = OF_PLAYERS
                .iter()
                .map(|named| find(record, named, team, player))
                .collect::<Vec<_>>();
            (team, name, values)
        })
        .collect();
    let says_something = lines.iter().any(|(_, _, values)| {
        let mut shares = values.iter().flatten().map(|reading| &reading.value);
        shares.any(|value| matches!(value, Value::Share { whole, .. } if *whole > 0))
    });
    if !says_something || !charted.holds(KnownIndicator::PlayerShots, None) {
        return html! {};
    }
    html! {
        table.players {
            thead {
                tr {
                    th scope="col" { "Player, of the shots with a known player" }
                    @for named in OF_PLAYERS { th scope="col" { (named.label) } }
                }
            }
            tbody {
                @for (team, name, values) in &lines {
                    tr {
                        th scope="row" { (shapes::inline(*team)) " " bdi { (name) } }
                        @for value in values { td { (value_cell(*value)) } }
                    }
                }
            }
        }
    }
}

fn find<'a>(
    record: &'a MatchRecord,
    named: &Named,
    team: Team,
    player: u32,
) -> Option<&'a Reading> {
    record.readings.iter().find(|reading| {
        named.indicator.names(&reading.key)
            && reading.key.team == Some(team)
            && reading.key.player == Some(player)
    })
}
