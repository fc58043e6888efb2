//! The probability of a run against computed tables and against counting every sequence.
//!
//! Beside a check stands where its expected value comes from: `memory` (recalled,
//! not read), `computed` (by us; never published), `derived` (worked out by us).

use proptest::prelude::*;
use rallytide_streaks::runs::{LONGEST_SEQUENCE, at_least_once};

#[track_caller]
fn check(trials: u32, run: u32, rate: f64, expected: f64) {
    let found = at_least_once(run, trials, rate);
    assert!(
        (found - expected).abs() < 1e-10,
        "{run} in {trials} at {rate}: {found} is not {expected}"
    );
}

#[test]
fn a_run_of_heads_is_as_likely_as_the_tables_say() {
    // Computed; those of 10 and 12 trials also by counting every sequence.
    check(10, 3, 0.5, 65.0 / 128.0);
    check(10, 4, 0.5, 251.0 / 1024.0);
    check(20, 4, 0.5, 0.478_018_760_681);
    check(20, 5, 0.5, 32_751.0 / 131_072.0);
    check(20, 6, 0.5, 0.122_315_406_799);
    check(50, 5, 0.5, 0.551_875_322_954);
    check(100, 7, 0.5, 0.317_520_387_497);
    check(100, 10, 0.5, 0.044_137_228_640);
    check(200, 7, 0.5, 0.543_707_915_916);
}

#[test]
fn a_run_at_another_rate_is_as_likely_as_the_tables_say() {
    // Computed.
    check(12, 3, 0.4, 91_082_944.0 / 244_140_625.0);
    check(20, 5, 0.4, 0.100_078_346_033);
    check(20, 4, 0.45, 0.358_416_187_513);
    check(40, 6, 0.4, 0.085_117_972_391);
}

#[test]
fn five_in_a_row_in_forty_is_not_rare() {
    // Computed.
    check(40, 5, 0.4, 0.207_611_696_867);
    check(40, 5, 0.45, 0.326_146_515_381);
}

#[test]
fn no_two_heads_in_a_row_follows_the_known_fractions() {
    // Computed: 3/4, 5/8, 1/2, 13/32, 21/64 for 2 to 6 tosses.
    for (trials, none) in (2..).zip([0.75, 0.625, 0.5, 0.406_25, 0.328_125]) {
        check(trials, 2, 0.5, 1.0 - none);
    }
}

#[test]
fn the_longest_run_of_either_side_in_ten_tosses_has_the_counts_seen() {
    // Of all 1024 sequences of ten tosses, how many have a longest run (of heads or
    // of tails) of 1 to 10: computed. A run of
    // k equal tosses is a run of k − 1 repeats among the nine pairs of neighbours.
    let counts = [2, 176, 370, 254, 126, 56, 24, 10, 4, 2];
    for run in 2..=10 {
        let longer: u32 = counts[run - 1..].iter().sum();
        check(9, run as u32 - 1, 0.5, f64::from(longer) / 1024.0);
    }
    // The same for more tosses: computed.
    check(199, 5, 0.5, 0.965_312_801_116);
    check(199, 6, 0.5, 0.799_284_596_133);
    check(99, 6, 0.5, 0.542_336_855_499);
    check(19, 4, 0.5, 0.458_402_633_667);
}

#[test]
fn the_expected_longest_run_of_heads_is_near_its_asymptote() {
    let expected: f64 = (1..=100).map(|run| at_least_once(run, 100, 0.5)).sum();
    // Computed.
    assert!((expected - 5.991_780_255_697).abs() < 1e-10, "{expected}");
    // log₂ n + γ / ln 2 − 3/2 for large n (after Guibas & Odlyzko): memory.
    let euler = 0.577_215_664_901_532_9;
    let asymptote = 100.0_f64.log2() + euler / std::f64::consts::LN_2 - 1.5;
    assert!(
        (expected - asymptote).abs() < 0.02,
        "{expected}, {asymptote}"
    );
    // Computed for either side: 6.977431846052 at 100 and 7.977011783059 at 200;
    // "about 7" and "8" (after Schilling 1990): memory.
    for (tosses, longest) in [(100, 6.977_431_846_052), (200, 7.977_011_783_059)] {
        let either: f64 = 1.0
            + (1..tosses)
                .map(|run| at_least_once(run, tosses - 1, 0.5))
                .sum::<f64>();
        assert!((either - longest).abs() < 1e-10, "{either}");
    }
}

#[test]
fn every_sequence_counted_gives_the_same() {
    for trials in 1..=12_u32 {
        for rate in [0.0, 0.3, 0.5, 0.8, 1.0] {
            let mut by_longest = vec![0.0; trials as usize + 1];
            for sequence in 0..1_u32 << trials {
                let (mut longest, mut current, mut probability) = (0, 0, 1.0);
                for trial in 0..trials {
                    let success = sequence >> trial & 1 == 1;
                    current = if success { current + 1 } else { 0 };
                    longest = longest.max(current);
                    probability *= if success { rate } else { 1.0 - rate };
                }
                by_longest[longest] += probability;
            }
            for run in 1..=trials {
                let counted: f64 = by_longest[run as usize..].iter().sum();
                check(trials, run, rate, counted);
            }
        }
    }
}

#[test]
fn what_is_very_rare_keeps_its_digits() {
    // Derived: thirty of thirty at 1/10.
    let found = at_least_once(30, 30, 0.1);
    assert!((found / 1e-30 - 1.0).abs() < 1e-12, "{found:e}");
    assert!(at_least_once(2000, 4000, 0.01) >= 0.0);
}

#[test]
fn a_sequence_beyond_the_longest_costs_and_says_no_more() {
    let capped = at_least_once(20, LONGEST_SEQUENCE, 0.5);
    for trials in [LONGEST_SEQUENCE + 1, u32::MAX] {
        assert_eq!(at_least_once(20, trials, 0.5).to_bits(), capped.to_bits());
    }
    assert!(at_least_once(u32::MAX, u32::MAX, 0.5) < 1e-300);
}

proptest! {
    #[test]
    fn it_is_a_probability_that_grows_with_the_trials_and_the_rate_and_falls_with_the_run(
        run in 1..20_u32,
        trials in 0..300_u32,
        rate in 0.0..=1.0_f64,
    ) {
        let here = at_least_once(run, trials, rate);
        prop_assert!((0.0..=1.0).contains(&here));
        prop_assert!(at_least_once(run, trials + 1, rate) >= here);
        prop_assert!(at_least_once(run + 1, trials, rate) <= here + 1e-12);
        prop_assert!(at_least_once(run, trials, rate + (1.0 - rate) * 0.1) >= here - 1e-12);
    }
}
