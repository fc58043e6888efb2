//! The sport's scoring: from effective entries to the score, entry by entry.
//!
//! [`Scoring`] is a state machine: it starts from a match header and takes the
//! entries of the effective chart in order; after each of them [`Score`] says
//! everything a scoreboard needs. The score is a function of header and
//! entries alone: no I/O, no clock, no randomness, and no way to fail.
//!
//! Invariants: a finished game or match is never continued; whatever stands in
//! a score follows from the entries before it; the receiver always stands
//! diagonal to the server.
//!
//! What it does not do: judge who really served, stood or called what (the
//! referee's word comes in as `score_fix`), correct entries (the effective
//! chart is corrected already), or read and write files. The rules, their
//! editions and our choices are explained in the README of this crate.

mod machine;
mod play_by_play;
mod record;
mod row;
mod rules;
mod score;

pub use machine::{Scoring, Step};
pub use play_by_play::{Place, PlayByPlay, Turn};
pub use record::recorded_score;
pub use row::{Row, what_happened};
pub use score::{Call, Court, Score};
