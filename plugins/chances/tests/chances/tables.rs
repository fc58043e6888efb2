//! Tables of chances that were computed elsewhere: by numpy from the equations
//! (exact rationals where small), not by this code, and not published. Those of
//! doubles from 0-0-2 were also confirmed by playing 3,000,000 games a row.

use rallytide_chances::format::{Lead, Service};
use rallytide_plugin_kit::Team;

use crate::real::{Solved, Spec, state};

const HALF: (f64, f64) = (0.5, 0.5);

#[track_caller]
fn close(found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found - expected).abs() < tolerance,
        "{found} is not {expected}"
    );
}

#[test]
fn doubles_with_side_outs_from_0_0_2() {
    for (points, pa, pb, chance) in [
        (11, 0.50, 0.50, 0.499_999_997_522_11),
        (15, 0.50, 0.50, 0.500_000_000_005_03),
        (21, 0.50, 0.50, 0.500_000_000_000_00),
        (11, 0.40, 0.40, 0.499_999_999_989_20),
        (11, 0.45, 0.45, 0.499_999_999_740_15),
        (11, 0.55, 0.55, 0.500_000_005_265_69),
        (11, 0.55, 0.50, 0.627_816_987_973_65),
        (11, 0.40, 0.45, 0.356_232_417_268_96),
        (11, 0.60, 0.40, 0.910_148_900_554_48),
        (11, 0.40, 0.60, 0.089_851_096_740_84),
        (15, 0.45, 0.40, 0.665_999_734_158_64),
        (11, 0.70, 0.70, 0.500_011_256_677_77),
        (11, 0.25, 0.25, 0.500_000_000_000_00),
    ] {
        let solved = Solved::new(
            &Spec::game(Service::TwoServers, points, Lead::Two),
            (pa, pb),
        );
        close(solved.game.of(state(0, 0, Team::A, 2)), chance, 1e-12);
    }
}

#[test]
fn doubles_with_side_outs_in_the_middle_of_a_game() {
    use Team::{A, B};
    let spec = Spec::game(Service::TwoServers, 11, Lead::Two);
    let serves = [HALF, (0.45, 0.40), (0.40, 0.45)];
    let solved = serves.map(|serve| Solved::new(&spec, serve));
    for (a, b, serving, server, chances) in [
        (
            0,
            0,
            A,
            1,
            [0.562_503_687_308, 0.689_066_274_980, 0.403_607_209_643],
        ),
        (
            0,
            0,
            B,
            1,
            [0.437_496_312_692, 0.596_392_790_357, 0.310_933_725_020],
        ),
        (
            5,
            8,
            B,
            1,
            [0.154_451_593_837, 0.217_817_246_127, 0.104_520_042_494],
        ),
        (
            9,
            10,
            A,
            1,
            [22.0 / 43.0, 0.522_450_143_091, 0.385_477_547_936],
        ),
        (
            9,
            10,
            B,
            1,
            [11.0 / 86.0, 0.188_082_051_513, 0.116_606_958_251],
        ),
        (
            10,
            9,
            A,
            2,
            [32.0 / 43.0, 0.787_987_348_635, 0.686_529_914_146],
        ),
        (
            10,
            9,
            B,
            2,
            [29.0 / 43.0, 0.752_042_349_043, 0.635_947_388_437],
        ),
        (
            10,
            10,
            A,
            2,
            [45.0 / 86.0, 0.579_127_740_513, 0.444_983_690_017],
        ),
        (
            11,
            10,
            A,
            1,
            [75.0 / 86.0, 0.883_393_041_749, 0.811_917_948_487],
        ),
        (
            0,
            10,
            A,
            1,
            [0.015_105_138_136, 0.015_700_527_846, 0.004_028_402_811],
        ),
        (
            10,
            0,
            B,
            2,
            [0.992_429_141_816, 0.997_783_654_829, 0.990_576_743_962],
        ),
    ] {
        for (solved, chance) in solved.iter().zip(chances) {
            close(solved.game.of(state(a, b, serving, server)), chance, 1e-12);
        }
    }
}

