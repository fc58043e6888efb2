//! Points in a row: by hand, and on random matches under the sport's own scoring.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod by_hand;
mod scored_matches;
