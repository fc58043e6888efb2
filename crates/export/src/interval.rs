//! How far a share can be trusted: the Wilson score interval, without correction
//! for continuity (E. B. Wilson, J. Am. Stat. Assoc. 22 (1927), 209–212). It
//! speaks of chance alone, not of how well the cases stand for anything else.

/// Two-sided 95 % of the normal distribution.
const Z: f64 = 1.959_963_985;

/// The range that holds the true share in 95 of 100 samples like this one;
/// `whole` is 1 or more.
pub(crate) fn wilson(part: u32, whole: u32) -> (f64, f64) {
    let (part_f, whole_f) = (f64::from(part), f64::from(whole));
    let square = Z * Z;
    let middle = 2.0 * part_f + square;
    let spread = Z * (square + 4.0 * part_f * (1.0 - part_f / whole_f)).sqrt();
    let under = 2.0 * (whole_f + square);
    // Rounding must not lead off the ends of what a share can be.
    let low = if part == 0 {
        0.0
    } else {
        (middle - spread) / under
    };
    let high = if part == whole {
        1.0
    } else {
        (middle + spread) / under
    };
    (low.max(0.0), high.min(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// R. G. Newcombe, Statistics in Medicine 17 (1998), 857–872, Table I,
    /// method 3, as public test suites quote it.
    #[test]
    fn the_published_intervals_come_out() {
        for (part, whole, low, high) in [
            (81, 263, 0.2553, 0.3662),
            (15, 148, 0.0624, 0.1605),
            (0, 20, 0.0, 0.1611),
            (1, 29, 0.0061, 0.1718),
            (29, 29, 0.8830, 1.0),
        ] {
            let (found_low, found_high) = wilson(part, whole);
            assert!(
                (found_low - low).abs() < 5e-5,
                "{part} of {whole}: {found_low}"
            );
            assert!(
                (found_high - high).abs() < 5e-5,
                "{part} of {whole}: {found_high}"
            );
        }
    }
}
