//! The plugin host against real guests: two that behave and many that do not.
//!
//! The guests are small Rust programs in `tests/guests`, built here for
//! `wasm32-unknown-unknown` when the first test needs one.

#![allow(clippy::unwrap_used, reason = "a test stops at what it did not expect")]

mod backstop;
mod benign;
mod cache;
mod determinism;
mod files;
mod hostile;
mod mutants;
mod order;
mod support;
