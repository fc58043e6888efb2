//! How likely a run of successes is to come by chance.
//!
//! Trials are taken to be independent, each a success with the same probability.
//! Plain arithmetic only (`+ − ×`), so the number is the same on every machine.

/// The longest sequence that is looked at: longer ones are judged by this many
/// trials.
///
/// Bounds the cost of one answer. A match has some dozen pressed spells a team.
pub const LONGEST_SEQUENCE: u32 = 10_000;

/// The probability that at least `run` successes in a row, 1 or more, come
/// somewhere in `trials` independent ones, each a success with probability
/// `rate`.
///
/// With `r(m)` for the first `m` trials: `r(m) = 0` below `run` trials, `r(run) =
/// rateʳᵘⁿ`, and then `r(m) = r(m−1) + (1 − rate) · rateʳᵘⁿ · (1 − r(m − run −
/// 1))`: trial m completes the first such run if the last `run` trials were
/// successes, the one before was not, and none had come before that. (The
/// standard recursion for runs, here for the complement of "no run", which keeps
/// the digits of what is rare.)
#[must_use]
pub fn at_least_once(run: u32, trials: u32, rate: f64) -> f64 {
    let trials = trials.min(LONGEST_SEQUENCE) as usize;
    let run = run as usize;
    if run > trials {
        return 0.0;
    }
    let all_of_a_run = (0..run).fold(1.0, |product, _| product * rate);
    let completes = (1.0 - rate) * all_of_a_run;
    let mut come = vec![0.0; trials + 1];
    come[run] = all_of_a_run;
    for trial in run + 1..=trials {
        let none_before = 1.0 - come[trial - run - 1];
        come[trial] = come[trial - 1] + completes * none_before;
    }
    come[trials].clamp(0.0, 1.0)
}
