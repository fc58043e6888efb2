//! A told match in the forms other programs and people take: tables for
//! spreadsheets ([`tables`]), subtitles and chapters for video players
//! ([`webvtt`]), a page for people ([`html`]).
//!
//! Everything here is a pure function of a [`MatchRecord`](rallytide_match_record::MatchRecord):
//! the same chart and plugins give the same bytes. Text out of a chart (names,
//! titles, notes) goes in as text, under the rules of each form. Nothing here
//! reads files, clocks or plugins, or judges the play.

mod charting;
mod form;
pub mod html;
mod indicators;
mod interval;
pub mod tables;
pub mod webvtt;
mod words;

pub use form::{Cues, Form};
pub use indicators::label;
