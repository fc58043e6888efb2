//! The plugin on readings that are put before it: what it says, when, in which
//! words, and that it never says what is not so.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod booth;
mod compare;
mod kinds;
mod names;
mod pace;
mod phrases;
mod random_matches;
mod recap;
mod truth;