#[test]
fn a_rally_matters_most_where_both_can_still_win() {
    // P(win | A wins the rally) − P(win | A loses it); the definition is Morris's
    // for tennis, 1977 (memory).
    let solved = Solved::new(&Spec::game(Service::TwoServers, 11, Lead::Two), HALF);
    for (a, b, server, swing) in [
        (0, 0, 2, 0.125_007_369_659),
        (5, 8, 2, 0.143_330_257_058),
        (9, 10, 2, 17.0 / 43.0),
        (10, 10, 1, 15.0 / 43.0),
    ] {
        let found = solved.in_game(state(a, b, Team::A, server), 1).swing;
        close(found, swing, 1e-12);
    }
}

#[test]
fn the_next_point_in_doubles_with_side_outs_follows_its_closed_form() {
    // Derived: f(A1) = (1 − qA²) / (1 − qA²·qB²), f(B1) = qB²·f(A1),
    // f(A2) = pA + qA·f(B1), f(B2) = qB·f(A1). A game of one point is the next
    // point.
    let spec = Spec::game(Service::TwoServers, 1, Lead::One);
    let next_point = |serve| {
        let game = Solved::new(&spec, serve).game;
        [(Team::A, 1), (Team::A, 2), (Team::B, 1), (Team::B, 2)]
            .map(|(serving, server)| game.of(state(0, 0, serving, server)))
    };
    for (pa, pb) in [HALF, (0.45, 0.40), (0.40, 0.45), (0.03, 0.9), (1.0, 0.2)] {
        let (qa, qb): (f64, f64) = (1.0 - pa, 1.0 - pb);
        let a1 = (1.0 - qa * qa) / (1.0 - qa * qa * qb * qb);
        let b1 = qb * qb * a1;
        let expected = [a1, pa + qa * b1, b1, qb * a1];
        for (found, expected) in next_point((pa, pb)).into_iter().zip(expected) {
            close(found, expected, 1e-14);
        }
    }
    for (serve, whole, parts) in [
        (HALF, 5.0, [4.0, 3.0, 1.0, 2.0]),
        ((0.45, 0.40), 8911.0, [6975.0, 5391.0, 2511.0, 4185.0]),
        ((0.40, 0.45), 8911.0, [6400.0, 4726.0, 1936.0, 3520.0]),
    ] {
        for (found, part) in next_point(serve).into_iter().zip(parts) {
            close(found, part / whole, 1e-14);
        }
    }
}

#[test]
fn singles_with_side_outs() {
    use Lead::{One, Two};
    for (points, lead, pa, pb, a_first, b_first) in [
        (
            11,
            Two,
            0.50,
            0.50,
            0.531_417_551_847_65,
            0.468_582_448_152_35,
        ),
        (
            11,
            Two,
            0.55,
            0.50,
            0.660_129_728_770_19,
            0.595_874_976_765_87,
        ),
        (
            11,
            Two,
            0.40,
            0.45,
            0.379_285_170_646_81,
            0.332_834_103_952_16,
        ),
        (
            9,
            One,
            0.50,
            0.50,
            0.534_863_456_847_27,
            0.465_136_543_152_73,
        ),
        (
            15,
            One,
            0.50,
            0.50,
            0.526_480_424_861_93,
            0.473_519_575_138_07,
        ),
        (
            15,
            One,
            0.60,
            0.40,
            0.946_456_898_937_90,
            0.930_216_575_071_46,
        ),
        (
            15,
            One,
            0.55,
            0.45,
            0.798_352_308_254_55,
            0.758_850_554_439_15,
        ),
        (
            21,
            One,
            0.50,
            0.50,
            0.522_198_406_948_23,
            0.477_801_593_051_77,
        ),
    ] {
        let solved = Solved::new(&Spec::game(Service::OneServer, points, lead), (pa, pb));
        close(solved.game.of(state(0, 0, Team::A, 1)), a_first, 1e-12);
        close(solved.game.of(state(0, 0, Team::B, 1)), b_first, 1e-12);
    }
}

