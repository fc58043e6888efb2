//! From games to the match.

use rallytide_chances::course::from_game;
use rallytide_chances::format::{Lead, Service};
use rallytide_chart as chart;
use rallytide_plugin_kit::{PerTeam, Team};

use crate::real::{Solved, Spec, after, chart_team, state};

#[track_caller]
fn close(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() < 1e-12,
        "{found} is not {expected}"
    );
}

#[test]
fn a_constant_chance_of_a_game_gives_the_polynomials_of_best_of_three_and_five() {
    let best_of = |games: u32, chance: f64| {
        let need = games / 2 + 1;
        from_game(PerTeam { a: need, b: need }, 1, &|_| chance)
    };
    // Derived; the numbers are computed with numpy.
    close(best_of(3, 0.643_767_582_616_177_6), 0.709_708_275_719_187_4);
    for g in [0.0, 0.1, 0.5, 0.64, 1.0] {
        close(best_of(1, g), g);
        close(best_of(3, g), g * g * (3.0 - 2.0 * g));
        let cube = g * g * g;
        close(best_of(5, g), cube * (10.0 - 15.0 * g + 6.0 * g * g));
    }
}

#[test]
fn the_initial_service_alternates_game_by_game() {
    // Best of three, a's chance x when it serves first, y when b does: the games
    // begin a, b, a.
    let (x, y) = (0.6, 0.3);
    let of_game = |number: u32| if number == 2 { y } else { x };
    let found = from_game(PerTeam { a: 2, b: 2 }, 1, &of_game);
    close(found, x * y + x * (1.0 - y) * x + (1.0 - x) * y * x);

    let spec = Spec {
        games: 3,
        ..Spec::game(Service::OneServer, 11, Lead::Two)
    };
    let solved = Solved::new(&spec, (0.5, 0.5));
    let x = solved.game.of(state(0, 0, Team::A, 1));
    let y = solved.game.of(state(0, 0, Team::B, 1));
    let expected = x * y + x * (1.0 - y) * x + (1.0 - x) * y * x;
    close(solved.at(spec.scoring().score()).of_match, expected);
    let of_b = Spec {
        first_serve: Team::B,
        ..spec
    };
    let solved = Solved::new(&of_b, (0.5, 0.5));
    close(solved.at(of_b.scoring().score()).of_match, 1.0 - expected);
}

#[test]
fn in_the_deciding_game_the_match_is_the_game() {
    let spec = Spec {
        games: 3,
        ..Spec::game(Service::TwoServers, 11, Lead::Two)
    };
    let solved = Solved::new(&spec, (0.45, 0.4));
    let mut scoring = spec.scoring();
    for winner in [Team::A, Team::B] {
        while scoring.score().games.of(chart_team(winner)) == &0 {
            scoring = after(&scoring, winner);
        }
    }
    assert_eq!(scoring.score().game, 3);
    for winner in [Team::A, Team::A, Team::B, Team::A] {
        let chances = solved.at(scoring.score());
        close(chances.of_match, chances.of_game);
        scoring = after(&scoring, winner);
    }
}

#[test]
fn a_rally_matters_less_to_the_match_than_to_its_game() {
    let spec = Spec {
        games: 3,
        ..Spec::game(Service::EveryRally, 11, Lead::Two)
    };
    // The serve is worth nothing: winning game 1 is worth 1 − (1−g)² − g², and
    // at 10-10 the rally moves the game by p²/(p²+q²) taken at one up and one
    // down. Derived.
    let (p, q): (f64, f64) = (0.55, 0.45);
    let solved = Solved::new(&spec, (p, q));
    let g = solved.game.of(state(0, 0, Team::A, 1));
    let tie = p * p / (p * p + q * q);
    let in_game = (p + q * tie) - p * tie;
    let worth = (1.0 - (1.0 - g) * (1.0 - g)) - g * g;
    let found = solved.in_game(state(10, 10, Team::A, 1), 2);
    close(found.swing, in_game * worth);
}

#[test]
fn after_the_match_the_winner_has_everything_and_nothing_matters() {
    for spec in [
        Spec::game(Service::TwoServers, 3, Lead::Two),
        Spec::game(Service::EveryRally, 1, Lead::One),
    ] {
        for winner in Team::BOTH {
            let mut scoring = spec.scoring();
            while !scoring.score().is_over() {
                scoring = after(&scoring, winner);
            }
            let found = Solved::new(&spec, (0.4, 0.5)).at(scoring.score());
            let of_a = if winner == Team::A { 1.0 } else { 0.0 };
            let exact = [found.of_game, found.of_match, found.swing].map(f64::to_bits);
            assert_eq!(exact, [of_a, of_a, 0.0].map(f64::to_bits));
        }
    }
}

#[test]
fn a_team_that_retires_has_no_chance_left() {
    let spec = Spec::game(Service::TwoServers, 11, Lead::Two);
    let mut scoring = after(&spec.scoring(), Team::A);
    scoring.step(&chart::Play::Retire {
        team: chart::Team::A,
    });
    let found = Solved::new(&spec, (0.4, 0.5)).at(scoring.score());
    assert!(found.of_game == 0.0 && found.of_match == 0.0 && found.swing == 0.0);
}
