//! The chart as the other crates see it: every rule of `crates/chart/README.md`,
//! allowed and refused, and properties over random charts and hostile bytes.
//!
//! One topic a file. Where no source stands beside a check, the rule is the
//! README's own; messages are checked for what helps a person, not word by word.

#![allow(
    clippy::unwrap_used,
    clippy::needless_pass_by_value,
    clippy::from_iter_instead_of_collect,
    reason = "a test stops at the first surprise, and hands JSON over as it is made"
)]

mod corrections;
mod corrections_refused;
mod damaged_file;
mod entry;
mod file;
mod header;
mod hostile;
mod notation;
mod plays;
mod plays_of_the_referee;
mod properties;
mod rally;
mod rally_end;
mod readme;
mod repeats;
