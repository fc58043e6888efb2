//! Made-up matches, charted as a volunteer would chart them: for demos, tests,
//! benchmarks and practice.
//!
//! [`simulate`] plays a whole match under any format that a header can say and
//! gives the lines of its chart, the header first. Rallies follow a model of the game
//! (serve, return, third shot, the way to the kitchen, dinks, speedups, hands
//! battles, resets, lobs, errors under pressure); their lengths and tempo are
//! near published figures, named in `rally/timing.rs` and checked in
//! `tests/statistics.rs`.
//!
//! Invariants: the same [`Plan`] and version of this crate give the same bytes
//! on every machine (no clock, no randomness of the system, no arithmetic that
//! differs between processors); the match itself depends on seed and format
//! alone, so that one match can be had at every depth of charting; every line
//! is one a host takes in; the match ends when the scoring says so.
//!
//! What it does not do: predict or describe real players, read or write files,
//! compute readings. Names are invented.

mod charter;
mod dice;
mod interlude;
mod names;
mod plan;
mod rally;
mod sides;
mod simulation;

pub use plan::{Billing, Detail, Incidents, Mistakes, NamedPlayers, Plan, PlanError, Tempo};
pub use simulation::{Simulation, simulate};
