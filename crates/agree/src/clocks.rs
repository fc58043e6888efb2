//! How far the clocks of two charters are apart.

/// Clocks that differ more than this around their middle, in milliseconds, are
/// no common clock: one of the charts was made at another time, from a video.
const MOST_SPREAD: i64 = 3_000;

/// How two clocks go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Clocks {
    /// How far b's is ahead of a's, in milliseconds: the median.
    pub(crate) offset: i64,
    /// Half of the differences are no further from that: the median of the
    /// distances, in milliseconds.
    pub(crate) spread: i64,
}

impl Clocks {
    /// From the differences b − a of what happened at one moment; `None` without
    /// any, and where the clocks do not go together.
    pub(crate) fn from_differences(differences: &[i64]) -> Option<Self> {
        let offset = median(differences.to_vec())?;
        let distances = differences.iter().map(|one| (one - offset).abs()).collect();
        let spread = median(distances)?;
        (spread <= MOST_SPREAD).then_some(Self { offset, spread })
    }

    /// How far apart a moment of a and one of b are, in milliseconds.
    pub(crate) fn apart(self, a: i64, b: i64) -> i64 {
        (b - a - self.offset).abs()
    }
}

/// The middle; of two middle ones their mean, rounded towards zero, so that the
/// differences seen from the other side have the opposite median.
fn median(mut numbers: Vec<i64>) -> Option<i64> {
    numbers.sort_unstable();
    let middle = numbers.len() / 2;
    let upper = *numbers.get(middle)?;
    if numbers.len() % 2 == 1 {
        return Some(upper);
    }
    Some(i64::midpoint(numbers[middle - 1], upper))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_offset_is_the_median_and_seen_from_the_other_side_the_opposite() {
        for differences in [vec![3, 1, 2], vec![1, 2], vec![-5, 0, 1, 700], vec![7]] {
            let there = Clocks::from_differences(&differences).unwrap();
            let back: Vec<i64> = differences.iter().map(|one| -one).collect();
            let back = Clocks::from_differences(&back).unwrap();
            assert_eq!((there.offset, there.spread), (-back.offset, back.spread));
        }
        let clocks = Clocks::from_differences(&[3_200, 3_000, 3_400, 90_000]).unwrap();
        assert_eq!(
            clocks,
            Clocks {
                offset: 3_300,
                spread: 200
            }
        );
    }

    #[test]
    fn clocks_that_do_not_go_together_give_no_offset() {
        assert_eq!(
            Clocks::from_differences(&[0, 60_000, 130_000, 170_000]),
            None
        );
        assert_eq!(Clocks::from_differences(&[]), None);
    }
}
