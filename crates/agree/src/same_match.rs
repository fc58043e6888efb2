//! Whether two charts can be of one match.

use rallytide_chart::{Header, Team, TeamSheet};

/// What speaks against two charts being of one match, a sentence each.
#[must_use]
pub fn objections(a: &Header, b: &Header) -> Vec<String> {
    let mut objections = Vec::new();
    if a.format != b.format {
        objections.push(
            "the formats differ (discipline, scoring, points, lead or games); one match has one \
             format"
                .to_owned(),
        );
    }
    let stands = |one: Team, other: Team| same_team(a.teams.of(one), b.teams.of(other));
    let as_they_are = stands(Team::A, Team::A) && stands(Team::B, Team::B);
    let crossed = stands(Team::A, Team::B) && stands(Team::B, Team::A);
    if !as_they_are && crossed {
        objections.push(
            "the teams are the same but stand the other way round: what is team a in one chart is \
             team b in the other"
                .to_owned(),
        );
    } else if !as_they_are {
        objections.push(format!(
            "the teams differ: `{}` against `{}` in one chart, `{}` against `{}` in the other",
            a.teams.a.name, a.teams.b.name, b.teams.a.name, b.teams.b.name
        ));
    }
    objections
}

/// By name or by players, in any spelling of capitals and blanks; where a chart
/// gives neither, nothing speaks against it.
fn same_team(one: &TeamSheet, other: &TeamSheet) -> bool {
    let (name, other_name) = (plain(&one.name), plain(&other.name));
    let players = |team: &TeamSheet| {
        let mut names: Vec<String> = team.players.iter().map(|name| plain(name)).collect();
        names.retain(|name| !name.is_empty());
        names.sort_unstable();
        names
    };
    let same_players = !players(one).is_empty() && players(one) == players(other);
    name.is_empty() || other_name.is_empty() || name == other_name || same_players
}

fn plain(name: &str) -> String {
    name.split_whitespace().collect::<String>().to_lowercase()
}
