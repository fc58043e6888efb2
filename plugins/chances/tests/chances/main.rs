//! The chances against published values, against tables made elsewhere, and
//! against the sport's own scoring.
//!
//! Beside a check stands where its expected value comes from: `published` (in
//! the named source), `memory` (recalled, not read), `computed` (by us with
//! numpy or scipy, general-purpose libraries; never published), `derived`
//! (worked out by us). The probabilities in them are illustrations, not
//! measurements.

mod estimates;
mod made_up;
mod matches;
mod plugin;
mod properties;
mod published;
mod real;
mod tables;
mod transitions;
