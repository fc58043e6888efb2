//! How often a team wins the rallies it serves: what was seen, shrunk to a prior.

/// The mean of a Beta distribution after what was seen: `(α + won) / (α + β +
/// served)`, where the prior has `α = mean × weight` and `β = (1 − mean) ×
/// weight`.
///
/// Depends on how many rallies were won of how many, never on their order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ServeEstimate {
    mean: f64,
    weight: f64,
    won: u32,
    served: u32,
}

impl ServeEstimate {
    /// Before any rally: the prior's mean, between 0 and 1, which counts for
    /// `weight` rallies, more than 0.
    #[must_use]
    pub fn prior(mean: f64, weight: f64) -> Self {
        Self {
            mean,
            weight,
            won: 0,
            served: 0,
        }
    }

    /// Counts a rally that the team served.
    pub fn count(&mut self, won: bool) {
        self.served = self.served.saturating_add(1);
        self.won = self.won.saturating_add(u32::from(won));
    }

    /// The probability that the team wins the next rally it serves, between 0
    /// and 1.
    #[must_use]
    pub fn mean(self) -> f64 {
        let won = self.mean * self.weight + f64::from(self.won);
        won / (self.weight + f64::from(self.served))
    }
}
