//! Agreement beyond chance: Cohen's kappa with its large-sample standard error.
//!
//! J. Cohen, Educational and Psychological Measurement 20 (1960), 37–46, and,
//! weighted, Psychological Bulletin 70 (1968), 213–220; standard errors by
//! J. L. Fleiss, J. Cohen and B. S. Everitt, Psychological Bulletin 72 (1969),
//! 323–327. They take cases for independent of each other; shots of one rally are
//! not quite, so the true range is somewhat wider.

use serde::Serialize;

/// Two-sided 95 % of the normal distribution.
const Z: f64 = 1.959_963_985;

/// How often one said this and the other that: `counts[a][b]`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CrossTable {
    counts: Vec<Vec<u32>>,
}

/// Kappa with its range.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Kappa {
    /// 1: they agree fully; 0: no more than chance would give; below: less.
    pub value: f64,
    /// Standard error.
    pub error: f64,
    /// Lower end of the 95 % range.
    pub low: f64,
    /// Upper end of the 95 % range.
    pub high: f64,
}

/// How much a difference counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weights {
    /// Every difference counts as a whole one.
    Alike,
    /// Categories stand in order; a difference counts by how far apart they are.
    Linear,
}

impl CrossTable {
    /// An empty table for this number of categories.
    #[must_use]
    pub fn new(categories: usize) -> Self {
        Self {
            counts: vec![vec![0; categories]; categories],
        }
    }

    /// Counts one case.
    pub fn count(&mut self, a: usize, b: usize) {
        self.counts[a][b] += 1;
    }

    /// The counts, a's categories down, b's across.
    #[must_use]
    pub fn counts(&self) -> &[Vec<u32>] {
        &self.counts
    }

    /// All cases.
    #[must_use]
    pub fn cases(&self) -> u32 {
        self.counts.iter().flatten().sum()
    }

    /// The cases on which they agree.
    #[must_use]
    pub fn agreed(&self) -> u32 {
        (0..self.counts.len()).map(|at| self.counts[at][at]).sum()
    }

    /// How often a said this.
    #[must_use]
    pub fn said_by_a(&self, category: usize) -> u32 {
        self.counts[category].iter().sum()
    }

    /// How often b said this.
    #[must_use]
    pub fn said_by_b(&self, category: usize) -> u32 {
        self.counts.iter().map(|row| row[category]).sum()
    }

    /// The categories that either of them used.
    #[must_use]
    pub fn used(&self) -> Vec<usize> {
        (0..self.counts.len())
            .filter(|at| self.said_by_a(*at) + self.said_by_b(*at) > 0)
            .collect()
    }

    /// Of the cases in which either said it, how much of their saying was
    /// together: twice the common cases over the sum of both (specific agreement;
    /// D. V. Cicchetti and A. R. Feinstein, J. Clin. Epidemiol. 43 (1990),
    /// 551–558). `None` if neither ever said it.
    #[must_use]
    pub fn specific(&self, category: usize) -> Option<f64> {
        let said = self.said_by_a(category) + self.said_by_b(category);
        (said > 0).then(|| 2.0 * f64::from(self.counts[category][category]) / f64::from(said))
    }

    /// Kappa; `None` where it is not defined: without cases, and where both used
    /// one and the same category alone, so that chance alone explains everything.
    #[must_use]
    pub fn kappa(&self, weights: Weights) -> Option<Kappa> {
        let cases = self.cases();
        if cases == 0 || self.used().len() < 2 {
            return None;
        }
        let size = self.counts.len();
        let all = f64::from(cases);
        let of_a: Vec<f64> = (0..size)
            .map(|at| f64::from(self.said_by_a(at)) / all)
            .collect();
        let of_b: Vec<f64> = (0..size)
            .map(|at| f64::from(self.said_by_b(at)) / all)
            .collect();
        let share = |a: usize, b: usize| f64::from(self.counts[a][b]) / all;
        let weight = |a: usize, b: usize| weights.weight(a, b, size);
        let sum = |term: &dyn Fn(usize, usize) -> f64| -> f64 {
            let pairs = (0..size).flat_map(|a| (0..size).map(move |b| (a, b)));
            pairs.map(|(a, b)| term(a, b)).sum()
        };
        let observed = sum(&|a, b| weight(a, b) * share(a, b));
        let expected = sum(&|a, b| weight(a, b) * of_a[a] * of_b[b]);
        let beyond = 1.0 - expected;
        let value = (observed - expected) / beyond;
        let mean_of_row = |a: usize| -> f64 { (0..size).map(|b| weight(a, b) * of_b[b]).sum() };
        let mean_of_column = |b: usize| -> f64 { (0..size).map(|a| weight(a, b) * of_a[a]).sum() };
        let rows: Vec<f64> = (0..size).map(mean_of_row).collect();
        let columns: Vec<f64> = (0..size).map(mean_of_column).collect();
        let spread = sum(&|a, b| {
            let off = weight(a, b) - (rows[a] + columns[b]) * (1.0 - value);
            share(a, b) * off * off
        });
        let centre = value - expected * (1.0 - value);
        let variance = (spread - centre * centre) / (all * beyond * beyond);
        let error = variance.max(0.0).sqrt();
        Some(Kappa {
            value,
            error,
            low: (value - Z * error).max(-1.0),
            high: (value + Z * error).min(1.0),
        })
    }
}

impl Weights {
    /// 1 for agreement, less the further apart.
    fn weight(self, a: usize, b: usize, size: usize) -> f64 {
        match self {
            Self::Alike => f64::from(u8::from(a == b)),
            Self::Linear => 1.0 - a.abs_diff(b) as f64 / (size - 1) as f64,
        }
    }
}

/// The difference of two counts of the same thing in percent of their mean, as
/// notational analysis gives it (100 · |a − b| / ((a + b) / 2)); `None` if
/// neither counted any.
#[must_use]
pub fn percent_error(a: u32, b: u32) -> Option<f64> {
    let sum = f64::from(a) + f64::from(b);
    (sum > 0.0).then(|| 200.0 * f64::from(a.abs_diff(b)) / sum)
}