/// `n` over `k`.
fn choose(n: u32, k: u32) -> f64 {
    (1..=k).fold(1.0, |product, i| {
        product * f64::from(n - k + i) / f64::from(i)
    })
}

/// `base` to the `exponent`.
fn power(base: f64, exponent: u32) -> f64 {
    (0..exponent).fold(1.0, |product, _| product * base)
}

#[test]
fn singles_to_a_fixed_number_of_points_follow_the_sum_over_final_scores() {
    // Derived; of the shape given by Paindaveine & Swan 2011 (memory): with θ for
    // the chance that the server a scores next, φ that the server b does, the score
    // n–k has probability Σ_r C(n,r)·C(k−1,r−1)·((1−θ)(1−φ))ʳ·θⁿ⁻ʳ·φᵏ⁻ʳ.
    let (points, pa, pb) = (9_u32, 0.47, 0.53);
    let (qa, qb) = (1.0 - pa, 1.0 - pb);
    let theta = pa / (1.0 - qa * qb);
    // The chance that b scores next when b serves.
    let phi = pb / (1.0 - qa * qb);
    let mut sum = power(theta, points);
    for k in 1..points {
        for r in 1..=points.min(k) {
            sum += choose(points, r)
                * choose(k - 1, r - 1)
                * power((1.0 - theta) * (1.0 - phi), r)
                * power(theta, points - r)
                * power(phi, k - r);
        }
    }
    let solved = Solved::new(&Spec::game(Service::OneServer, points, Lead::One), (pa, pb));
    close(solved.game.of(state(0, 0, Team::A, 1)), sum, 1e-13);
}

#[test]
fn rally_scoring_where_the_serve_is_worth_nothing_follows_its_closed_form() {
    // Derived: P = Σ_{k ≤ n−2} C(n−1+k, k)·pⁿ·qᵏ
    //            + C(2n−2, n−1)·(p·q)ⁿ⁻¹ · p² / (p² + q²).
    for (p, chances) in [
        (
            0.40,
            [
                0.163_564_800_158_41,
                0.128_423_272_634_01,
                0.091_402_064_161_53,
            ],
        ),
        (0.50, [0.5, 0.5, 0.5]),
        (
            0.51,
            [
                0.538_705_630_910_98,
                0.544_743_484_540_24,
                0.552_507_942_629_43,
            ],
        ),
        (
            0.55,
            [
                0.686_813_086_233_49,
                0.713_330_500_995_18,
                0.745_837_596_967_79,
            ],
        ),
        (
            0.60,
            [
                0.836_435_199_841_59,
                0.871_576_727_365_99,
                0.908_597_935_838_47,
            ],
        ),
        (
            2.0 / 3.0,
            [
                0.951_511_588_226_82,
                0.972_692_145_496_93,
                0.988_070_471_547_58,
            ],
        ),
        (
            0.70,
            [
                0.978_073_222_739_42,
                0.990_230_885_413_80,
                0.996_985_531_477_39,
            ],
        ),
    ] {
        let q = 1.0 - p;
        for (points, chance) in [11, 15, 21].into_iter().zip(chances) {
            let before_a_tie: f64 = (0..points - 1)
                .map(|k| choose(points - 1 + k, k) * power(p, points) * power(q, k))
                .sum();
            let tie = choose(2 * points - 2, points - 1) * power(p * q, points - 1);
            let closed = before_a_tie + tie * p * p / (p * p + q * q);
            let spec = Spec::game(Service::EveryRally, points, Lead::Two);
            let solved = Solved::new(&spec, (p, q));
            for first in Team::BOTH {
                let found = solved.game.of(state(0, 0, first, 1));
                close(found, closed, 1e-12);
                close(found, chance, 1e-12);
            }
        }
    }
}

