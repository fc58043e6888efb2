//! What is counted of single players, by hand.

use rallytide_plugin_kit::testing::{Trial, header};
use rallytide_plugin_kit::{Discipline, Key, Share, Team, Value, about};
use rallytide_pressure::Pressure;

use crate::charted::{Charted, OF_PLAYERS};

fn key(indicator: &'static str, team: Team, player: u32) -> Key {
    about(indicator, team).player(player)
}

/// Compares one team's two players, as `1 of 2`.
#[track_caller]
fn check(charted: &Charted, indicator: &'static str, team: Team, expected: [&str; 2]) {
    for (player, expected) in [0, 1].into_iter().zip(expected) {
        let Some(Value::Share(Share { part, whole })) =
            charted.pressure.value(&key(indicator, team, player))
        else {
            panic!("no share `{indicator}` of {team:?} {player}");
        };
        let found = format!("{part} of {whole}");
        assert_eq!(found, expected, "{indicator} of {team:?} {player}");
    }
}

#[test]
fn all_four_players_are_there_from_the_start_and_none_in_singles() {
    let charted = Charted::start();
    for indicator in OF_PLAYERS {
        for team in Team::BOTH {
            check(&charted, indicator, team, ["0 of 0", "0 of 0"]);
        }
    }
    let singles = rallytide_plugin_kit::MatchHeader {
        discipline: Discipline::Singles,
        ..header()
    };
    let trial = Trial::<Pressure>::start_on(singles, Vec::new(), Vec::new()).unwrap();
    let of_players = trial
        .readings()
        .into_iter()
        .filter(|r| r.key.player.is_some());
    assert_eq!(of_players.count(), 0);
}

#[test]
fn shots_count_from_the_third_on_where_the_player_is_known() {
    let charted = Charted::read(
        "a0 serve | b1 return | a0 drop | b dink | a1 dink | b1 dink | a1 dink | b wins",
    );
    check(&charted, "player.shots", Team::A, ["1 of 3", "2 of 3"]);
    check(&charted, "player.shots", Team::B, ["0 of 1", "1 of 1"]);
}

#[test]
fn a_shot_is_under_pressure_if_the_team_was_on_defense_right_before_it() {
    // The drop is struck on defense by depth; the block answers an attack.
    let charted = Charted::read(
        "a serve | b return | a0 drop | b0 dink | a0 dink | b1 volley | a1 block | b wins",
    );
    check(&charted, "player.pressed", Team::A, ["1 of 2", "1 of 1"]);
    check(&charted, "player.pressed", Team::B, ["0 of 1", "0 of 1"]);
}

#[test]
fn an_error_is_counted_for_the_player_who_is_known_to_have_made_it() {
    let charted = Charted::read(
        "a0 net | a1 out | a fault | b1 winner | a wins | a serve | b return | a1 drop | a1 net",
    );
    check(&charted, "player.errors", Team::A, ["1 of 3", "2 of 3"]);
    check(&charted, "player.errors", Team::B, ["0 of 0", "0 of 0"]);
}

#[test]
fn a_replayed_rally_leaves_nothing() {
    let charted = Charted::read("a0 serve | b1 return | a1 drop | replay | a wins");
    check(&charted, "player.shots", Team::A, ["0 of 0", "0 of 0"]);
}
