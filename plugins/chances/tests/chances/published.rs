//! What is known about winning games like these: published, or from memory.

use std::collections::BTreeSet;

use rallytide_chances::format::{Lead, Service};
use rallytide_plugin_kit::Team;

use crate::real::{Solved, Spec, state};
use crate::transitions::all_states;

/// The chance of the team that serves first in doubles with side-outs.
fn first_serving_team(points: u32) -> f64 {
    let spec = Spec::game(Service::TwoServers, points, Lead::Two);
    let solved = Solved::new(&spec, (0.5, 0.5));
    solved.game.of(spec.format().start(Team::A))
}

#[test]
fn even_doubles_to_11_is_almost_even_for_the_team_that_serves_first() {
    // Memory: a mathematics column gives it, by a Markov chain.
    assert!((first_serving_team(11) - 0.499_999_997_522).abs() < 5e-13);
}

#[test]
fn serving_first_is_a_tiny_disadvantage_to_11_and_a_tiny_advantage_to_15() {
    // Signs published: DeFord & Ethier 2023, arXiv 2303.02942, abstract.
    // Magnitudes computed with numpy.
    let to_11 = first_serving_team(11) - 0.5;
    let to_15 = first_serving_team(15) - 0.5;
    assert!(
        to_11 < 0.0 && (to_11 + 2.477_886e-9).abs() < 1e-14,
        "{to_11:e}"
    );
    assert!(
        to_15 > 0.0 && (to_15 - 5.029_663e-12).abs() < 1e-14,
        "{to_15:e}"
    );
}

#[test]
fn the_real_scoring_has_as_many_states_as_published() {
    // Published: 4n² + 10 states, the two final ones included (DeFord & Ethier
    // 2023, arXiv 2303.02942, abstract); all ties from one short on are one.
    for (points, states) in [(11, 494), (15, 910)] {
        let spec = Spec::game(Service::TwoServers, points, Lead::Two);
        let found: BTreeSet<_> = all_states(&spec).into_keys().collect();
        assert_eq!(found.len() + 2, states, "to {points}");
    }
}

#[test]
fn in_even_singles_the_server_scores_the_next_point_two_times_of_three() {
    // Memory: a problem for students. In general p / (1 − p·q): derived.
    let spec = Spec::game(Service::OneServer, 1, Lead::One);
    let solved = Solved::new(&spec, (0.5, 0.5));
    assert!((solved.game.of(state(0, 0, Team::A, 1)) - 2.0 / 3.0).abs() < 1e-15);
    for p in [0.1, 0.37, 0.5, 0.8, 0.99] {
        // The server wins any rally with p, also those that b serves.
        let solved = Solved::new(&spec, (p, 1.0 - p));
        let expected = p / (1.0 - p * (1.0 - p));
        let found = solved.game.of(state(0, 0, Team::A, 1));
        assert!((found - expected).abs() < 1e-14, "p = {p}: {found}");
    }
}

#[test]
fn best_of_three_points_follows_its_cubic() {
    // 3p² − 2p³, even only at p = 1/2: memory, and derived. The value .648 at .6 is
    // computed.
    let spec = Spec::game(Service::EveryRally, 2, Lead::One);
    let chance = |p: f64| {
        Solved::new(&spec, (p, 1.0 - p))
            .game
            .of(state(0, 0, Team::A, 1))
    };
    for p in [0.01, 0.25, 0.4, 0.5, 0.6, 0.93] {
        assert!(
            (chance(p) - (3.0 * p * p - 2.0 * p * p * p)).abs() < 1e-14,
            "p = {p}"
        );
    }
    assert!((chance(0.6) - 0.648).abs() < 1e-12);
    assert!((chance(0.5) - 0.5).abs() < 1e-15);
}

#[test]
fn at_8_all_the_receiver_is_indifferent_between_9_and_10_at_38_in_100() {
    // The old choice of side-out singles: at 8-8 the receiver says whether 9 or
    // 10 win. "About 0.38": memory. (3 − √5)/2: computed.
    let receiver = |points: u32, p: f64| {
        let spec = Spec::game(Service::OneServer, points, Lead::One);
        Solved::new(&spec, (p, 1.0 - p))
            .game
            .of(state(8, 8, Team::B, 1))
    };
    let indifferent = (3.0 - 5.0_f64.sqrt()) / 2.0;
    let difference = |p: f64| receiver(10, p) - receiver(9, p);
    assert!(difference(indifferent).abs() < 1e-9);
    assert!(difference(indifferent - 0.01) < 0.0);
    assert!(difference(indifferent + 0.01) > 0.0);
}

#[test]
fn a_shut_out_in_side_out_singles_follows_the_old_formula() {
    // Keller, SIAM Review 26 (1984): a coin decides who serves first, and a wins n
    // points to none with (1+p)/2 · (p/(1−p+p²))ⁿ. Formula: memory. A team that
    // wins from n − 1 points behind has shut the other out from there on.
    let shut_out = |points: u32, p: f64| {
        let spec = Spec::game(Service::OneServer, points, Lead::One);
        let solved = Solved::new(&spec, (p, 1.0 - p));
        let from = |serving| solved.game.of(state(0, points - 1, serving, 1));
        f64::midpoint(from(Team::A), from(Team::B))
    };
    for points in [2_u32, 11, 21] {
        for p in [0.1_f64, 0.37, 0.5, 0.8, 0.95] {
            let next = p / (1.0 - p + p * p);
            let expected = f64::midpoint(1.0, p) * next.powi(points.cast_signed());
            let found = shut_out(points, p);
            assert!((found - expected).abs() < 1e-13, "{points} {p}: {found}");
        }
    }
    // Computed with numpy.
    let computed = [
        (11, 0.5, 0.008_670_764_957_92),
        (11, 0.7, 0.224_698_080_103_72),
        (21, 0.5, 0.000_150_364_329_91),
        (21, 0.7, 0.067_036_116_789_61),
        (21, 0.9, 0.753_263_744_426_48),
        // The printed answer to "from which p on is it as likely as not?" is .84
        // (memory), where it is a little less; the root is computed.
        (21, 0.84, 0.489_768_25),
        (21, 0.842_304_791_036, 0.5),
    ];
    for (points, p, expected) in computed {
        let found = shut_out(points, p);
        assert!((found - expected).abs() < 1e-8, "{points} {p}: {found}");
    }
}
