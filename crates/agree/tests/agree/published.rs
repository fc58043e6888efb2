//! Kappa against published worked examples and values of other programs.

use rallytide_agree::kappa::{CrossTable, Kappa, Weights, percent_error};

fn table(counts: &[&[u32]]) -> CrossTable {
    let mut table = CrossTable::new(counts.len());
    for (a, row) in counts.iter().enumerate() {
        for (b, cases) in row.iter().enumerate() {
            (0..*cases).for_each(|_| table.count(a, b));
        }
    }
    table
}

#[track_caller]
fn kappa(counts: &[&[u32]], weights: Weights) -> Kappa {
    table(counts).kappa(weights).expect("kappa is defined")
}

#[track_caller]
fn near(found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found - expected).abs() < tolerance,
        "{found} is not {expected}"
    );
}

/// R. Artstein and M. Poesio, Computational Linguistics 34 (2008), table 1, as
/// scikit-learn's tests quote it: 0.348.
#[test]
fn the_example_of_artstein_and_poesio_comes_out() {
    near(
        kappa(&[&[20, 20], &[10, 50]], Weights::Alike).value,
        0.348,
        5e-4,
    );
}

/// A SAS printout, as the tests of statsmodels quote it: simple kappa .4842, ASE
/// .1380, 95 % limits .2137 and .7547; weighted .4701, ASE .1457, .1845 and .7558.
#[test]
fn kappa_errors_and_limits_of_a_sas_printout_come_out() {
    let counts: &[&[u32]] = &[&[0, 4, 1], &[0, 8, 0], &[0, 1, 5]];
    let simple = kappa(counts, Weights::Alike);
    near(simple.value, 0.4842, 1e-4);
    near(simple.error, 0.1380, 1e-4);
    near(simple.low, 0.2137, 1e-4);
    near(simple.high, 0.7547, 1e-4);
    let weighted = kappa(counts, Weights::Linear);
    near(weighted.value, 0.4701, 1e-4);
    near(weighted.error, 0.1457, 1e-4);
    near(weighted.low, 0.1845, 1e-4);
    near(weighted.high, 0.7558, 1e-4);
}

/// The table is in the style of J. Cohen's paper of 1960, from memory; its kappa
/// was computed with statsmodels 0.15 and scikit-learn 1.9, not read.
#[test]
fn a_table_of_three_by_three_gives_what_other_libraries_compute() {
    let found = kappa(&[&[88, 14, 18], &[10, 40, 10], &[2, 6, 12]], Weights::Alike);
    near(found.value, 0.491_525_423_729, 1e-9);
}

/// N. Brown and P. O'Donoghue (2008), quoted in O'Donoghue's textbook: point types
/// of tennis by two operators, 1,356 points. Published are the diagonal, the
/// margins and the agreement, .926; which cells the other 100 cases stood in was
/// lost, so they are put anywhere that keeps the margins: kappa does not depend
/// on it. Kappa itself was computed with statsmodels 0.15, not read.
#[test]
fn the_point_types_of_two_tennis_operators_agree_as_published() {
    let diagonal = [78, 38, 232, 17, 131, 70, 690];
    let by_a = [79, 42, 237, 19, 169, 92, 718];
    let by_b = [80, 41, 243, 19, 151, 78, 744];
    let mut counts = vec![vec![0_u32; 7]; 7];
    let mut left_a: Vec<u32> = (0..7).map(|at| by_a[at] - diagonal[at]).collect();
    let mut left_b: Vec<u32> = (0..7).map(|at| by_b[at] - diagonal[at]).collect();
    for at in 0..7 {
        counts[at][at] = diagonal[at];
    }
    // Off the diagonal: the largest rest of a to the largest rests of the others.
    while left_a.iter().sum::<u32>() > 0 {
        let mut best = None;
        for a in 0..7 {
            for b in 0..7 {
                if a != b && left_a[a] > 0 && left_b[b] > 0 {
                    best = best.max(Some((left_a[a] + left_b[a] + left_a[b] + left_b[b], a, b)));
                }
            }
        }
        let (_, a, b) = best.expect("the rests can be paired off the diagonal");
        counts[a][b] += 1;
        left_a[a] -= 1;
        left_b[b] -= 1;
    }
    let rows: Vec<&[u32]> = counts.iter().map(Vec::as_slice).collect();
    let table = table(&rows);
    assert_eq!((table.agreed(), table.cases()), (1256, 1356));
    near(
        f64::from(table.agreed()) / f64::from(table.cases()),
        0.926,
        5e-4,
    );
    near(
        table.kappa(Weights::Alike).unwrap().value,
        0.887_548_668_787,
        1e-9,
    );
    // Published beside it: the difference of the counts in percent of their mean.
    for (at, expected) in [1.3, 2.4, 2.5, 0.0, 11.3, 16.5, 3.6]
        .into_iter()
        .enumerate()
    {
        near(percent_error(by_a[at], by_b[at]).unwrap(), expected, 0.06);
    }
}

#[test]
fn kappa_is_not_defined_where_chance_explains_everything() {
    assert_eq!(table(&[&[0, 0], &[0, 0]]).kappa(Weights::Alike), None);
    assert_eq!(table(&[&[9, 0], &[0, 0]]).kappa(Weights::Alike), None);
    assert_eq!(
        table(&[&[9, 0, 0], &[0, 0, 0], &[0, 0, 0]]).kappa(Weights::Linear),
        None
    );
    assert_eq!(percent_error(0, 0), None);
}

#[test]
fn full_agreement_is_1_and_a_chart_with_one_word_alone_0() {
    let full = kappa(&[&[5, 0], &[0, 3]], Weights::Alike);
    near(full.value, 1.0, 1e-12);
    near(full.error, 0.0, 1e-6);
    near(kappa(&[&[5, 3], &[0, 0]], Weights::Alike).value, 0.0, 1e-12);
    near(
        kappa(&[&[0, 5], &[5, 0]], Weights::Alike).value,
        -1.0,
        1e-12,
    );
}

/// Specific agreement by its definition: twice the common over both sums.
#[test]
fn the_agreement_on_a_rare_word_is_seen_beside_a_low_kappa() {
    let table = table(&[&[1, 1], &[1, 97]]);
    near(table.specific(0).unwrap(), 0.5, 1e-12);
    near(table.specific(1).unwrap(), 194.0 / 196.0, 1e-12);
}
