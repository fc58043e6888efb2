//! Alignment of two sequences with gaps: the best sum of scores for what stands
//! opposite each other, less a price for what stands opposite nothing
//! (S. B. Needleman and C. D. Wunsch, J. Mol. Biol. 48 (1970), 443–453).

/// What stands opposite what.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pair {
    /// A place of the first and a place of the second.
    Both(usize, usize),
    /// A place of the first alone.
    First(usize),
    /// A place of the second alone.
    Second(usize),
}

/// How two elements fit, and what a gap costs.
pub trait Fit<T> {
    /// Higher for what belongs together; may be below zero.
    fn fit(&self, first: &T, second: &T) -> i64;
    /// What an element costs that stands opposite nothing; above zero.
    fn gap(&self) -> i64;
}

/// The best alignment, in order, and its score.
///
/// Swapped, the sequences align the same way: where several alignments are best,
/// the lesser of the two sequences (by the order of its elements) decides.
pub fn align<T: Ord>(first: &[T], second: &[T], fit: &impl Fit<T>) -> (Vec<Pair>, i64) {
    if first <= second {
        return in_order(first, second, fit.gap(), |one, other| fit.fit(one, other));
    }
    let (mut pairs, score) = in_order(second, first, fit.gap(), |one, other| fit.fit(other, one));
    for pair in &mut pairs {
        *pair = match *pair {
            Pair::Both(one, other) => Pair::Both(other, one),
            Pair::First(place) => Pair::Second(place),
            Pair::Second(place) => Pair::First(place),
        };
    }
    (pairs, score)
}

fn in_order<T>(
    first: &[T],
    second: &[T],
    gap: i64,
    fit: impl Fn(&T, &T) -> i64,
) -> (Vec<Pair>, i64) {
    let width = second.len() + 1;
    let mut best = vec![0_i64; (first.len() + 1) * width];
    for place in 1..=first.len() {
        best[place * width] = best[(place - 1) * width] - gap;
    }
    for place in 1..=second.len() {
        best[place] = best[place - 1] - gap;
    }
    let mut fits = vec![0_i64; first.len() * second.len()];
    for (row, one) in first.iter().enumerate() {
        for (column, other) in second.iter().enumerate() {
            let fit = fit(one, other);
            fits[row * second.len() + column] = fit;
            let at = (row + 1) * width + column + 1;
            best[at] = (best[at - width - 1] + fit)
                .max(best[at - width] - gap)
                .max(best[at - 1] - gap);
        }
    }
    let score = best.last().copied().unwrap_or_default();
    let (mut row, mut column) = (first.len(), second.len());
    let mut pairs = Vec::with_capacity(row.max(column));
    while row > 0 || column > 0 {
        let here = best[row * width + column];
        let is_both = row > 0 && column > 0 && {
            let fit = fits[(row - 1) * second.len() + column - 1];
            here == best[(row - 1) * width + column - 1] + fit
        };
        if is_both {
            row -= 1;
            column -= 1;
            pairs.push(Pair::Both(row, column));
        } else if row > 0 && here == best[(row - 1) * width + column] - gap {
            row -= 1;
            pairs.push(Pair::First(row));
        } else {
            column -= 1;
            pairs.push(Pair::Second(column));
        }
    }
    pairs.reverse();
    (pairs, score)
}