#[test]
fn rally_scoring_where_the_winner_of_a_rally_serves_next() {
    for (points, pa, pb, a_first, b_first) in [
        (11, 0.45, 0.40, 0.585_637_633_024_18, 0.611_491_203_353_61),
        (21, 0.45, 0.40, 0.622_827_369_465_49, 0.640_798_641_330_21),
        (15, 0.40, 0.45, 0.375_973_794_026_33, 0.397_707_100_536_01),
        (11, 0.40, 0.40, 0.482_126_679_813_04, 0.517_873_320_186_96),
        (21, 0.40, 0.40, 0.487_242_370_865_26, 0.512_757_629_134_74),
    ] {
        let solved = Solved::new(
            &Spec::game(Service::EveryRally, points, Lead::Two),
            (pa, pb),
        );
        close(solved.game.of(state(0, 0, Team::A, 1)), a_first, 1e-12);
        close(solved.game.of(state(0, 0, Team::B, 1)), b_first, 1e-12);
    }
}

#[test]
fn the_last_point_on_the_own_serve_only_as_worked_by_hand() {
    // Derived. To 1, leading by one: whoever serves wins by a rally won, and else
    // the others serve: a serving pA / (1 − qA·qB), as in singles with side-outs.
    let spec = Spec::game(Service::ServedOut, 1, Lead::One);
    let solved = Solved::new(&spec, (0.4, 0.3));
    close(solved.game.of(state(0, 0, Team::A, 1)), 0.4 / 0.58, 1e-14);
    close(
        solved.game.of(state(0, 0, Team::B, 1)),
        0.7 * 0.4 / 0.58,
        1e-14,
    );
    // To 2, a on 1, b on 0, b serves: b's point makes it 1-1 with b serving, a's
    // rally is worth the serve at 1-0. There a wins, or b levels and serves.
    let spec = Spec::game(Service::ServedOut, 2, Lead::One);
    let solved = Solved::new(&spec, (0.4, 0.3));
    let level_b_serves = 0.7 * 0.4 / 0.58;
    let a_serves = 0.4 + 0.6 * level_b_serves;
    close(solved.game.of(state(1, 0, Team::A, 1)), a_serves, 1e-14);
    let b_serves = 0.3 * level_b_serves + 0.7 * a_serves;
    close(solved.game.of(state(1, 0, Team::B, 1)), b_serves, 1e-14);
}

#[test]
fn the_example_worked_by_hand() {
    // Derived: the example of the README, singles with side-outs at one half.
    let solved = Solved::new(&Spec::game(Service::OneServer, 11, Lead::Two), HALF);
    close(solved.game.of(state(10, 10, Team::A, 1)), 3.0 / 5.0, 1e-14);
    close(solved.game.of(state(11, 10, Team::A, 1)), 4.0 / 5.0, 1e-14);
    close(solved.game.of(state(10, 9, Team::A, 1)), 4.0 / 5.0, 1e-14);
    let level = solved.in_game(state(10, 10, Team::A, 1), 1);
    close(level.swing, 2.0 / 5.0, 1e-14);
}

#[test]
fn two_teams_that_never_win_on_their_serve_are_taken_to_do_so_seldom_both_the_same() {
    for service in [Service::TwoServers, Service::OneServer] {
        let spec = Spec::game(service, 11, Lead::Two);
        let solved = Solved::new(&spec, (0.0, 0.0));
        // Every service turn is as long as any other: the next point is even.
        close(solved.game.of(state(10, 10, Team::A, 1)), 0.5, 1e-6);
        close(
            solved.game.of(state(10, 0, Team::B, 1)),
            1.0 - power(0.5, 10) * 0.5,
            1e-6,
        );
    }
    for service in [Service::EveryRally, Service::ServedOut] {
        let solved = Solved::new(&Spec::game(service, 11, Lead::Two), (0.0, 0.0));
        for a in 0..12 {
            for serving in Team::BOTH {
                let chance = solved.game.of(state(a, 10, serving, 1));
                assert!(
                    (0.0..=1.0).contains(&chance),
                    "{service:?} {a}-10: {chance}"
                );
            }
        }
    }
}
