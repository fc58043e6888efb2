//! One value a text file, for streaming programs that show a file's text: what
//! each of them says of a match. Empty where there is nothing to say. Pure.

use rallytide_chart::{Header, Team};
use rallytide_court::{ChartedMatch, KnownMatch};
use serde_json::Value;

use crate::score_text::one_line;

/// Every value by the name of its file, without the ending. The same names whether
/// there is a match or not, so that a file never shows what is over.
pub(crate) fn values(
    on: Option<&ChartedMatch>,
    next: Option<&KnownMatch>,
) -> Vec<(&'static str, String)> {
    let mut values = of_header(on.map(|on| on.chart().header().as_ref()));
    values.extend(of_play(on));
    values.extend(of_next(next.map(|next| &next.header)));
    for (_, value) in &mut values {
        *value = one_line(value);
    }
    values
}

fn of_header(header: Option<&Header>) -> Vec<(&'static str, String)> {
    let say = |told: &dyn Fn(&Header) -> String| header.map(told).unwrap_or_default();
    let player = |team: Team, player: u32| {
        say(&|header| header.player_name(team, player).unwrap_or("").to_owned())
    };
    vec![
        ("title", say(&|header| header.title.clone())),
        ("round", say(&|header| word(header, "round"))),
        ("time", say(&|header| word(header, "time"))),
        ("team-a", say(&|header| header.teams.a.name.clone())),
        ("team-b", say(&|header| header.teams.b.name.clone())),
        ("team-a-player-1", player(Team::A, 0)),
        ("team-a-player-2", player(Team::A, 1)),
        ("team-b-player-1", player(Team::B, 0)),
        ("team-b-player-2", player(Team::B, 1)),
    ]
}

fn of_play(on: Option<&ChartedMatch>) -> Vec<(&'static str, String)> {
    let say = |told: &dyn Fn(&ChartedMatch) -> String| on.map(told).unwrap_or_default();
    // After the match nobody serves and nobody is on offense.
    let live = |told: &dyn Fn(&ChartedMatch) -> String| {
        on.filter(|on| !on.score().is_over())
            .map(told)
            .unwrap_or_default()
    };
    let name = |on: &ChartedMatch, team: Option<Team>| {
        let teams = &on.chart().header().teams;
        team.map(|team| teams.of(team).name.clone())
            .unwrap_or_default()
    };
    let player = |on: &ChartedMatch, team: Team, player: u32| {
        let named = on.chart().header().player_name(team, player);
        named.unwrap_or("").to_owned()
    };
    vec![
        ("points-a", say(&|on| on.score().points.a.to_string())),
        ("points-b", say(&|on| on.score().points.b.to_string())),
        ("games-a", say(&|on| on.score().games.a.to_string())),
        ("games-b", say(&|on| on.score().games.b.to_string())),
        ("game", say(&|on| on.score().game.to_string())),
        ("finished-games", say(&finished_games)),
        ("call", live(&|on| on.score().call_or_final())),
        (
            "serving-team",
            live(&|on| name(on, Some(on.score().serving))),
        ),
        (
            "server",
            live(&|on| player(on, on.score().serving, on.score().server_player)),
        ),
        (
            "server-number",
            live(&|on| {
                on.score()
                    .server
                    .map(|server| server.to_string())
                    .unwrap_or_default()
            }),
        ),
        (
            "service-court",
            live(&|on| on.score().court.word().to_owned()),
        ),
        (
            "receiver",
            live(&|on| player(on, on.score().receiving(), on.score().receiver_player)),
        ),
        (
            "time-outs-left-a",
            live(&|on| on.score().time_outs_left.a.to_string()),
        ),
        (
            "time-outs-left-b",
            live(&|on| on.score().time_outs_left.b.to_string()),
        ),
        ("game-point", live(&|on| name(on, on.score().game_point))),
        ("match-point", live(&|on| name(on, on.score().match_point))),
        ("winner", say(&|on| name(on, on.score().winner))),
        (
            "on-offense",
            live(&|on| {
                let holder = on.holder().flatten().filter(|_| !on.is_paused());
                name(on, holder)
            }),
        ),
        (
            "paused",
            live(&|on| {
                if on.is_paused() {
                    "Play is paused".into()
                } else {
                    String::new()
                }
            }),
        ),
    ]
}

fn of_next(next: Option<&Header>) -> Vec<(&'static str, String)> {
    let say = |told: &dyn Fn(&Header) -> String| next.map(told).unwrap_or_default();
    vec![
        (
            "next-match",
            say(&|next| format!("{} v {}", next.teams.a.name, next.teams.b.name)),
        ),
        ("next-team-a", say(&|next| next.teams.a.name.clone())),
        ("next-team-b", say(&|next| next.teams.b.name.clone())),
        ("next-round", say(&|next| word(next, "round"))),
        ("next-time", say(&|next| word(next, "time"))),
    ]
}

/// The games that are over, a's points first: `11-7, 9-11`.
fn finished_games(on: &ChartedMatch) -> String {
    let games = on.score().finished.iter();
    let games: Vec<String> = games.map(|game| format!("{}-{}", game.a, game.b)).collect();
    games.join(", ")
}

/// What the desk adds to a header for people.
fn word(header: &Header, field: &str) -> String {
    let value = header.to_json().get(field).and_then(Value::as_str);
    value.unwrap_or_default().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_is_there_without_a_match_too_and_stands_in_the_table_for_streamers() {
        const TABLE: &str = include_str!("../../../overlay/README.md");
        let names: Vec<&str> = values(None, None).iter().map(|(name, _)| *name).collect();
        let different: std::collections::BTreeSet<_> = names.iter().collect();
        assert_eq!((names.len(), different.len()), (33, 33));
        assert!(values(None, None).iter().all(|(_, value)| value.is_empty()));
        for name in names {
            assert!(TABLE.contains(&format!("`{name}.txt`")), "`{name}.txt`");
        }
    }
}
