//! What holds for every format, every pair of probabilities and every score that
//! rallies, penalties and the referee's word can lead to.

use proptest::prelude::*;
use rallytide_chances::format::{GameFormat, GameState, Lead, Service};
use rallytide_chances::game::GameChances;
use rallytide_chart as chart;
use rallytide_plugin_kit::{PerTeam, Team};
use rallytide_scoring::ScoreKeeper;

use crate::real::{SERVICES, Solved, Spec, after, chart_team, rally_won_by};

fn team() -> impl Strategy<Value = Team> {
    prop::sample::select(Team::BOTH.to_vec())
}

fn service() -> impl Strategy<Value = Service> {
    prop::sample::select(SERVICES.to_vec())
}

fn lead() -> impl Strategy<Value = Lead> {
    prop::sample::select(vec![Lead::One, Lead::Two])
}

fn points() -> impl Strategy<Value = u32> {
    prop_oneof![1..=5_u32, 7..=21_u32, Just(99)]
}

fn format() -> impl Strategy<Value = GameFormat> {
    (service(), points(), lead()).prop_map(|(service, points, lead)| GameFormat {
        points,
        lead,
        service,
    })
}

fn spec() -> impl Strategy<Value = Spec> {
    let games = prop::sample::select(vec![1, 3, 5]);
    (format(), games, team()).prop_map(|(format, games, first_serve)| Spec {
        service: format.service,
        points: format.points,
        lead: format.lead,
        games,
        first_serve,
    })
}

fn serve() -> impl Strategy<Value = (f64, f64)> {
    let chance = || {
        prop_oneof![
            4 => 0.001..0.999_f64,
            1 => prop::sample::select(vec![0.0, 1e-12, 1e-6, 0.5, 1.0]),
        ]
    };
    (chance(), chance())
}

/// Rallies mostly, now and then a foul or the referee's word, anywhere.
fn play() -> impl Strategy<Value = chart::Play> {
    let points = || prop_oneof![0..25_u32, 0..999_u32];
    let fix = (points(), points(), team(), prop::option::of(1..=2_u32)).prop_map(
        |(a, b, serving, server)| {
            chart::Play::ScoreFix(chart::ScoreFix {
                points: chart::PairOf { a, b },
                serving: chart_team(serving),
                server,
                games: None,
            })
        },
    );
    prop_oneof![
        12 => team().prop_map(rally_won_by),
        2 => team().prop_map(|team| chart::Play::Penalty { team: chart_team(team) }),
        1 => fix,
    ]
}

/// The points below those of the game, anything in between, any server.
fn inside(format: GameFormat, at: (u32, u32), serving: Team, second: bool) -> GameState {
    GameState {
        a: at.0 % format.points,
        b: at.1 % format.points,
        serving,
        second: second && format.service == Service::TwoServers,
    }
}

fn mirrored(state: GameState) -> GameState {
    GameState {
        a: state.b,
        b: state.a,
        serving: state.serving.other(),
        ..state
    }
}

fn solve(format: GameFormat, (a, b): (f64, f64)) -> GameChances {
    GameChances::solve(format, PerTeam { a, b })
}

/// How far off two ways to a chance may be: the rarer a serve wins, the more
/// digits a tie takes.
fn tolerance((a, b): (f64, f64)) -> f64 {
    1e-12 + 1e-15 / (a + b).max(1e-9)
}

