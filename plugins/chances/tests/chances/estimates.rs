//! How often a serve is expected to win: the mean of a Beta distribution.

use proptest::prelude::*;
use rallytide_chances::estimate::ServeEstimate;

fn after(mean: f64, weight: f64, won: u32, served: u32) -> f64 {
    let mut estimate = ServeEstimate::prior(mean, weight);
    for rally in 0..served {
        estimate.count(rally < won);
    }
    estimate.mean()
}

#[test]
fn the_estimate_is_the_mean_of_the_beta_distribution() {
    // Mean of Beta(α, β) after k of n: (α + k) / (α + β + n). Values computed with
    // scipy.stats.beta.
    for (alpha, beta, won, served, mean) in [
        (2.0, 2.0, 0, 3, 2.0 / 7.0),
        (4.0, 6.0, 7, 12, 1.0 / 2.0),
        (8.0, 12.0, 1, 1, 3.0 / 7.0),
        (20.0, 55.0, 18, 45, 19.0 / 60.0),
    ] {
        let weight = alpha + beta;
        let found = after(alpha / weight, weight, won, served);
        assert!((found - mean).abs() < 1e-15, "{found} is not {mean}");
    }
}

#[test]
fn a_very_large_weight_keeps_the_prior() {
    assert!((after(0.45, 1_000_000.0, 100, 100) - 0.45).abs() < 1e-4);
}

#[test]
fn a_serve_never_seen_is_expected_to_win_as_the_prior_says() {
    assert!((after(0.45, 20.0, 0, 0) - 0.45).abs() < 1e-15);
}

proptest! {
    #[test]
    fn the_order_of_the_rallies_does_not_matter(
        (rallies, shuffled) in prop::collection::vec(any::<bool>(), 0..60)
            .prop_flat_map(|rallies| (Just(rallies.clone()), Just(rallies).prop_shuffle())),
        mean in 0.05..0.95_f64,
        weight in 1.0..1e6_f64,
    ) {
        let estimate = |rallies: &[bool]| {
            let mut estimate = ServeEstimate::prior(mean, weight);
            for won in rallies {
                estimate.count(*won);
            }
            estimate.mean().to_bits()
        };
        prop_assert_eq!(estimate(&rallies), estimate(&shuffled));
    }

    #[test]
    fn the_estimate_lies_between_the_prior_and_what_was_seen(
        mean in 0.05..0.95_f64,
        weight in 1.0..1e6_f64,
        served in 1..200_u32,
        won in 0..200_u32,
    ) {
        let won = won.min(served);
        let seen = f64::from(won) / f64::from(served);
        let found = after(mean, weight, won, served);
        prop_assert!(found > 0.0 && found < 1.0);
        prop_assert!(found >= mean.min(seen) - 1e-12 && found <= mean.max(seen) + 1e-12);
    }
}
