//! Random headers and matches.

use proptest::prelude::*;
use rallytide_chart::{Header, Lineup, PairOf, Play, ScoreFix, Team, TimeOut};

use crate::notation::{
    FREEZE, FREEZE_SINGLES, RALLY, RALLY_SINGLES, SIDE_OUT, SIDE_OUT_SINGLES, STATIC,
    STATIC_FREEZE, header_from, rally_to,
};

pub(crate) fn team() -> impl Strategy<Value = Team> {
    prop_oneof![Just(Team::A), Just(Team::B)]
}

/// Every kind of format that a header can say.
pub(crate) const ALL_RULES: &[&str] = &[
    SIDE_OUT,
    SIDE_OUT_SINGLES,
    RALLY,
    FREEZE,
    STATIC,
    STATIC_FREEZE,
    RALLY_SINGLES,
    FREEZE_SINGLES,
];

/// Headers of these rules, of any length; mostly short games, so that matches
/// end.
pub(crate) fn headers(rules: &'static [&'static str]) -> impl Strategy<Value = Header> {
    (
        prop::sample::select(rules),
        prop_oneof![4 => 1..=7_u32, 1 => Just(11), 1 => Just(15), 1 => Just(21)],
        1..=2_u32,
        prop::sample::select(&[1_u32, 3, 5]),
        team(),
    )
        .prop_map(|(rules, points, win_by, games, first_serve)| {
            header_from(rules, points, win_by, games, first_serve)
        })
}

/// Enough rallies to see most matches to their end.
pub(crate) fn winners() -> impl Strategy<Value = Vec<Team>> {
    prop::collection::vec(team(), 0..160)
}

/// A header with entries of every kind that touches the score, mostly rallies.
pub(crate) fn matches(
    rules: &'static [&'static str],
) -> impl Strategy<Value = (Header, Vec<Play>)> {
    headers(rules).prop_flat_map(|header| {
        let plays = prop::collection::vec(play(&header), 0..120);
        (Just(header), plays)
    })
}

fn play(header: &Header) -> impl Strategy<Value = Play> + use<> {
    let format = header.format;
    let points = format.points + 1;
    let servers = if format.has_two_servers() { 2_u32 } else { 1 };
    let games = format.games_to_win() - 1;
    let players = format.team_size() - 1;
    let pair = |most: u32| (0..=most, 0..=most).prop_map(|(a, b)| PairOf { a, b });
    let fix = (
        pair(points),
        team(),
        prop::option::of(1..=servers),
        prop::option::of(pair(games)),
    );
    prop_oneof![
        20 => team().prop_map(rally_to),
        2 => Just(Play::Replay),
        2 => (team(), any::<bool>())
            .prop_map(|(team, medical)| Play::TimeOut(TimeOut { team, medical })),
        3 => team().prop_map(|team| Play::Penalty { team }),
        2 => fix.prop_map(|(points, serving, server, games)| {
            Play::ScoreFix(ScoreFix { points, serving, server, games })
        }),
        2 => (team(), 0..=players)
            .prop_map(|(team, starting_server)| Play::Lineup(Lineup { team, starting_server })),
    ]
}