/// A match walked through by the real scoring.
fn walk(spec: &Spec, plays: &[chart::Play], mut each: impl FnMut(&ScoreKeeper)) {
    let mut scoring = spec.scoring();
    for play in plays {
        each(&scoring);
        scoring.step(play);
    }
    each(&scoring);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn the_chance_before_a_rally_is_that_of_its_branches(
        spec in spec(),
        serve in serve(),
        plays in prop::collection::vec(play(), 0..60),
    ) {
        let solved = Solved::new(&spec, serve);
        let tolerance = tolerance(serve);
        let mut failures = Vec::new();
        walk(&spec, &plays, |scoring| {
            let score = scoring.score();
            let here = solved.at(score);
            for chance in [here.of_game, here.of_match, here.swing] {
                if !(0.0..=1.0).contains(&chance) {
                    failures.push(format!("{here:?} at {score:?}"));
                }
            }
            if score.is_over() {
                return;
            }
            let [a, b] = Team::BOTH.map(|winner| solved.at(after(scoring, winner).score()).of_match);
            let expected = solved.rally(score, Team::A) * a + solved.rally(score, Team::B) * b;
            if (here.of_match - expected).abs() > tolerance && serve.0 + serve.1 > 1e-8 {
                failures.push(format!("{here:?} is not {expected} at {score:?}"));
            }
            if (here.swing - (a - b)).abs() > 1e-12 {
                failures.push(format!("{here:?} does not swing from {b} to {a} at {score:?}"));
            }
        });
        prop_assert!(failures.is_empty(), "{failures:#?}");
    }

    #[test]
    fn the_other_way_round_the_chances_are_the_other_teams(
        format in format(),
        serve in serve(),
        at in (0..99_u32, 0..99_u32),
        serving in team(),
        second in any::<bool>(),
    ) {
        let here = inside(format, at, serving, second);
        let one = solve(format, serve).of(here);
        let other = solve(format, (serve.1, serve.0)).of(mirrored(here));
        let off = (one + other - 1.0).abs();
        prop_assert!(off < tolerance(serve), "{one} and {other} of {here:?}");
    }

    #[test]
    fn a_team_that_serves_better_has_no_smaller_chance(
        format in format(),
        serve in serve(),
        at in (0..99_u32, 0..99_u32),
        serving in team(),
        second in any::<bool>(),
    ) {
        let here = inside(format, at, serving, second);
        let better = (serve.0 + (1.0 - serve.0) * 0.1, serve.1);
        let (one, two) = (solve(format, serve).of(here), solve(format, better).of(here));
        prop_assert!(two >= one - tolerance(serve), "{one} falls to {two} at {here:?}");
    }

    #[test]
    fn a_point_more_is_no_smaller_chance(
        format in format(),
        serve in serve(),
        at in (0..99_u32, 0..99_u32),
        serving in team(),
        second in any::<bool>(),
    ) {
        let here = inside(format, at, serving, second);
        prop_assume!(here.a + 1 < format.points);
        let game = solve(format, serve);
        let (one, two) = (game.of(here), game.of(GameState { a: here.a + 1, ..here }));
        prop_assert!(two >= one - tolerance(serve), "{one} falls to {two} at {here:?}");
    }

    #[test]
    fn from_one_short_of_the_game_on_only_the_difference_matters(
        service in service(),
        points in points(),
        serve in serve(),
        ahead in 0..2_u32,
        on in 1..500_u32,
        serving in team(),
    ) {
        let game = solve(GameFormat { points, lead: Lead::Two, service }, serve);
        let early = GameState { a: points - 1 + ahead, b: points - 1, serving, second: false };
        let late = GameState { a: early.a + on, b: early.b + on, ..early };
        prop_assert_eq!(game.of(early).to_bits(), game.of(late).to_bits());
    }

    #[test]
    fn a_team_that_always_wins_on_its_serve_wins_when_it_serves(
        format in format(),
        other in 0.0..1.0_f64,
        at in (0..99_u32, 0..99_u32),
        second in any::<bool>(),
    ) {
        let here = inside(format, at, Team::A, second);
        let chance = solve(format, (1.0, other)).of(here);
        prop_assert!((chance - 1.0).abs() < 1e-12, "{chance}");
        // Where only the server scores, a team that never wins on its serve never
        // scores.
        let side_out = matches!(format.service, Service::TwoServers | Service::OneServer);
        if side_out && other > 0.01 {
            let chance = solve(format, (0.0, other)).of(here);
            prop_assert!(chance < 1e-12, "{chance}");
        }
    }
}
