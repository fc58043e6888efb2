//! Chance, the same on every machine for the same seed.
//!
//! `ChaCha` gives the bits. What is made of them uses whole numbers and the four
//! basic operations on `f64` only, which IEEE 754 fixes to the bit; the
//! distributions of a library could change with its version, and `exp` or `ln`
//! differ between platforms.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// What a sequence of chance decides. Each has a stream of its own, so that
/// what is drawn for one changes nothing in another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Stream {
    /// Names, title, who serves first, how strong the teams are.
    Billing = 1,
    /// The rallies.
    Play = 2,
    /// Time-outs, penalties and whatever else happens between rallies.
    Interlude = 3,
    /// What the charter sees, types and gets wrong.
    Charter = 4,
}

/// A sequence of chance.
#[derive(Debug, Clone)]
pub(crate) struct Dice(ChaCha8Rng);

impl Dice {
    /// The sequence that `seed` gives for `stream`.
    pub(crate) fn new(seed: u64, stream: Stream) -> Self {
        let mut key = [0_u8; 32];
        key[..8].copy_from_slice(&seed.to_le_bytes());
        key[8..17].copy_from_slice(b"rallytide");
        let mut bits = ChaCha8Rng::from_seed(key);
        bits.set_stream(stream as u64);
        Self(bits)
    }

    /// Evenly spread over 0 ≤ x < 1.
    pub(crate) fn unit(&mut self) -> f64 {
        const STEPS: f64 = (1_u64 << 53) as f64;
        (self.0.next_u64() >> 11) as f64 / STEPS
    }

    /// True with probability `p`; never for 0 or less, always for 1 or more.
    pub(crate) fn chance(&mut self, p: f64) -> bool {
        self.unit() < p
    }

    /// Bell-shaped around `mean`, never farther from it than `spread`; two
    /// thirds of all draws lie within a third of it.
    pub(crate) fn around(&mut self, mean: f64, spread: f64) -> f64 {
        let sum = self.unit() + self.unit() + self.unit();
        mean + spread * (sum - 1.5) / 1.5
    }

    /// [`around`](Self::around) in whole milliseconds, never negative.
    pub(crate) fn milliseconds(&mut self, mean: f64, spread: f64) -> i64 {
        self.around(mean, spread).max(0.0) as i64
    }

    /// One of `options`, each as likely as its weight says. Weights of 0 or less
    /// are never drawn; the last option stands in where no weight is above 0.
    pub(crate) fn weighted<T: Copy>(&mut self, options: &[(T, f64)]) -> T {
        let total: f64 = options.iter().map(|(_, weight)| weight.max(0.0)).sum();
        let mut left = self.unit() * total;
        for (option, weight) in options {
            if *weight > 0.0 {
                if left < *weight {
                    return *option;
                }
                left -= weight;
            }
        }
        options.last().expect("called with options only").0
    }

    /// One of `options`, all equally likely.
    pub(crate) fn one_of<T: Copy>(&mut self, options: &[T]) -> T {
        let place = (self.unit() * options.len() as f64) as usize;
        options[place.min(options.len() - 1)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn streams_of_one_seed_differ_and_repeat() {
        let draw = |seed, stream| Dice::new(seed, stream).0.next_u64();
        assert_eq!(draw(7, Stream::Play), draw(7, Stream::Play));
        assert_ne!(draw(7, Stream::Play), draw(7, Stream::Charter));
        assert_ne!(draw(7, Stream::Play), draw(8, Stream::Play));
    }

    #[test]
    fn weights_decide_how_often_an_option_is_drawn() {
        let mut dice = Dice::new(1, Stream::Play);
        let draws = (0..10_000).map(|_| dice.weighted(&[('x', 3.0), ('y', 1.0), ('z', 0.0)]));
        let letters: String = draws.collect();
        assert!((7_300..7_700).contains(&letters.matches('x').count()));
        assert_eq!(letters.matches('z').count(), 0);
    }

    #[test]
    fn draws_around_a_mean_keep_their_bounds() {
        let mut dice = Dice::new(2, Stream::Play);
        let draws: Vec<f64> = (0..10_000).map(|_| dice.around(100.0, 30.0)).collect();
        assert!(draws.iter().all(|draw| (70.0..=130.0).contains(draw)));
        let mean = draws.iter().sum::<f64>() / 10_000.0;
        assert!((99.0..101.0).contains(&mean), "{mean}");
    }
}
