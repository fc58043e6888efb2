//! How well two charts of one match agree: for charters in training, and for
//! whoever wants to know how far a chart can be trusted.
//!
//! Rallies of both charts are aligned, then the shots within them ([`align`]), so
//! that one missed shot does not make all that follow look wrong. What stands
//! opposite each other is compared kind by kind, with Cohen's kappa beside the
//! bare agreement ([`kappa`]). Neither chart is taken for the right one: swapped,
//! the result is the same from the other side.
//!
//! A pure function of two chronicles; it reads no files and judges no play.

pub mod align;
pub mod kappa;

mod cases;
mod clocks;
mod compare;
mod pairing;
mod report;
mod same_match;
mod words;

pub use compare::compare;
pub use report::{
    Agreement, CategoryReport, ChartSize, ClockReport, Confusion, CountReport, Counted, Difference,
    KindReport,
};
pub use same_match::objections;
pub use words::{Names, in_words};
