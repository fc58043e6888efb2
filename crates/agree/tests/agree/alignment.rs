//! Alignment against known examples and properties that any best one has.

use proptest::prelude::*;
use rallytide_agree::align::{Fit, Pair, align};

/// One for equal letters, minus one for others and for gaps.
struct Letters;

impl Fit<u8> for Letters {
    fn fit(&self, first: &u8, second: &u8) -> i64 {
        if first == second { 1 } else { -1 }
    }

    fn gap(&self) -> i64 {
        1
    }
}

fn score(first: &str, second: &str) -> i64 {
    align(first.as_bytes(), second.as_bytes(), &Letters).1
}

/// The first is the example of encyclopaedias for this method (from memory); its
/// score and that of the second were computed with Biopython 1.88, the others
/// follow by counting (14 equal and one gap; three gaps).
#[test]
fn scores_of_known_examples_come_out() {
    for (first, second, expected) in [
        ("GCATGCG", "GATTACA", 0),
        ("SRTDDVW", "SRTDVW", 5),
        ("SRTDDLVVWSRTDVE", "SRTDLVVWSRTDVE", 13),
        ("", "ABC", -3),
        ("", "", 0),
    ] {
        assert_eq!(score(first, second), expected, "{first} / {second}");
    }
}

#[test]
fn one_missed_element_is_one_gap_and_all_that_follows_stays_in_step() {
    let (pairs, _) = align(b"SRTDDLVVWSRTDVE", b"SRTDLVVWSRTDVE", &Letters);
    let both = pairs
        .iter()
        .filter(|pair| matches!(pair, Pair::Both(..)))
        .count();
    assert_eq!((pairs.len(), both), (15, 14));
}

/// The score of an alignment by the definition.
fn worth(pairs: &[Pair], first: &[u8], second: &[u8]) -> i64 {
    let one = |pair: &Pair| match *pair {
        Pair::Both(a, b) => Letters.fit(&first[a], &second[b]),
        _ => -Letters.gap(),
    };
    pairs.iter().map(one).sum()
}

fn swapped(pairs: &[Pair]) -> Vec<Pair> {
    let swap = |pair: &Pair| match *pair {
        Pair::Both(a, b) => Pair::Both(b, a),
        Pair::First(a) => Pair::Second(a),
        Pair::Second(b) => Pair::First(b),
    };
    pairs.iter().map(swap).collect()
}

proptest! {
    #[test]
    fn every_element_stands_once_in_order_and_the_score_is_that_of_the_pairs(
        first in "[abc]{0,12}", second in "[abc]{0,12}",
    ) {
        let (first, second) = (first.as_bytes(), second.as_bytes());
        let (pairs, score) = align(first, second, &Letters);
        let of_first: Vec<usize> = pairs.iter().filter_map(|pair| match pair {
            Pair::Both(a, _) | Pair::First(a) => Some(*a),
            Pair::Second(_) => None,
        }).collect();
        let of_second: Vec<usize> = pairs.iter().filter_map(|pair| match pair {
            Pair::Both(_, b) | Pair::Second(b) => Some(*b),
            Pair::First(_) => None,
        }).collect();
        prop_assert_eq!(of_first, (0..first.len()).collect::<Vec<_>>());
        prop_assert_eq!(of_second, (0..second.len()).collect::<Vec<_>>());
        prop_assert_eq!(worth(&pairs, first, second), score);
    }

    #[test]
    fn no_other_alignment_is_worth_more(first in "[abc]{0,5}", second in "[abc]{0,5}") {
        fn gaps(left: &[u8]) -> i64 {
            left.iter().map(|_| 1).sum()
        }
        fn best(first: &[u8], second: &[u8]) -> i64 {
            match (first.split_first(), second.split_first()) {
                (None, _) => -gaps(second),
                (_, None) => -gaps(first),
                (Some((a, first_rest)), Some((b, second_rest))) => {
                    (Letters.fit(a, b) + best(first_rest, second_rest))
                        .max(best(first_rest, second) - 1)
                        .max(best(first, second_rest) - 1)
                }
            }
        }
        let expected = best(first.as_bytes(), second.as_bytes());
        prop_assert_eq!(score(&first, &second), expected);
    }

    #[test]
    fn swapped_sequences_align_the_same_way(first in "[ab]{0,10}", second in "[ab]{0,10}") {
        let (there, _) = align(first.as_bytes(), second.as_bytes(), &Letters);
        let (back, _) = align(second.as_bytes(), first.as_bytes(), &Letters);
        let both = |pairs: &[Pair]| pairs.iter().filter(|one| matches!(one, Pair::Both(..))).copied().collect::<Vec<_>>();
        prop_assert_eq!(both(&there), both(&swapped(&back)));
    }
}
